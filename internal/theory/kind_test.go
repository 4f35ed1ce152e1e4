package theory

import (
	"strings"
	"testing"
)

func TestKinds(t *testing.T) {
	for _, tc := range []struct{ kind, symbol, tones string }{
		{"major", "D", "D F# A"},
		{"minor", "Dm", "D F A"},
		{"augmented", "Daug", "D F# A#"},
		{"diminished", "Ddim", "D F Ab"},
		{"dominant", "D7", "D F# A C"},
		{"major-seventh", "Dmaj7", "D F# A C#"},
		{"minor-seventh", "Dm7", "D F A C"},
		{"diminished-seventh", "Ddim7", "D F Ab Cb"},
		{"augmented-seventh", "D7#5", "D F# A# C"},
		{"half-diminished", "Dm7b5", "D F Ab C"},
		{"major-minor", "Dm(maj7)", "D F A C#"},
		{"major-sixth", "D6", "D F# A B"},
		{"minor-sixth", "Dm6", "D F A B"},
		{"dominant-ninth", "D9", "D F# A C E"},
		{"major-ninth", "Dmaj9", "D F# A C# E"},
		{"minor-ninth", "Dm9", "D F A C E"},
		{"dominant-11th", "D11", "D F# A C E G"},
		{"major-11th", "Dmaj11", "D F# A C# E G"},
		{"minor-11th", "Dm11", "D F A C E G"},
		{"dominant-13th", "D13", "D F# A C E B"},
		{"major-13th", "Dmaj13", "D F# A C# E B"},
		{"minor-13th", "Dm13", "D F A C E G B"},
		{"suspended-second", "Dsus2", "D E A"},
		{"suspended-fourth", "Dsus4", "D G A"},
		{"Neapolitan", "D", "D F# A"},
		{"Italian", "", "D F# B#"},
		{"French", "", "D F# G# B#"},
		{"German", "", "D F# A B#"},
		{"pedal", "", "D"},
		{"power", "D5", "D A"},
		{"Tristan", "", "D G# B# E#"},
		{"other", "", "D"},
		{"none", "N.C.", ""},
	} {
		kind, err := ParseKind(tc.kind)
		if err != nil || kind.String() != tc.kind {
			t.Errorf("%s reads as %s, %v", tc.kind, kind, err)
			continue
		}
		c, err := NewChord(MustParseName("D"), kind, nil, Name{})
		if err != nil || names(c.Tones()) != tc.tones {
			t.Errorf("%s: %s, %v; want %s", tc.kind, names(c.Tones()), err, tc.tones)
		}
		if tc.symbol != "" && c.String() != tc.symbol {
			t.Errorf("%s prints as %s, want %s", tc.kind, c, tc.symbol)
		}
		if back, err := ParseChord(c.String()); err != nil || back != c {
			t.Errorf("%s: %s reads back as %s, %v", tc.kind, c, back, err)
		}
		if again, _ := c.Kind(); !kindFacts[kind].alias && again != kind {
			t.Errorf("%s comes apart as %s", tc.kind, again)
		}
	}
	for _, word := range []string{"", "Major", "minor ", "augmented-ninth"} {
		if k, err := ParseKind(word); err == nil {
			t.Errorf("%q reads as %s", word, k)
		}
	}
}

