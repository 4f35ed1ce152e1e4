package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// A held note is arranged in parts where something changes under it:
//
//   - the chord changes and stays for at least a beat of the note: the inner
//     voices go on to the new chord while the lead is held;
//   - the passage moves inner voices, and a part lasts three beats or more: they
//     go to the family's other chord for the last beat but one and come back,
//     home–away–home.
//
// The parts are spots of their own, so the search weighs them like notes; parts
// that come out alike are joined again.

// part says what a spot is of its melody note.
type part uint8

const (
	// wholePart is a note's beginning, or all of it.
	wholePart part = iota
	// newChord is a held note's part under another chord.
	newChord
	// turned is the part in which the inner voices turn to the other chord, and
	// returned the one in which they are back.
	turned
	returned
)

// held reports whether the spot is a later part of its note.
func (sp *spot) held() bool { return sp.part != wholePart }

// parts cuts the last spot into the parts of its note.
func (s *stage) parts(spots []spot) []spot {
	at := len(spots) - 1
	if !s.movable(&spots[at]) {
		return spots
	}
	spots = s.turns(spots, at)
	end := s.chart.Melody[spots[at].melody].End()
	for span := spots[at].span + 1; span < len(s.spans) && s.spans[span].Start < end; span++ {
		last := &spots[len(spots)-1]
		start, stop := s.spans[span].Start, min(end, s.spans[span].End)
		if !playable(s.spans[span].Chord) {
			break
		}
		if start <= last.note.Start || stop-start < s.meterAt(start).Pulse() || sameSound(s.spans[span].Chord, last.chord) {
			continue
		}
		spots = s.cut(spots, start, span, newChord)
		spots[len(spots)-1].note.Duration = end - start
		spots = s.turns(spots, len(spots)-1)
	}
	return spots
}

// sameSound reports whether two chords are the same in whatever spelling.
func sameSound(a, b theory.Chord) bool {
	return playable(a) && playable(b) && sameRoot(a, b) && a.PCSet() == b.PCSet() && a.Bass().PC() == b.Bass().PC()
}

// movable reports whether the inner voices under a note may move at all.
func (s *stage) movable(sp *spot) bool {
	return playable(sp.chord) && sp.passage.Plan != project.SoloOverComp && !bareVoicing(sp.passage.Treatment.Voicing)
}

// turns cuts the spot at index at, the last one, into home, away and home where
// the passage asks for it and there is time.
func (s *stage) turns(spots []spot, at int) []spot {
	sp := &spots[at]
	pulse := s.meterAt(sp.note.Start).Pulse()
	end := sp.note.End()
	if sp.span >= 0 && sp.span < len(s.spans) && s.spans[sp.span].End > sp.note.Start {
		end = min(end, s.spans[sp.span].End)
	}
	if !sp.passage.Treatment.MoveInner || end-sp.note.Start < 3*pulse {
		return spots
	}
	spots = s.cut(spots, end-2*pulse, spots[at].span, turned)
	return s.cut(spots, end-pulse, spots[at].span, returned)
}

// cut ends the last spot at a position and starts another part of its note
// there.
func (s *stage) cut(spots []spot, at project.Ticks, span int, as part) []spot {
	last := &spots[len(spots)-1]
	next := *last
	last.note.Duration = at - last.note.Start
	last.short = last.note.Duration <= s.meterAt(last.note.Start).Pulse()
	next.note.Start, next.note.Duration = at, next.note.End()-at
	next.part, next.span, next.anticipates, next.joined = as, span, false, true
	next.heldPin()
	next.repeats, next.link = false, linked
	next.short = next.note.Duration <= s.meterAt(at).Pulse()
	s.setChord(&next)
	next.restless = s.restlessness(next.melody, next.note, onTime)
	return append(spots, next)
}

// heldPin leaves a later part of a pinned note what the pin can still fix: the
// voicing in every part, and the block or technique where the voices come back to
// it. In between the arranger moves them, in the pinned voicing.
func (sp *spot) heldPin() {
	p := sp.pin
	if p == nil {
		p = sp.notePin
	}
	sp.notePin = p
	switch {
	case p == nil || p.Strength == project.PinVoicing:
		sp.pin = p
	case sp.part == returned && sp.span == sp.noteSpan:
		sp.pin = p
	default:
		sp.pin = nil
	}
}

// moves returns the changes of the inner voices after spot i, the first of its
// note, in the chosen path.
func (q *search) moves(w *writer, i int) []Move {
	var out []Move
	last := &q.cands[i][q.chosen[i]]
	for k := i + 1; k < len(q.spots) && q.spots[k].held(); k++ {
		sp, c := &q.spots[k], &q.cands[k][q.chosen[k]]
		if c.keys == last.keys && c.n == last.n {
			if len(out) > 0 {
				out[len(out)-1].Duration += sp.note.Duration
			}
			continue
		}
		out = append(out, Move{
			Start: sp.note.Start, Duration: sp.note.Duration, Span: max(sp.span, 0), Chord: sp.chord, Block: w.block(k, c),
		})
		last = c
	}
	return out
}
