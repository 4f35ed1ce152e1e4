package theory

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// told writes services as "Eb minor", "*F major" for a leading one.
func told(list []Service) string {
	var words []string
	for _, s := range list {
		word := strings.TrimSuffix(s.Family.String(), " family")
		if s.Leading {
			word = "*" + word
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}

func TestServe(t *testing.T) {
	for _, tc := range []struct{ chord, want string }{
		{"C", "C major"},
		{"C6", "C major"},
		{"C6/9", "C major"},
		{"Cmaj7", "C major"},
		{"C/E", "C major"},
		{"Cm6", "C minor"},
		{"Cm(maj7)", "C minor"},
		{"Cm", "C minor, Eb major"},
		{"Fm7", "Ab major, F minor"},
		{"Abm7", "Cb major, Ab minor"},
		{"Gm7b5", "Bb minor"},
		{"Cm7b5/Gb", "Eb minor"},
		{"Bb7", "Bb dominant, F minor, *Eb major, *Eb minor, B minor"},
		{"C7b5", "C dominant flat five, C# minor, G minor, *F major, *F minor"},
		{"Csus2", "C major"},
		{"C5", "C major, C minor"},
		{"F#dim7", "*G minor, *G major"},
		{"Abdim7", "*A minor, *A major"},
		{"N.C.", ""},
	} {
		if got := told(Serve(MustParseChord(tc.chord))); got != tc.want {
			t.Errorf("%s: %s\nwant %s", tc.chord, got, tc.want)
		}
	}
	if got := Serve(Chord{}); len(got) != 0 {
		t.Errorf("the zero Chord is served by %s", told(got))
	}
}

// TestServeKeepsTheSymbolsColours looks at the first choice for chords that
// say what they want.
func TestServeKeepsTheSymbolsColours(t *testing.T) {
	for _, tc := range []struct{ chord, first, sound string }{
		{"C9", "G minor", "C9"},
		{"C13", "G minor", "C9"},
		{"C7#11", "C dominant flat five", "C7#11"},
		{"C13#11", "C dominant flat five", "C7#11"},
		{"C7b9", "*F major", "C7b9"},
		{"C13b9", "*F major", "C7b9"},
		{"C7#5", "C# minor", "C7b9#5"},
		{"C9#5", "C dominant flat five", "C7b5"},
		{"C7b9b13", "C# minor", "C7b9#5"},
		{"C7alt", "C# minor", "C7b9#5"},
		{"E7alt", "F minor", "E7b9#5"},
		{"D7alt", "Eb minor", "D7b9#5"},
		{"C7sus4", "Bb major", "C9sus4"},
		{"C13sus4", "Bb major", "C9sus4"},
		{"C7sus4b9", "Bb minor", "C7sus4b9"},
		{"Csus4", "Bb major", "C9sus4"},
		{"Cmaj7#11", "A minor", "C6#11"},
		{"Cmaj7#5", "A minor", "C6b5"},
		{"C(b5)", "A minor", "C6b5"},
		{"Caug", "C# minor", "C7b9#5"},
	} {
		list := Serve(MustParseChord(tc.chord))
		if got := told(list[:1]); got != tc.first || list[0].Sound != tc.sound {
			t.Errorf("%s: %s sounding as %s, want %s as %s", tc.chord, got, list[0].Sound, tc.first, tc.sound)
		}
	}
}

func TestServeToward(t *testing.T) {
	for _, tc := range []struct{ chord, target, want string }{
		{"G7", "C6", "*C major, D minor, Ab minor, G dominant"},
		{"G7", "Cm", "*C minor, D minor, Ab minor, G dominant"},
		{"G7", "Cm7b5", "*C minor, D minor, Ab minor, G dominant"},
		{"Bb7", "Ebmaj7", "*Eb major, F minor, B minor, Bb dominant"},
		{"D7", "G7", "*G major, A minor, Eb minor, D dominant"},
		{"G13", "C", "D minor, G dominant, *C major, Ab minor"},
		{"G7alt", "Cm", "Ab minor, G dominant flat five, *C minor, D minor"},
		{"Db7", "C6", "Ab minor, *C major, D minor, Db dominant"},
		{"Bb7", "C6", "F minor, *C major, B minor, Bb dominant"},
		{"G7sus4", "C", "F major, *C major"},
		{"F#dim7", "Gm6", "*G minor, *G major"},
		{"G#dim7", "Am7", "*A minor, *A major"},
		{"Bdim", "C", "*C major, *C minor"},
		// One family in two spellings is offered once.
		{"Fbbdim", "Fbm", "*Fb minor, *E major"},
		// No dominant of its target: as if alone.
		{"G7", "Dmaj7", "G dominant, D minor, *C major, *C minor, Ab minor"},
		{"Dm7", "G7", "F major, D minor"},
		{"G7", "N.C.", "G dominant, D minor, *C major, *C minor, Ab minor"},
	} {
		c, target := MustParseChord(tc.chord), MustParseChord(tc.target)
		if got := told(ServeToward(c, target)); got != tc.want {
			t.Errorf("%s to %s: %s\nwant %s", tc.chord, tc.target, got, tc.want)
		}
	}
}

func TestServeAtRest(t *testing.T) {
	for _, tc := range []struct{ chord, want string }{
		{"Cm7", "C minor, Eb major"},
		{"Cm", "C minor"},
		{"C7", "C dominant, G minor, C# minor"},
		{"Csus4", "F major, C major"},
	} {
		if got := told(ServeAtRest(MustParseChord(tc.chord))); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.chord, got, tc.want)
		}
	}
}

