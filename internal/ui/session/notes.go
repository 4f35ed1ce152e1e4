package session

import (
	"errors"
	"fmt"
	"slices"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// firstLead is the pitch the first note typed lies nearest to: the middle of
// the octave in which a lead sheet's melody usually lies.
const firstLead = 71

// Entry returns what the next note will be.
func (s *Session) Entry() Entry { return s.entry }

// SetValue sets the length of the next note and retypes the selected ones.
func (s *Session) SetValue(v int) error {
	return s.setEntry(Entry{Value: v, Tuplet: s.entry.Tuplet})
}

// ToggleDot adds or takes away the dot, for the selected notes as well.
func (s *Session) ToggleDot() error {
	e := s.entry
	e.Dotted = !e.Dotted
	return s.setEntry(e)
}

func (s *Session) setEntry(e Entry) error {
	s.entry = e
	s.notify(EntryChanged)
	if len(s.sel.Notes) == 0 {
		return nil
	}
	return s.Do(project.ResizeNotes{Starts: s.sel.Notes, To: e.Length()})
}

// HasNotes reports whether melody notes are selected.
func (s *Session) HasNotes() bool { return len(s.sel.Notes) > 0 }

// HasSeveral reports whether more than one note is selected.
func (s *Session) HasSeveral() bool { return len(s.sel.Notes) > 1 }

// targets returns the starts of the notes a command changes: the selected
// ones, or else the last note that begins before the caret, which is the one
// just typed.
func (s *Session) targets() []project.Ticks {
	if len(s.sel.Notes) > 0 {
		return s.sel.Notes
	}
	if i, ok := s.noteBefore(s.sel.Caret); ok {
		return []project.Ticks{s.Chart().Melody[i].Start}
	}
	return nil
}

// HasTarget reports whether there is a note to change.
func (s *Session) HasTarget() bool { return len(s.targets()) > 0 }

// noteBefore returns the last note that starts before t.
func (s *Session) noteBefore(t project.Ticks) (int, bool) {
	i, _ := s.Chart().NoteStarting(t)
	return i - 1, i > 0
}

// PlaceLetter writes the letter at the caret, altered as the key says, in the
// octave nearest to the note before, with the length of the entry, and moves
// the caret on. At the end of the chart bars are added.
func (s *Session) PlaceLetter(l theory.Letter) error {
	s.fitTuplet()
	t := s.sel.Caret
	near := firstLead
	if i, ok := s.noteBefore(t); ok {
		near = s.Chart().Melody[i].Pitch.Key()
	}
	p := nearest(inKey(l, s.Chart().KeyAt(t)), near)
	return s.place(project.Note{Start: t, Duration: s.entry.Length(), Pitch: p})
}

// PlaceAt writes a note where the mouse points: a key number, spelled in the
// key, at a position snapped to the entry's grid. It selects the note.
func (s *Session) PlaceAt(t project.Ticks, key int) error {
	c := s.Chart()
	s.fitTuplet()
	t = s.SnapTime(t)
	if t >= c.Length() {
		return nil
	}
	n := project.Note{Start: t, Duration: s.entry.Length(), Pitch: s.SpellAt(t, key)}
	n.Duration = min(n.Duration, c.Length()-t)
	if !n.Pitch.IsValid() {
		return fmt.Errorf("key %d is outside the range of the console", key)
	}
	// A click in the gap before a note must not swallow that note.
	if i, ok := c.NoteStarting(t); !ok && i < len(c.Melody) && c.Melody[i].Start < n.End() {
		n.Duration = c.Melody[i].Start - t
	}
	err := s.doThen(project.AddNote{Note: n}, func() {
		s.sel = Selection{Caret: t, Anchor: t, Notes: []project.Ticks{t}}
	})
	if err == nil {
		s.HearCurrent()
	}
	return err
}

// SnapTime returns the entry's grid position at or before t, counted from the
// bar line.
func (s *Session) SnapTime(t project.Ticks) project.Ticks {
	c := s.Chart()
	if t >= c.Length() {
		return c.Length()
	}
	start := c.BarStart(c.BarAt(max(t, 0)))
	snap := s.entry.Snap()
	return start + (max(t, 0)-start)/snap*snap
}

// SpellAt names a key for the place it is written at: as the chord in force
// spells it, else as the key does.
func (s *Session) SpellAt(t project.Ticks, key int) theory.Pitch { return s.Chart().Spell(t, key) }

// place writes a note at the caret, adding bars at the end when it would not
// fit, and moves the caret behind it.
func (s *Session) place(n project.Note) error {
	edits := append(s.roomFor(n.End()), project.AddNote{Note: n})
	err := s.doThen(named(edits, "add note"), func() {
		s.sel = Selection{Caret: n.End(), Anchor: n.End()}
	})
	if err == nil {
		s.hearStep(n.Start)
	}
	return err
}

// named returns one edit for several.
func named(edits []project.Edit, name string) project.Edit {
	if len(edits) == 1 {
		return edits[0]
	}
	return sequence{name, edits}
}

// roomFor returns the edits that lengthen the chart to hold t.
func (s *Session) roomFor(t project.Ticks) []project.Edit {
	c := s.Chart()
	short := t - c.Length()
	if short <= 0 {
		return nil
	}
	last := c.Bars[len(c.Bars)-1].Meter.Length()
	return []project.Edit{project.InsertBars{At: len(c.Bars), Count: int((short + last - 1) / last)}}
}

// Rest leaves a rest of the entry's length at the caret: it takes away what
// starts there, cuts what sounds into it, and moves the caret on. At the end of
// the chart bars are added.
func (s *Session) Rest() error {
	s.fitTuplet()
	from := s.sel.Caret
	to := from + s.entry.Length()
	edits := s.roomFor(to)
	if s.sounds(from, to) {
		edits = append(edits, project.Record{From: from, To: to})
	}
	if len(edits) == 0 {
		s.SetCaret(to)
		return nil
	}
	return s.doThen(sequence{"leave a rest", edits}, func() { s.sel = Selection{Caret: to, Anchor: to} })
}

// sounds reports whether the melody has something between two positions.
func (s *Session) sounds(from, to project.Ticks) bool {
	i, ok := s.Chart().NoteStarting(from)
	m := s.Chart().Melody
	return ok || i < len(m) && m[i].Start < to || i > 0 && m[i-1].End() > from
}

// inKey returns the letter as the key signature alters it.
func inKey(l theory.Letter, k theory.Key) theory.Name {
	// The seven notes of a signature lie side by side on the line of fifths,
	// from one below its major tonic to five above.
	for f := k.Fifths() - 1; f <= k.Fifths()+5; f++ {
		if n := theory.NameFromFifths(f); n.Letter() == l {
			return n
		}
	}
	return theory.NewName(l, 0)
}

// nearest returns the pitch of that name closest to a key; the lower one of
// two equally close.
func nearest(n theory.Name, key int) theory.Pitch {
	best := theory.Pitch{}
	for octave := 0; octave <= 9; octave++ {
		p := theory.NewPitch(n, octave)
		if p.IsValid() && (!best.IsValid() || abs(p.Key()-key) < abs(best.Key()-key)) {
			best = p
		}
	}
	return best
}

func abs(n int) int { return max(n, -n) }

// Alter raises or lowers the target notes by a semitone and keeps the letter.
func (s *Session) Alter(by int) error {
	var edits []project.Edit
	for _, t := range s.targets() {
		i, ok := s.Chart().NoteStarting(t)
		if !ok {
			continue
		}
		p := s.Chart().Melody[i].Pitch
		n := theory.NewName(p.Name().Letter(), p.Name().Alter()+by)
		q := theory.NewPitch(n, p.Octave())
		if !q.IsValid() {
			return s.fail(fmt.Errorf("%s cannot take another accidental", p.Pretty()))
		}
		edits = append(edits, project.SetPitch{Start: t, Pitch: q})
	}
	return s.changeTargets(named(edits, "alter notes"))
}

// StepPitch moves the target notes by steps of the key's scale.
func (s *Session) StepPitch(by int) error { return s.movePitch(project.ScaleStep, by) }

// Semitone moves the target notes by semitones, spelled in the key.
func (s *Session) Semitone(by int) error { return s.movePitch(project.Semitone, by) }

// Octave moves the target notes by octaves.
func (s *Session) Octave(by int) error { return s.movePitch(project.OctaveStep, by) }

func (s *Session) movePitch(kind project.PitchStep, n int) error {
	return s.changeTargets(project.MoveNotes{Starts: s.targets(), Pitch: project.PitchMove{Kind: kind, N: n}})
}

// changeTargets applies an edit that keeps the notes' starts, and sounds the
// first of them.
func (s *Session) changeTargets(e project.Edit) error {
	targets, sel := s.targets(), s.sel
	if len(targets) == 0 {
		return nil
	}
	err := s.doThen(e, func() { s.sel = sel })
	if err == nil {
		s.hearStep(targets[0])
	}
	return err
}

// MoveBy moves the target notes in time and pitch, as a drag does.
func (s *Session) MoveBy(by project.Ticks, pitch project.PitchMove) error {
	targets := s.targets()
	if len(targets) == 0 || by == 0 && pitch.N == 0 {
		return nil
	}
	return s.doThen(project.MoveNotes{Starts: targets, By: by, Pitch: pitch}, func() {
		s.sel = Selection{Caret: targets[0] + by, Anchor: targets[0] + by, Notes: shiftedBy(targets, by)}
	})
}

func shiftedBy(list []project.Ticks, by project.Ticks) []project.Ticks {
	out := make([]project.Ticks, len(list))
	for i, t := range list {
		out[i] = t + by
	}
	return out
}

// Lengthen makes the target notes longer or shorter by the entry's grid; a
// note grows up to the next one and keeps at least a thirty-second.
func (s *Session) Lengthen(by int) error {
	sel, targets := s.sel, s.targets()
	step := project.Ticks(by) * s.entry.Snap()
	for _, t := range targets {
		if i, ok := s.Chart().NoteStarting(t); ok && s.Chart().Melody[i].Duration+step < project.Whole/32 {
			return s.fail(errors.New("the note cannot be shorter; choose a smaller length first"))
		}
	}
	return s.doThen(project.ResizeNotes{Starts: targets, By: step, Spare: true}, func() { s.sel = sel })
}

// Resize makes the note that starts at start as much longer as it takes to
// have the given length, as dragging its end does, and with it every other
// selected note if it is one of them. No note gets shorter than shortestDragged.
func (s *Session) Resize(start, length project.Ticks) error {
	i, ok := s.Chart().NoteStarting(start)
	if !ok {
		return nil
	}
	by := length - s.Chart().Melody[i].Duration
	starts := []project.Ticks{start}
	if slices.Contains(s.sel.Notes, start) {
		starts = s.sel.Notes
	}
	return s.doThen(project.ResizeNotes{Starts: starts, By: by, Least: shortestDragged}, func() {
		s.sel = Selection{Caret: start, Anchor: start, Notes: starts}
	})
}

// shortestDragged is the least length that dragging an end leaves.
const shortestDragged = project.Whole / 32

// HoldOn lengthens the last note before the caret up to the caret and by the
// entry's length beyond it, and moves the caret to its end.
func (s *Session) HoldOn() error {
	targets := s.targets()
	if len(targets) == 0 {
		return nil
	}
	last := targets[len(targets)-1]
	i, _ := s.Chart().NoteStarting(last)
	end := max(s.Chart().Melody[i].End(), s.sel.Caret) + s.entry.Length()
	edits := append(s.roomFor(end), project.ResizeNotes{Starts: []project.Ticks{last}, To: end - last})
	return s.doThen(named(edits, "hold note"), func() { s.sel = Selection{Caret: end, Anchor: end} })
}

// SplitNotes divides each target note in the middle. Of selected notes both halves
// are selected then.
func (s *Session) SplitNotes() error {
	var edits []project.Edit
	var halves []project.Ticks
	for _, t := range s.targets() {
		if i, ok := s.Chart().NoteStarting(t); ok {
			middle := t + s.Chart().Melody[i].Duration/2
			edits, halves = append(edits, project.SplitNote{At: middle}), append(halves, t, middle)
		}
	}
	if len(edits) == 0 {
		return nil
	}
	return s.doThen(named(edits, "split notes"), func() {
		if len(s.sel.Notes) > 0 {
			s.sel = Selection{Caret: halves[0], Anchor: halves[0], Notes: halves}
		}
	})
}

// JoinNotes makes one note of the selected neighbours.
func (s *Session) JoinNotes() error {
	notes := s.sel.Notes
	return s.doThen(project.JoinNotes{Starts: notes}, func() {
		s.sel = Selection{Caret: notes[0], Anchor: notes[0], Notes: notes[:1]}
	})
}

// DeleteNotes removes the selected notes.
func (s *Session) DeleteNotes() error {
	caret := s.sel.Caret
	return s.doThen(project.RemoveNotes{Starts: s.sel.Notes}, func() { s.sel = Selection{Caret: caret, Anchor: caret} })
}

// DeleteBack removes the selected notes, or the one before the caret, and puts
// the caret where it began.
func (s *Session) DeleteBack() error {
	targets := s.targets()
	return s.doThen(project.RemoveNotes{Starts: targets}, func() {
		s.sel = Selection{Caret: targets[0], Anchor: targets[0]}
	})
}

// fail says an error and returns it.
func (s *Session) fail(err error) error {
	s.Say(Sentence(err))
	return err
}
