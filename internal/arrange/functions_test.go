package arrange

import (
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

func TestFunctions(t *testing.T) {
	for _, c := range []struct{ name, key, changes, functions, families string }{
		{"major two-five-one", "C major", "Dm7@4 G7@4 Cmaj7@4",
			"ii of I|V of I|I", "F major|C major V|C major"},
		{"minor two-five-one", "G minor", "Am7b5@4 D7@4 Gm6@4",
			"iiø of i|V of i|i", "C minor|G minor V|G minor"},
		{"minor two-five to major", "C major", "Dm7b5@4 G7@4 Cmaj7@4",
			"iiø of I|V of I|I", "F minor|C major V|C major"},
		{"major two-five to minor", "A minor", "Bm7@4 E7@4 Am6@4",
			"ii of i|V of i|i", "D major|A minor V|A minor"},
		{"turnaround", "C major", "Cmaj7@2 A7@2 Dm7@2 G7@2",
			"I|V of ii|ii of I|V of I", "C major|D minor V|F major|C major V"},
		{"chain of dominants", "C major", "E7@2 A7@2 D7@2 G7@2 C6@4",
			"V of VI|V of II|V of V|V of I|I", "A major V|D major V|G major V|C major V|C major"},
		{"tritone substitute", "C major", "Dm7@4 Db7@4 Cmaj7@4",
			"ii of I|tritone sub of V of I|I", "F major|Ab minor|C major"},
		{"backdoor", "C major", "Fm7@4 Bb7@4 Cmaj7@4",
			"iv|backdoor V of I|I", "Ab major|F minor|C major"},
		{"blues", "C major", "C7@4 F7@4 C7@4 G7@4 F7@4 C7@4",
			"I7|IV7|I7|V7|IV7|I7", "C dominant|F dominant|C dominant|G dominant|F dominant|C dominant"},
		{"two between dominant and goal", "G minor", "Eb7@4 Am7b5@2 D7@2 Gm6@4",
			"tritone sub of V of V|iiø of i|V of i|i", "Bb minor|C minor|G minor V|G minor"},
		{"five before its own two", "C minor", "G7@4 Dm7b5@2 G7@2 Cm6@4",
			"V of i|iiø of i|V of i|i", "C minor V|F minor|C minor V|C minor"},
		{"blues with a two-five to its fourth", "F major", "F7@4 Bb7@4 F7@4 Cm7@2 F7@2 Bb7@4 F7@4",
			"I7|IV7|I7|ii of IV|V of IV|IV7|I7", "F dominant|Bb dominant|F dominant|Eb major|Bb major V|Bb dominant|F dominant"},
		{"a chord that moves inside", "F major", "Gm@1 Gm(maj7)@1 Gm7@2 C7@4 F6@4",
			"ii of I|ii|ii of I|V of I|I", "G minor|G minor|Bb major|F major V|F major"},
		{"minor that turns dominant", "C major", "Am7@2 A7@2 Dm7@2 G7@2 C6@4",
			"vi|V of ii|ii of I|V of I|I", "C major|D minor V|F major|C major V|C major"},
		{"dominant before no chord", "A minor", "E7@4 N.C.@4",
			"V of i|", "A minor V|"},
		{"deceptive dominant", "C major", "G7@4 Am7@4",
			"V of I|vi", "C major V|C major"},
		{"restated dominant", "C major", "G7@2 G7b9@2 Cmaj7@4",
			"V of I|V of I|I", "C major V|C major V|C major"},
		{"tonic in disguise", "G minor", "Gm6@2 Em7b5@2 A7@2 D7@2",
			"i|viø, as i|V of V|V of i", "G minor|G minor|D major V|G minor V"},
		{"dominant that turns minor", "F major", "Bb7@4 Bbm7@2 Eb7@2 F6@4",
			"IV7|iv|backdoor V of I|I", "Bb dominant|Db major|Bb minor|F major"},
		{"leading diminished", "C major", "C6@2 C#dim7@2 Dm7@2 G7@2",
			"I|vii° of ii|ii of I|V of I", "C major|D minor V|F major|C major V"},
		{"minor tonic seventh", "C minor", "Cm7@4 Ab6@4",
			"i|bVI", "C minor|Ab major"},
		{"plain triads", "A minor", "Dm@4 E@4 Am@4",
			"iv|V of i|i", "D minor|A minor V|A minor"},
		{"no chord", "C major", "C6@4 N.C.@4", "I|", "C major|"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := Realise(sketch(t, c.key, c.changes, ""), Options{})
			functions, families := spanTexts(r.Spans)
			if functions != c.functions {
				t.Errorf("functions %q, want %q", functions, c.functions)
			}
			if families != c.families {
				t.Errorf("families %q, want %q", families, c.families)
			}
		})
	}
}

// spanTexts writes the functions and families of spans between bars, with a V
// behind a family whose dominant the chord is.
func spanTexts(spans []Span) (functions, families string) {
	var a, b []string
	for _, sp := range spans {
		a = append(a, sp.Function)
		text := strings.TrimSuffix(sp.Family.String(), " family")
		if sp.Leading {
			text += " V"
		}
		b = append(b, text)
	}
	return strings.Join(a, "|"), strings.Join(b, "|")
}

func TestTargets(t *testing.T) {
	r := Realise(sketch(t, "C major", "Dm7@4 G7@4 Cmaj7@4", ""), Options{})
	for i, want := range []string{"G7", "Cmaj7", ""} {
		if got := r.Spans[i].Target; got.IsValid() != (want != "") || got.IsValid() && got.String() != want {
			t.Errorf("span %d leads to %v, want %q", i, got, want)
		}
	}
}

// TestRepeatGoesBack reads the last chord of a first ending by the chord at
// the repeat sign, not by the second ending's.
func TestRepeatGoesBack(t *testing.T) {
	c := sketch(t, "C major", "Cmaj7@4 Dm7@4 G7@4 E7@4 Am7@4", "")
	c.Bars[0].RepeatStart, c.Bars[2].RepeatEnd = true, true
	c.Bars[2].Ending, c.Bars[2].EndingStart = []int{1}, true
	c.Bars[3].Ending, c.Bars[3].EndingStart = []int{2}, true
	r := Realise(c, Options{})
	if got := r.Spans[2].Function; got != "V of I" {
		t.Errorf("the first ending's G7 is %q", got)
	}
	if got := r.Spans[3].Function; got != "V of vi" {
		t.Errorf("the second ending's E7 is %q", got)
	}
}

func TestUpbeatTakesTheFirstChord(t *testing.T) {
	c := sketch(t, "C major", "C6@4", "G4@2 A4@2 C5@4")
	c.Changes[0].Start = project.Whole
	c.Bars = append(c.Bars, project.NewBar(project.CommonTime))
	r := Realise(c, Options{})
	if len(r.Spans) != 2 || r.Steps[0].Chord != c.Changes[0].Chord {
		t.Fatalf("the upbeat: %+v", r.Spans)
	}
	for _, n := range r.Notes {
		if n.Layer == LayerBass && n.Start < project.Whole {
			t.Errorf("the bass plays before the first chord: %+v", n)
		}
	}
}

func TestRoman(t *testing.T) {
	key := theory.MustParseKey("A minor")
	for symbol, want := range map[string]string{
		"Am6": "i", "C6": "bIII", "F7": "bVI", "E7": "V", "D#dim7": "#iv°", "Bm7b5": "iiø", "Gaug": "bVII+", "Bb6": "bII",
	} {
		if got := roman(theory.MustParseChord(symbol), key); got != want {
			t.Errorf("%s in A minor: %s, want %s", symbol, got, want)
		}
	}
}
