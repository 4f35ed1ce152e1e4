package musicxml

import (
	"slices"

	"organbook/internal/project"
)

// melodyPart returns the index of the part that holds the melody: the first
// with pitched notes, percussion staves last. ok is false when there is none.
func (s *score) melodyPart() (index int, ok bool) {
	fallback := -1
	for i, p := range s.parts {
		pitched, percussion := p.survey()
		switch {
		case pitched && !percussion:
			return i, true
		case pitched && fallback < 0:
			fallback = i
		}
	}
	return fallback, fallback >= 0
}

// survey reports whether a part has notes for a melody, and whether all of its
// clefs are for percussion.
func (p *part) survey() (pitched, percussion bool) {
	melodic := false
	for i := range p.measures {
		for _, it := range p.measures[i].items {
			switch {
			case it.note != nil:
				pitched = pitched || it.note.pitched()
			case it.attrs != nil:
				percussion = percussion || it.attrs.percussion
				melodic = melodic || it.attrs.melodicClef
			}
		}
	}
	return pitched, percussion && !melodic
}

// tone is a melody note on its way into the chart.
type tone struct {
	project.Note
	bar               int // where it starts
	tieStop, tieStart bool
}

// melody returns the part's first voice with notes: the top of each chord, no
// overlaps, ties merged. starts holds the bars' positions.
func (w *walk) melody(starts []project.Ticks, notes *notices) []project.Note {
	attacks := w.melodyVoice(notes)
	tones := make([]tone, 0, len(attacks))
	for _, a := range attacks {
		at := starts[a.bar] + a.start.ticks()
		end := starts[a.bar] + a.start.plus(a.length).ticks()
		tones = append(tones, tone{project.Note{Start: at, Duration: end - at, Pitch: a.pitch}, a.bar, a.note.tieStop, a.note.tieStart})
	}
	slices.SortStableFunc(tones, func(a, b tone) int { return int(a.Start - b.Start) })
	tones = w.separate(topTones(tones), notes)
	melody := mergeTies(tones)
	if len(melody) > project.MaxNotes {
		notes.add("", "the melody has %d notes; the first %d are imported", len(melody), project.MaxNotes)
		melody = melody[:project.MaxNotes]
	}
	return melody
}

// melodyVoice returns the notes of the first voice that has any, in file
// order. Files without voice numbers run two staves into one; then only the
// staff that begins counts.
func (w *walk) melodyVoice(notes *notices) []attack {
	for _, voice := range w.voices {
		var own []attack
		for _, a := range w.attacks {
			if a.voice == voice {
				own = append(own, a)
			}
		}
		if len(own) > 0 {
			if len(own) < len(w.attacks) {
				notes.add("", "voice %s of the part is the melody; its other voices are left out", shorten(voice))
			}
			if slices.Contains(w.shared, voice) {
				own = firstStaff(own, notes)
			}
			return own
		}
	}
	return nil
}

// firstStaff keeps the notes on the staff of the first one.
func firstStaff(attacks []attack, notes *notices) []attack {
	notes.add("", "two staves share one voice; the melody is read from the first staff")
	staff := attacks[0].note.staff
	return slices.DeleteFunc(attacks, func(a attack) bool { return a.note.staff != staff })
}

// topTones keeps the highest of the tones that start together.
func topTones(tones []tone) []tone {
	top := tones[:0]
	for _, t := range tones {
		last := len(top) - 1
		switch {
		case last < 0 || top[last].Start != t.Start:
			top = append(top, t)
		case t.Pitch.Key() > top[last].Pitch.Key():
			top[last] = t
		case t.Pitch.Key() == top[last].Pitch.Key(): // a unison may tie on one stem only
			top[last].tieStop = top[last].tieStop || t.tieStop
			top[last].tieStart = top[last].tieStart || t.tieStart
		}
	}
	return top
}

// separate ends each tone where the following one starts.
func (w *walk) separate(tones []tone, notes *notices) []tone {
	for i := range tones[:max(0, len(tones)-1)] {
		if next := tones[i+1].Start; tones[i].End() > next {
			notes.add(w.bars[tones[i].bar].number, "a note that sounds on into the next one is cut")
			tones[i].Duration = next - tones[i].Start
		}
	}
	return tones
}

// mergeTies joins each tone whose tie leads into an adjacent one on the same
// key. A tie that leads nowhere or comes from nowhere changes nothing.
func mergeTies(tones []tone) []project.Note {
	melody := make([]project.Note, 0, len(tones))
	open := false // the last note's tie leads on
	for _, t := range tones {
		last := len(melody) - 1
		if open && t.tieStop && melody[last].End() == t.Start && melody[last].Pitch.Key() == t.Pitch.Key() {
			melody[last].Duration += t.Duration
		} else {
			melody = append(melody, t.Note)
		}
		open = t.tieStart
	}
	return melody
}