func TestResolves(t *testing.T) {
	for _, tc := range []struct {
		chord, target string
		want          bool
	}{
		{"G7", "C", true}, {"G7", "Cm", true}, {"Db7", "Cmaj7", true}, {"Bb7", "C", true}, {"G9sus4", "C", true},
		{"Gaug", "C", true}, {"Bdim7", "C", true}, {"Ddim7", "Cm", true}, {"C#dim7", "Dm7", true},
		{"G7", "F", false}, {"G", "C", false}, {"Gm7", "C", false}, {"Cdim7", "C", false}, {"G7", "N.C.", false}, {"N.C.", "C", false},
	} {
		if got := Resolves(MustParseChord(tc.chord), MustParseChord(tc.target)); got != tc.want {
			t.Errorf("%s to %s: %v", tc.chord, tc.target, got)
		}
	}
}

// TestServeEveryChord: every chord that sounds is served; each service names
// itself and no family comes twice.
func TestServeEveryChord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, target := drawChord(t), drawChord(t)
		for _, list := range [][]Service{Serve(c), ServeAtRest(c), ServeToward(c, target)} {
			if (len(list) == 0) != c.IsNone() {
				t.Fatalf("%s has %d services", c, len(list))
			}
			seen := map[Family]bool{}
			for _, s := range list {
				if !s.Family.IsValid() || seen[s.Family] {
					t.Errorf("%s: %s not valid or offered twice", c, s.Family)
				}
				seen[s.Family] = true
				checkService(t, c, s)
			}
		}
	})
}

// checkService checks that the sound is the block over the root, and that the
// sentence is one.
func checkService(t *rapid.T, c Chord, s Service) {
	sound, err := ParseChord(s.Sound)
	if err != nil || sound.Root() != c.Root() {
		t.Errorf("%s: sound %q, %v", c, s.Sound, err)
		return
	}
	if !sound.PCSet().Covers(s.block()) {
		t.Errorf("%s: %s does not hold the block of %s", c, sound, s.Family)
	}
	if text := s.Reason.String(); strings.ContainsAny(text, "{}%") || !strings.HasSuffix(text, ".") {
		t.Errorf("%s: reason %q", c, s.Reason)
	}
}

// TestServeTransposes: moving a chord moves its families.
func TestServeTransposes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, target, i := drawChord(t), drawChord(t), drawInterval(t)
		here, there := ServeToward(c, target), ServeToward(c.Transpose(i), target.Transpose(i))
		if len(here) != len(there) {
			t.Fatalf("%s: %s; moved: %s", c, told(here), told(there))
		}
		for k, s := range here {
			moved := there[k]
			if moved.Leading != s.Leading || moved.Family.Sixth() != s.Family.Sixth() ||
				homePCs(moved.Family) != homePCs(s.Family).Transpose(i.Semitones()) {
				t.Errorf("%s: %s; moved: %s", c, told(here), told(there))
			}
		}
	})
}

// TestDataFileIsTidy: every quality has a row for the symbol alone, and every
// row serves somewhere.
func TestDataFileIsTidy(t *testing.T) {
	alone := map[Quality]bool{}
	for i, row := range serveRows {
		if len(row.on) == 0 || row.where == 0 || row.why == "" {
			t.Errorf("row %d is incomplete: %+v", i, row)
		}
		for _, q := range row.on {
			alone[q] = alone[q] || row.where&unknown != 0 && row.with == 0
		}
	}
	for q := MajorTriad; q <= Power; q++ {
		if !alone[q] {
			t.Errorf("nothing serves a %s alone", q)
		}
	}
}

func BenchmarkServeToward(b *testing.B) {
	c, target := MustParseChord("G7b9"), MustParseChord("Cm6")
	b.ReportAllocs()
	for b.Loop() {
		ServeToward(c, target)
	}
}
