package theory

import (
	"testing"

	"pgregory.net/rapid"
)

// drawInterval draws an ascending or descending interval whose quality is at
// most augmented or diminished once.
func drawInterval(t *rapid.T) Interval {
	steps := rapid.IntRange(0, 7).Draw(t, "steps")
	size := letterSemitones[mod(steps, 7)] + 12*(steps/7) + rapid.IntRange(-1, 1).Draw(t, "quality")
	i := NewInterval(steps, size)
	if rapid.Bool().Draw(t, "down") {
		return i.Invert()
	}
	return i
}

func TestParseName(t *testing.T) {
	for in, want := range map[string]struct {
		letter    Letter
		alter, pc int
	}{
		"C": {C, 0, 0}, "c": {C, 0, 0}, "B": {B, 0, 11}, "b": {B, 0, 11}, "Bb": {B, -1, 10}, "bb": {B, -1, 10},
		"F#": {F, 1, 6}, "F♯": {F, 1, 6}, "E♭": {E, -1, 3}, "Cb": {C, -1, 11}, "B#": {B, 1, 0}, "Fx": {F, 2, 7},
		"F𝄪": {F, 2, 7}, "A𝄫": {A, -2, 7}, "Abb": {A, -2, 7}, "G###": {G, 3, 10}, "D♮": {D, 0, 2},
	} {
		n, err := ParseName(in)
		if err != nil || n.Letter() != want.letter || n.Alter() != want.alter || n.PC() != want.pc {
			t.Errorf("%q: %s (pc %d), %v", in, n, n.PC(), err)
		}
	}
	for _, in := range []string{"", "H", "♭", "Cbbbb", "C4", "C ", "#C"} {
		if n, err := ParseName(in); err == nil || n.IsValid() {
			t.Errorf("%q reads as %s, want an error", in, n)
		}
	}
}

func TestNamesOnTheLineOfFifths(t *testing.T) {
	line := []string{"Fb", "Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#", "G#", "D#", "A#", "E#", "B#", "F##"}
	for i, want := range line {
		f := i - 8
		if got := NameFromFifths(f).String(); got != want {
			t.Errorf("%d fifths from C: %s, want %s", f, got, want)
		}
		if got := MustParseName(want).Fifths(); got != f {
			t.Errorf("%s stands at %d, want %d", want, got, f)
		}
	}
	for f := -60; f <= 60; f++ {
		n := NameFromFifths(f)
		if !n.IsValid() || n.PC() != mod(7*f, 12) || n.Alter() < -MaxAlter || n.Alter() > MaxAlter {
			t.Errorf("%d fifths from C: %s", f, n)
		}
	}
}

func TestNameTextRoundTrip(t *testing.T) {
	for l := C; l <= B; l++ {
		for alter := -MaxAlter; alter <= MaxAlter; alter++ {
			n := NewName(l, alter)
			for _, text := range []string{n.String(), n.Pretty()} {
				if back, err := ParseName(text); err != nil || back != n {
					t.Errorf("%s reads back as %s, %v", text, back, err)
				}
			}
			if NameFromFifths(n.Fifths()) != n {
				t.Errorf("%s is not at its place on the line of fifths", n)
			}
		}
	}
	if NewName(C, MaxAlter+1).IsValid() || NewName(Letter(7), 0).IsValid() || NewName(Letter(-1), 0).IsValid() {
		t.Error("a name out of range is valid")
	}
}

func TestIntervalBetweenNames(t *testing.T) {
	for _, tc := range []struct {
		from, to string
		want     Interval
	}{
		{"C", "G", PerfectFifth}, {"G", "C", PerfectFourth}, {"C", "Gb", DiminishedFifth}, {"C", "F#", AugmentedFourth},
		{"A", "C", MinorThird}, {"B", "C", MinorSecond}, {"Bb", "A", MajorSeventh}, {"E", "G#", MajorThird},
		{"C", "B#", NewInterval(6, 12)}, {"C", "Cb", NewInterval(0, -1)}, {"F#", "Bb", NewInterval(3, 4)},
	} {
		if got := MustParseName(tc.from).To(MustParseName(tc.to)); got != tc.want {
			t.Errorf("%s to %s: %s, want %s", tc.from, tc.to, got, tc.want)
		}
	}
}

func TestIntervalsAreAGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawInterval(t), drawInterval(t)
		if a.Plus(a.Invert()) != Unison || a.Plus(b) != b.Plus(a) {
			t.Errorf("%s and %s do not add as they should", a, b)
		}
		if a.Plus(b).Fifths() != a.Fifths()+b.Fifths() {
			t.Errorf("fifths of %s and %s do not add", a, b)
		}
	})
}

func TestNameTransposes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, i := NewName(Letter(rapid.IntRange(0, 6).Draw(t, "letter")), rapid.IntRange(-1, 1).Draw(t, "alter")), drawInterval(t)
		m := n.Transpose(i)
		if m.PC() != mod(n.PC()+i.Semitones(), 12) || int(m.Letter()) != mod(int(n.Letter())+i.Steps(), 7) {
			t.Errorf("%s by %s is %s", n, i, m)
		}
		if back := m.Transpose(i.Invert()); back != n {
			t.Errorf("%s by %s and back is %s", n, i, back)
		}
		if up := n.To(m); mod(up.Fifths()-i.Fifths(), 84) != 0 {
			t.Errorf("%s to %s is %s, went %s", n, m, up, i)
		}
	})
}

func TestPitchKeys(t *testing.T) {
	for text, key := range map[string]int{
		"C4": 60, "A4": 69, "C-1": 0, "G9": 127, "B#3": 60, "Cb4": 59, "Fb4": 64, "E##4": 66, "Bb3": 58, "B♭3": 58, "f#3": 54,
	} {
		if p, err := ParsePitch(text); err != nil || p.Key() != key {
			t.Errorf("%s: key %d, %v; want %d", text, p.Key(), err, key)
		}
	}
	for _, text := range []string{"", "C", "4", "H4", "C4.5", "Cb-1", "G#9", "C99", "C999999999999999999999"} {
		if p, err := ParsePitch(text); err == nil || p.IsValid() {
			t.Errorf("%q reads as %s, want an error", text, p)
		}
	}
}

// TestPitchAtInverts pins every spelling of every key both ways.
func TestPitchAtInverts(t *testing.T) {
	for key := MinKey; key <= MaxKey; key++ {
		for l := C; l <= B; l++ {
			for alter := -MaxAlter; alter <= MaxAlter; alter++ {
				n := NewName(l, alter)
				p := PitchAt(n, key)
				if p.IsValid() != (n.PC() == key%12) {
					t.Fatalf("PitchAt(%s, %d) valid: %v", n, key, p.IsValid())
				}
				if p.IsValid() && (p.Key() != key || p.Name() != n || NewPitch(n, p.Octave()) != p) {
					t.Fatalf("PitchAt(%s, %d) = %s at %d", n, key, p, p.Key())
				}
			}
		}
	}
}

func TestPitchTransposes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := NewPitch(NewName(Letter(rapid.IntRange(0, 6).Draw(t, "letter")), rapid.IntRange(-1, 1).Draw(t, "alter")), rapid.IntRange(1, 7).Draw(t, "octave"))
		i := drawInterval(t)
		q := p.Transpose(i)
		if q.Key() != p.Key()+i.Semitones() || q.Diatonic() != p.Diatonic()+i.Steps() {
			t.Errorf("%s by %s is %s", p, i, q)
		}
		if back := q.Transpose(i.Invert()); back != p {
			t.Errorf("%s by %s and back is %s", p, i, back)
		}
		if again, err := ParsePitch(q.String()); err != nil || again != q {
			t.Errorf("%s reads back as %s, %v", q, again, err)
		}
	})
	if p := MustParsePitch("G9").Transpose(MajorSecond); p.IsValid() {
		t.Errorf("above the top key there is %s", p)
	}
}

func TestPCSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := PCSet(rapid.Uint16Range(0, 1<<12-1).Draw(t, "set"))
		d := rapid.IntRange(-30, 30).Draw(t, "semitones")
		moved := s.Transpose(d)
		if moved.Transpose(-d) != s || moved.Len() != s.Len() {
			t.Errorf("%v by %d is %v", s.Slice(), d, moved.Slice())
		}
		for _, pc := range s.Slice() {
			if !moved.Has(pc+d) || s.Without(pc).Has(pc) || s.Without(pc).With(pc) != s {
				t.Errorf("class %d is lost in %v", pc, moved.Slice())
			}
		}
		if NewPCSet(s.Slice()...) != s || !s.Covers(s) || !s.Covers(0) {
			t.Errorf("%v is not itself", s.Slice())
		}
	})
}
