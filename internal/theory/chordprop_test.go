package theory

import (
	"testing"

	"pgregory.net/rapid"
)

// drawName draws a note name with up to two accidentals.
func drawName(t *rapid.T, label string) Name {
	return NewName(Letter(rapid.IntRange(0, 6).Draw(t, label+" letter")), rapid.IntRange(-2, 2).Draw(t, label+" alter"))
}

// drawChord draws from everything NewChord can build: any kind with any
// changes over any root and bass, and N.C.
func drawChord(t *rapid.T) Chord {
	for {
		bass := Name{}
		if rapid.Bool().Draw(t, "slash") {
			bass = drawName(t, "bass")
		}
		kind := Kind(rapid.IntRange(0, int(kindCount)-1).Draw(t, "kind"))
		changes := rapid.SliceOfN(rapid.Custom(drawDegree), 0, 5).Draw(t, "changes")
		if c, err := NewChord(drawName(t, "root"), kind, changes, bass); err == nil {
			return c
		}
	}
}

func drawDegree(t *rapid.T) Degree {
	return Degree{
		Number: rapid.IntRange(1, 15).Draw(t, "number"),
		Alter:  rapid.IntRange(-2, 2).Draw(t, "alter"),
		Op:     DegreeOp(rapid.IntRange(0, 2).Draw(t, "op")),
	}
}

// drawToneSet draws any set of degrees at all, likely or not.
func drawToneSet(t *rapid.T) Chord {
	bits := rapid.Uint64Range(1, 1<<50-1).Draw(t, "degrees")
	if rapid.Bool().Draw(t, "sparse") {
		mask := rapid.Uint64().Draw(t, "mask")
		bits &= mask & rapid.Uint64().Draw(t, "second mask")
	}
	tones := degreeSet(bits) &^ (degreeMask(1) &^ degreeBit(1, 0))
	if tones == 0 {
		tones = degreeBit(1, 0)
	}
	return Chord{root: drawName(t, "root"), tones: tones}
}

func TestChordPrintsAndReadsBack(t *testing.T) {
	check := func(t *rapid.T, c Chord) {
		for _, text := range []string{c.String(), c.Pretty()} {
			if back, err := ParseChord(text); err != nil {
				t.Errorf("%s: %v", text, err)
			} else if back != c {
				t.Errorf("%s %v reads back as %s %v", text, c.tones.list(), back, back.tones.list())
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) { check(t, drawChord(t)) })
	rapid.Check(t, func(t *rapid.T) { check(t, drawToneSet(t)) })
}

func TestKindTakesApartAndPutsTogether(t *testing.T) {
	check := func(t *rapid.T, c Chord) {
		kind, changes := c.Kind()
		bass := Name{}
		if c.HasSlash() {
			bass = c.Bass()
		}
		back, err := NewChord(c.Root(), kind, changes, bass)
		if err != nil || back != c {
			t.Errorf("%s → %s %v → %s, %v", c, kind, changes, back, err)
		}
	}
	rapid.Check(t, func(t *rapid.T) { check(t, drawChord(t)) })
	rapid.Check(t, func(t *rapid.T) { check(t, drawToneSet(t)) })
}

// TestChordTransposes compares the spelled tones of a transposed chord with
// the transposed tones, and all ways to ask for pitch classes.
func TestChordTransposes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, i := drawChord(t), drawInterval(t)
		d := c.Transpose(i)
		if d.Kind(); d.IsNone() != c.IsNone() || len(d.Tones()) != len(c.Tones()) {
			t.Fatalf("%s became %s", c, d)
		}
		for k, n := range c.Tones() {
			if d.Tones()[k].PC() != mod(n.PC()+i.Semitones(), 12) {
				t.Errorf("%s by %s is %s: tone %d is %s", c, i, d, k, d.Tones()[k])
			}
		}
		if back := d.Transpose(i.Invert()); back.PCSet() != c.PCSet() || back.Bass().PC() != c.Bass().PC() {
			t.Errorf("%s there and back is %s", c, back)
		}
	})
}

func TestChordPitchClassesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChord(t)
		pcs, tones := c.PitchClasses(), c.Tones()
		if NewPCSet(pcs...) != c.PCSet() || len(pcs) != len(tones) {
			t.Fatalf("%s: classes %v, set %v", c, pcs, c.PCSet().Slice())
		}
		for k, n := range tones {
			if n.PC() != pcs[k] {
				t.Errorf("%s: %s is not class %d", c, n, pcs[k])
			}
			if spelled, ok := c.SpellOf(n.PC()); !ok || spelled.PC() != n.PC() {
				t.Errorf("%s: SpellOf(%d) = %s", c, n.PC(), spelled)
			}
		}
	})
}

func FuzzParseChord(f *testing.F) {
	for _, tc := range chordCases {
		for _, s := range tc.all() {
			f.Add(s)
		}
	}
	for _, tc := range badChords {
		f.Add(tc.in)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ParseChord(s)
		if err != nil {
			if ce, ok := err.(*ChordError); !ok || ce.At < 0 || ce.At > len([]rune(s)) || c.IsValid() {
				t.Fatalf("%q: bad error %#v", s, err)
			}
			return
		}
		if !c.IsValid() {
			t.Fatalf("%q: an invalid chord without an error", s)
		}
		if back, err := ParseChord(c.String()); err != nil || back != c {
			t.Fatalf("%q prints as %s, which reads as %s, %v", s, c, back, err)
		}
		Serve(c)
	})
}
