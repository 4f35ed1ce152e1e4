package theory

import (
	"testing"

	"pgregory.net/rapid"
)

func TestFamiliesOnC(t *testing.T) {
	for _, tc := range []struct {
		sixth             Sixth
		scale, home, away string
	}{
		{MajorSixthFamily, "C D E F G Ab A B", "C6", "Bdim7"},
		{MinorSixthFamily, "C D Eb F G Ab A B", "Cm6", "Bdim7"},
		{DominantFamily, "C D E F G Ab Bb B", "C7", "Bdim7"},
		{DominantFlatFiveFamily, "C D E F Gb Ab Bb B", "C7b5", "Bdim7"},
	} {
		f := NewFamily(MustParseName("C"), tc.sixth)
		scale := f.Scale()
		if got := names(scale[:]); got != tc.scale {
			t.Errorf("%s: %s, want %s", f, got, tc.scale)
		}
		if got := f.HomeChord().String(); got != tc.home {
			t.Errorf("%s: home %s, want %s", f, got, tc.home)
		}
		if got := f.AwayChord().String(); got != tc.away {
			t.Errorf("%s: away %s, want %s", f, got, tc.away)
		}
		away := f.Away()
		if got := names(away[:]); got != "D F Ab B" {
			t.Errorf("%s: away notes %s", f, got)
		}
	}
}

// TestFamilyScales spells the major and minor families in the twelve keys.
func TestFamilyScales(t *testing.T) {
	for _, tc := range []struct{ tonic, major, minor string }{
		{"C", "C D E F G Ab A B", "C D Eb F G Ab A B"},
		{"Db", "Db Eb F Gb Ab Bbb Bb C", "Db Eb Fb Gb Ab Bbb Bb C"},
		{"D", "D E F# G A Bb B C#", "D E F G A Bb B C#"},
		{"Eb", "Eb F G Ab Bb Cb C D", "Eb F Gb Ab Bb Cb C D"},
		{"E", "E F# G# A B C C# D#", "E F# G A B C C# D#"},
		{"F", "F G A Bb C Db D E", "F G Ab Bb C Db D E"},
		{"F#", "F# G# A# B C# D D# E#", "F# G# A B C# D D# E#"},
		{"G", "G A B C D Eb E F#", "G A Bb C D Eb E F#"},
		{"Ab", "Ab Bb C Db Eb Fb F G", "Ab Bb Cb Db Eb Fb F G"},
		{"A", "A B C# D E F F# G#", "A B C D E F F# G#"},
		{"Bb", "Bb C D Eb F Gb G A", "Bb C Db Eb F Gb G A"},
		{"B", "B C# D# E F# G G# A#", "B C# D E F# G G# A#"},
	} {
		for sixth, want := range map[Sixth]string{MajorSixthFamily: tc.major, MinorSixthFamily: tc.minor} {
			scale := NewFamily(MustParseName(tc.tonic), sixth).Scale()
			if got := names(scale[:]); got != want {
				t.Errorf("%s %s: %s, want %s", tc.tonic, sixth, got, want)
			}
		}
	}
}

func drawFamily(t *rapid.T) Family {
	tonic := NewName(Letter(rapid.IntRange(0, 6).Draw(t, "tonic")), rapid.IntRange(-1, 1).Draw(t, "alter"))
	return NewFamily(tonic, Sixths[rapid.IntRange(0, 3).Draw(t, "sixth")])
}

// TestFamilyIsOneCircle checks what every family has in common: home and away
// share no note and fill the scale, away divides the octave evenly, chords and
// notes agree, and steps are found where they are.
func TestFamilyIsOneCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFamily(t)
		home, away := homePCs(f), awayPCs(f)
		if home&away != 0 || (home|away).Len() != 8 || away.Transpose(3) != away {
			t.Errorf("%s: home %v, away %v", f, home.Slice(), away.Slice())
		}
		if f.HomeChord().PCSet() != home || f.AwayChord().PCSet() != away {
			t.Errorf("%s: chords %s and %s do not have its notes", f, f.HomeChord(), f.AwayChord())
		}
		if d := f.Dominant(); d.PCSet() != away.With(d.Root().PC()) {
			t.Errorf("%s: dominant %s is not away over its root", f, d)
		}
		for step, n := range f.Scale() {
			if got, ok := f.StepOf(n.PC() + 12); !ok || got != step {
				t.Errorf("%s: %s is step %d, want %d", f, n, got, step)
			}
		}
		for pc := 0; pc < 12; pc++ {
			if _, ok := f.StepOf(pc); ok != (home | away).Has(pc) {
				t.Errorf("%s: class %d on the scale: %v", f, pc, ok)
			}
		}
	})
}

func TestFamilyTransposes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, i := drawFamily(t), drawInterval(t)
		g := f.Transpose(i)
		if homePCs(g) != homePCs(f).Transpose(i.Semitones()) || awayPCs(g) != awayPCs(f).Transpose(i.Semitones()) {
			t.Errorf("%s by %s is %s", f, i, g)
		}
		if g.Transpose(i.Invert()) != f {
			t.Errorf("%s by %s and back is %s", f, i, g.Transpose(i.Invert()))
		}
	})
}

func TestFamilyWords(t *testing.T) {
	for _, s := range Sixths {
		if back, err := ParseSixth(s.String()); err != nil || back != s {
			t.Errorf("%s reads back as %s, %v", s, back, err)
		}
	}
	if _, err := ParseSixth("lydian"); err == nil {
		t.Error("lydian is a family now")
	}
	var zero Family
	if zero.IsValid() || zero.String() != "" || zero.HomeChord().IsValid() || zero.AwayChord().IsValid() || zero.Dominant().IsValid() {
		t.Error("the zero Family is not empty")
	}
	if got := NewFamily(MustParseName("G"), MinorSixthFamily).String(); got != "G minor family" {
		t.Errorf("name %q", got)
	}
}
