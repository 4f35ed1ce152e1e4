package musicxml

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// A part for a transposing instrument is written in another key than it sounds
// in. The organ sounds as written, so such a part is brought to the key in which
// it sounds; the octave is the one nearest to what is written, since a lead for
// blocks belongs where the page has it (a tenor voice an octave down, say, would
// be harmonised in the mud).

// transposition is what <transpose> says: how far a part sounds from where it
// is written, brought to within half an octave.
type transposition struct {
	interval theory.Interval
	// octaves tells that the part sounds whole octaves away, and no more.
	octaves bool
}

// stepsOf is the usual number of letters for a size of 0 to 11 semitones, for
// files that give no diatonic part.
var stepsOf = [12]int{0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6}

// maxTransposition bounds the size in semitones that is believed.
const maxTransposition = 60

// readTranspose reads a <transpose>. ok is false where its size is no whole
// number of semitones or beyond belief.
func readTranspose(n *node) (t transposition, ok bool) {
	chromatic, ok := parseFraction(n.value("chromatic"))
	octaves, _ := parseFraction(n.value("octave-change"))
	if !ok || !chromatic.isWhole() || !octaves.isWhole() ||
		max(chromatic.num, -chromatic.num, 12*octaves.num, -12*octaves.num) > maxTransposition {
		return transposition{}, false
	}
	size := int(chromatic.num)
	up := ((size % 12) + 12) % 12
	interval := theory.NewInterval(stepsOf[up], up)
	if steps, ok := parseFraction(n.value("diatonic")); ok && steps.isWhole() && steps.num > -100 && steps.num < 100 {
		written := theory.NewInterval(int(steps.num), size)
		written = written.Plus(octavesOf((up - size) / 12))
		if f := written.Fifths(); f >= -project.MaxSignature && f <= project.MaxSignature {
			interval = written
		}
	}
	if up > 6 {
		interval = interval.Plus(octavesOf(-1))
	}
	return transposition{interval, up == 0 && (size != 0 || octaves.num != 0)}, true
}

// octavesOf returns the interval of n octaves, down when n is negative.
func octavesOf(n int) theory.Interval { return theory.NewInterval(7*n, 12*n) }

// within returns the interval spelled so that a key which is written can still
// be written where it sounds: from G flat down a major sixth is A, not B double
// flat.
func (t transposition) within(key theory.Key) theory.Interval {
	i := t.interval
	if i == theory.Unison || !key.IsValid() {
		return i
	}
	switch f := key.Fifths() + i.Fifths(); {
	case f > project.MaxSignature:
		return i.Plus(theory.NewInterval(1, 0))
	case f < -project.MaxSignature:
		return i.Plus(theory.NewInterval(-1, 0))
	}
	return i
}

// transpose takes over how the part sounds from here on. It comes before the
// key of the same place, which is written in the same way.
func (w *walker) transpose(a *attributesItem) {
	switch {
	case a.transpose == nil:
		return
	case a.badTranspose:
		w.notes.add(w.number, "a transposition of an unusual size cannot be read; the notes are kept as written")
	case a.transpose.octaves:
		w.notes.add("", "the part sounds in another octave than it is written in; its notes are kept where they are written")
	case a.transpose.interval != theory.Unison:
		w.notes.add("", "the part is written for a transposing instrument; key, notes and chords are brought to where they sound")
	}
	w.transposition = *a.transpose
	w.sounding = w.transposition.within(w.writtenKey)
}

// soundKey notes the written key and returns the one that sounds.
func (w *walker) soundKey(written theory.Key) theory.Key {
	w.writtenKey = written
	w.sounding = w.transposition.within(written)
	return written.Transpose(w.sounding)
}

// sound returns the pitch that a written one sounds, kept among the keys.
func (w *walker) sound(written theory.Pitch) theory.Pitch {
	if p := written.Transpose(w.sounding); p.IsValid() {
		return p
	}
	if w.sounding.Semitones() > 0 {
		return written.Transpose(w.sounding.Plus(octavesOf(-1)))
	}
	return written.Transpose(w.sounding.Plus(octavesOf(1)))
}

// sounded returns the harmony as it sounds an interval away.
func (h *harmonyItem) sounded(i theory.Interval) *harmonyItem {
	if i == theory.Unison {
		return h
	}
	s := *h
	s.shift = i
	return &s
}