// TestNewChordDegrees follows the standard: add counts from a dominant chord,
// alter from the kind's own degree.
func TestNewChordDegrees(t *testing.T) {
	for _, tc := range []struct {
		kind    string
		changes []Degree
		want    string
	}{
		{"dominant", []Degree{{9, -1, AddDegree}}, "G7b9"},
		{"dominant", []Degree{{9, -1, AlterDegree}}, "G7b9"},
		{"dominant", []Degree{{9, -1, AlterDegree}, {9, 1, AlterDegree}}, "G7b9#9"},
		{"dominant", []Degree{{5, 1, AlterDegree}, {9, -1, AddDegree}}, "G7b9#5"},
		{"dominant", []Degree{{9, -1, AddDegree}, {5, 1, AlterDegree}}, "G7b9#5"},
		{"dominant-ninth", []Degree{{9, -1, AlterDegree}}, "G7b9"},
		{"dominant-ninth", []Degree{{11, 1, AddDegree}}, "G9#11"},
		{"dominant-13th", []Degree{{11, 1, AlterDegree}}, "G13#11"},
		{"dominant", []Degree{{4, 0, AddDegree}, {3, 0, OmitDegree}}, "G7sus4"},
		{"suspended-fourth", []Degree{{7, 0, AddDegree}}, "G7sus4"},
		{"suspended-fourth", []Degree{{7, 1, AddDegree}}, "Gmaj7sus4"},
		{"major", []Degree{{7, 0, AddDegree}}, "G7"},
		{"major", []Degree{{7, 1, AddDegree}}, "Gmaj7"},
		{"major", []Degree{{9, 0, AddDegree}}, "Gadd9"},
		{"major", []Degree{{2, 0, AddDegree}}, "Gadd2"},
		{"major-sixth", []Degree{{9, 0, AddDegree}}, "G6/9"},
		{"minor-seventh", []Degree{{5, -1, AlterDegree}}, "Gm7b5"},
		{"minor", []Degree{{7, 1, AddDegree}}, "Gm(maj7)"},
		{"diminished", []Degree{{7, -1, AddDegree}}, "Gdim7"},
		{"half-diminished", []Degree{{5, 1, AlterDegree}}, "Gm7"},
		{"major-seventh", []Degree{{5, 1, AlterDegree}}, "Gmaj7#5"},
		{"major-seventh", []Degree{{7, -1, AlterDegree}}, "G7"},
		{"other", []Degree{{3, 0, AddDegree}, {5, 0, AddDegree}, {7, 0, AddDegree}}, "G7"},
		{"dominant", []Degree{{13, 0, OmitDegree}}, "G7"},
		{"major", []Degree{{3, 0, OmitDegree}}, "G5"},
		{"major", []Degree{{12, 1, AlterDegree}}, "Gaug"},
		{"major", []Degree{{16, 0, AddDegree}}, "Gadd9"},
	} {
		kind, err := ParseKind(tc.kind)
		if err != nil {
			t.Fatal(err)
		}
		c, err := NewChord(MustParseName("G"), kind, tc.changes, Name{})
		if err != nil || c.String() != tc.want {
			t.Errorf("%s %v: %s, %v; want %s", tc.kind, tc.changes, c, err, tc.want)
		}
	}
}

func TestNewChordRefuses(t *testing.T) {
	g := MustParseName("G")
	everything := []Degree{{1, 0, OmitDegree}, {3, 0, OmitDegree}, {5, 0, OmitDegree}}
	for what, err := range map[string]error{
		"no root":          second(NewChord(Name{}, KindMajor, nil, Name{})),
		"no such kind":     second(NewChord(g, kindCount, nil, Name{})),
		"degree 0":         second(NewChord(g, KindMajor, []Degree{{0, 0, AddDegree}}, Name{})),
		"degree -9":        second(NewChord(g, KindMajor, []Degree{{-9, 0, AddDegree}}, Name{})),
		"ninth by 5":       second(NewChord(g, KindMajor, []Degree{{9, 5, AddDegree}}, Name{})),
		"altered root":     second(NewChord(g, KindMajor, []Degree{{1, 1, AlterDegree}}, Name{})),
		"everything gone":  second(NewChord(g, KindMajor, everything, Name{})),
		"huge degree":      second(NewChord(g, KindMajor, []Degree{{1 << 40, 9, AddDegree}}, Name{})),
		"no such operator": second(NewChord(g, KindMajor, []Degree{{9, 0, DegreeOp(9)}}, Name{})),
	} {
		if err == nil {
			t.Errorf("%s: accepted", what)
		}
	}
	if c, err := NewChord(Name{}, KindNone, nil, Name{}); err != nil || !c.IsNone() {
		t.Errorf("none needs no root: %s, %v", c, err)
	}
	if c, err := NewChord(g, KindMajor, nil, g); err != nil || c.HasSlash() {
		t.Errorf("the root as bass is no slash: %s, %v", c, err)
	}
}

func second(_ Chord, err error) error { return err }

// TestEndlessInput: a text of a million characters is refused in one short
// sentence.
func TestEndlessInput(t *testing.T) {
	for _, s := range []string{strings.Repeat("(", 1e6), "C" + strings.Repeat("7b9", 1e6), "C/" + strings.Repeat("E/", 1e6), strings.Repeat("\x00", 1e6)} {
		_, err := ParseChord(s)
		if err == nil || len(err.Error()) > 400 {
			t.Errorf("%.10q…: error of %d bytes", s, len(err.Error()))
		}
	}
}
