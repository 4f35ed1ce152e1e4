package theory

import (
	"errors"
	"strings"
	"testing"
)

func TestParseChord(t *testing.T) {
	for _, tc := range chordCases {
		for _, spelling := range tc.all() {
			c, err := ParseChord(spelling)
			if err != nil {
				t.Errorf("%v; want %s", err, tc.printed)
				continue
			}
			if got := c.String(); got != tc.printed {
				t.Errorf("%q prints as %s, want %s", spelling, got, tc.printed)
			}
			if got := names(c.Tones()); got != tc.tones {
				t.Errorf("%q has tones %s, want %s", spelling, got, tc.tones)
			}
		}
	}
}

// TestChordTableIsFull guards the breadth of the table and that no spelling is
// claimed by two chords.
func TestChordTableIsFull(t *testing.T) {
	owner := map[string]string{}
	for _, tc := range chordCases {
		for _, s := range strings.Split(tc.spellings, "|") {
			if other, taken := owner[s]; taken && other != tc.printed {
				t.Errorf("%q belongs to %s and %s", s, other, tc.printed)
			}
			owner[s] = tc.printed
		}
	}
	if len(owner) < 400 {
		t.Errorf("%d spellings in the table, want at least 400", len(owner))
	}
}

func TestParseChordErrors(t *testing.T) {
	for _, tc := range badChords {
		c, err := ParseChord(tc.in)
		var ce *ChordError
		if !errors.As(err, &ce) {
			t.Errorf("%q reads as %s, want an error", tc.in, c)
			continue
		}
		if ce.At != tc.at {
			t.Errorf("%q: at %d, want %d (%v)", tc.in, ce.At, tc.at, err)
		}
		if ce.Input != tc.in || !strings.HasSuffix(tc.in, ce.Rest) || ce.Reason == "" {
			t.Errorf("%q: incomplete error %+v", tc.in, ce)
		}
		if c.IsValid() {
			t.Errorf("%q: a valid chord beside the error", tc.in)
		}
	}
}

func TestMustParseChordPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("MustParseChord accepted H7")
		}
	}()
	MustParseChord("H7")
}

func TestZeroAndNoChord(t *testing.T) {
	var zero Chord
	if zero.IsValid() || zero.String() != "" || zero.Quality() != NoQuality || len(zero.Tones()) != 0 {
		t.Errorf("the zero Chord is not empty: %+v", zero)
	}
	nc := NoChord()
	if !nc.IsValid() || !nc.IsNone() || nc.Root().IsValid() || nc.Bass().IsValid() || nc.HasSlash() || nc.PCSet() != 0 {
		t.Errorf("N.C. is not what it should be: %+v", nc)
	}
	if nc.Transpose(MajorThird) != nc || nc.WithBass(MustParseName("E")) != nc {
		t.Error("N.C. changed")
	}
}

func TestChordBass(t *testing.T) {
	c := MustParseChord("C7/E")
	if got := c.Bass().String(); got != "E" || !c.HasSlash() {
		t.Errorf("bass %s", got)
	}
	if d := c.WithoutBass(); d != MustParseChord("C7") || d.HasSlash() || d.Bass() != d.Root() {
		t.Errorf("without bass: %s", d)
	}
	if d := c.WithBass(MustParseName("Bb")); d != MustParseChord("C7/Bb") {
		t.Errorf("with bass: %s", d)
	}
}

func TestPretty(t *testing.T) {
	for in, want := range map[string]string{
		"Bbm7b5/Ab": "B♭m7♭5/A♭", "F#7#9": "F♯7♯9", "Cadd9": "Cadd9", "C7sus4b9": "C7sus4♭9", "N.C.": "N.C.",
	} {
		c := MustParseChord(in)
		if got := c.Pretty(); got != want {
			t.Errorf("%s pretty: %s, want %s", in, got, want)
		}
		if back := MustParseChord(c.Pretty()); back != c {
			t.Errorf("%s reads back as %s", c.Pretty(), back)
		}
	}
}

func TestHas(t *testing.T) {
	c := MustParseChord("C13b9")
	for _, tc := range []struct {
		number, alter int
		want          bool
	}{
		{1, 0, true}, {3, 0, true}, {5, 0, true}, {7, -1, true}, {9, -1, true}, {13, 0, true},
		{9, 0, false}, {6, 0, false}, {7, 0, false}, {11, 0, false}, {2, -1, false},
		{0, 0, false}, {8, 0, false}, {14, 0, false}, {-1, 0, false}, {9, 7, false}, {9, -7, false},
	} {
		if got := c.Has(tc.number, tc.alter); got != tc.want {
			t.Errorf("Has(%d, %d) = %v", tc.number, tc.alter, got)
		}
	}
	if !c.HasAny(9) || c.HasAny(11) || c.HasAny(99) {
		t.Error("HasAny is wrong")
	}
}

func TestQuality(t *testing.T) {
	for in, want := range map[string]Quality{
		"C": MajorTriad, "Cadd9": MajorTriad, "C6": MajorSixthChord, "C6/9": MajorSixthChord,
		"Cmaj7": MajorSeventhChord, "Cmaj9#11": MajorSeventhChord, "Cm": MinorTriad, "Cmadd9": MinorTriad,
		"Cm6": MinorSixthChord, "Cm7": MinorSeventhChord, "Cm11": MinorSeventhChord, "Cm(maj7)": MinorMajorSeventh,
		"C7": DominantSeventh, "C13": DominantSeventh, "C7b9": DominantSeventh, "C7b13": DominantSeventh,
		"C7no3": DominantSeventh, "C7#9": DominantSeventh,
		"C7b5": DominantFlatFive, "C7#11": DominantFlatFive, "C13#11": DominantFlatFive, "C7#5": AugmentedSeventh,
		"C7alt": AlteredDominant, "C7b9#5": AlteredDominant, "C7b9b13": AlteredDominant, "C7b9b5": AlteredDominant,
		"C7sus4": SuspendedSeventh, "C9sus4": SuspendedSeventh, "Csus4": Suspended, "Csus2": Suspended,
		"Cm7b5": HalfDiminished, "Cm9b5": HalfDiminished, "Cdim": DiminishedTriad, "Cdim7": DiminishedSeventh,
		"Caug": Augmented, "Cmaj7#5": AugmentedMajorSeventh, "C5": Power, "N.C.": NoQuality,
	} {
		if got := MustParseChord(in).Quality(); got != want {
			t.Errorf("%s is a %s, want %s", in, got, want)
		}
	}
}

func TestChordNoAllocs(t *testing.T) {
	c := MustParseChord("C13b9/E")
	dst := make([]Name, 0, 12)
	for what, f := range map[string]func(){
		"PCSet":       func() { c.PCSet() },
		"Quality":     func() { c.Quality() },
		"AppendTones": func() { dst = c.AppendTones(dst[:0]) },
		"SpellOf":     func() { c.SpellOf(10) },
		"Transpose":   func() { c.Transpose(MinorThird) },
		"ParseChord":  func() { _, _ = ParseChord("Bbm7b5/Ab") },
	} {
		if n := testing.AllocsPerRun(100, f); n > 0 {
			t.Errorf("%s allocates %v times", what, n)
		}
	}
}

func BenchmarkParseChord(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseChord("Bbm7b5/Ab"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkChordString(b *testing.B) {
	c := MustParseChord("C13b9#11/E")
	b.ReportAllocs()
	for b.Loop() {
		_ = c.String()
	}
}

// names joins note names for comparison.
func names(list []Name) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = n.String()
	}
	return strings.Join(words, " ")
}
