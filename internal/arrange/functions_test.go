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
		{"augmented triad on its way", "C major", "C6@2 Caug@2 F6@4",
			"I|V of IV|IV", "C major|Db minor|F major"},
		{"suspended dominants over their own bass", "C major", "Fmaj7@2 F/G@2 C6@2 Dm7/G@2 Cmaj7@4",
			"IV|Vsus of I|I|Vsus of I|I", "F major|F major|C major|F major|C major"},
		{"backdoor to the third degree", "C major", "Fm7@2 Bb7@2 Em7@2 A7@2 Dm7@2 G7@2 C6@4",
			"iv|backdoor V of I|ii of ii|V of ii|ii of I|V of I|I", "Ab major|F minor|G major|D minor V|F major|C major V|C major"},
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
		{"triads of a major key", "D major", "D@4 Bm@4 Em@2 A@2 D@4",
			"I|vi|ii of I|V of I|I", "D major|D major|G major|E minor|D major"},
		{"minor triads that rest", "Ab major", "C7@4 Fm@4 Eb7@4 Ab@4 Db@2 Dbm@2 Ab@4",
			"V of vi|vi|V of I|I|IV|iv|I", "F minor V|F minor|Ab major V|Ab major|Db major|Db minor|Ab major"},
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
		a = append(a, sp.Function.String())
		text := strings.TrimSuffix(sp.Family.String(), " family")
		if sp.Leading {
			text += " V"
		}
		b = append(b, text)
	}
	return strings.Join(a, "|"), strings.Join(b, "|")
}

// TestTargets names the chord that each kind of chord leads to, "-" for none.
func TestTargets(t *testing.T) {
	for _, c := range []struct{ name, key, changes, targets string }{
		{"major two-five-one", "C major", "Dm7@4 G7@4 Cmaj7@4", "G7|Cmaj7|-"},
		{"minor two-five to major", "C major", "Dm7b5@4 G7@4 Cmaj7@4", "G7|Cmaj7|-"},
		{"chain of two-fives", "C major", "Em7@2 A7@2 Dm7@2 G7@2 C6@4", "A7|Dm7|G7|C6|-"},
		{"secondary dominant", "C major", "C6@4 E7@4 Am7@4 C6@4", "-|Am7|-|-"},
		{"tritone substitute", "C major", "Dm7@4 Db7@4 Cmaj7@4", "Db7|Cmaj7|-"},
		{"backdoor", "C major", "Fm7@4 Bb7@4 Cmaj7@4", "Bb7|Cmaj7|-"},
		{"backdoor to the third degree", "C major", "Bb7@4 Em7@4 C6@4", "C6|-|-"},
		{"deceptive", "C major", "G7@4 Am7@4 C6@4", "C6|-|-"},
		{"turnaround over the tonic in disguise", "G minor", "Em7b5@2 A7@2 D7@2 Gm6@2", "-|D7|Gm6|-"},
		{"blues", "C major", "C7@4 F7@4 C7@4", "-|-|-"},
		{"leading diminished", "C major", "C6@2 C#dim7@2 Dm7@4", "-|Dm7|-"},
		{"passing diminished", "C major", "Em7@2 Ebdim7@2 Dm7@4 C6@4", "-|Dm7|-|-"},
		{"common-tone diminished", "C major", "C6@4 Cdim7@4 C6@4", "-|C6|-"},
		{"suspended over its bass", "C major", "F/G@4 C6@4", "C6|-"},
		{"two-five in another key", "C major", "Cmaj7@4 Fm7@2 Bb7@2 Ebmaj7@8 C6@4", "-|Bb7|Ebmaj7|-|-"},
	} {
		r := Realise(sketch(t, c.key, c.changes, ""), Options{})
		var got []string
		for i := range r.Spans {
			text := r.Spans[i].target()
			if text == "" {
				text = "-"
			}
			got = append(got, text)
		}
		if text := strings.Join(got, "|"); text != c.targets {
			t.Errorf("%s: %s, want %s", c.name, text, c.targets)
		}
	}
}

// TestExplainNamesTargets writes the analysis of a chord where its notes are
// explained.
func TestExplainNamesTargets(t *testing.T) {
	r := Realise(sketch(t, "C major", "Dm7@4 G7@4 Cmaj7@4", "F5@4 D5@4 C5@4"), Options{})
	var b strings.Builder
	lines := Explain(r)
	if err := WriteLines(&b, lines, 100); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"ii of I, to G7", "V of I, to Cmaj7", " I "} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	if lines[1].Target != "Cmaj7" || lines[2].Target != "" {
		t.Errorf("targets %q and %q", lines[1].Target, lines[2].Target)
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
	if got := r.Spans[2].Function.String(); got != "V of I" {
		t.Errorf("the first ending's G7 is %q", got)
	}
	if got := r.Spans[3].Function.String(); got != "V of vi" {
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
	flats := theory.MustParseKey("Gb major")
	for symbol, want := range map[string]string{
		"C#maj7": "V", "F#m7": "i", "B7": "IV", "A#m7": "iii", "Fb7": "bVII", "Db7": "V",
	} {
		if got := roman(theory.MustParseChord(symbol), flats); got != want {
			t.Errorf("%s in G flat major: %s, want %s", symbol, got, want)
		}
	}
}

// TestALineInsideATwoThatPlaysAsFive leaves the line to the bass and comp where the
// two is harmonised as its five: what is heard then is the five.
func TestALineInsideATwoThatPlaysAsFive(t *testing.T) {
	for _, five := range []string{"G7", "G13", "Gb9"} {
		c := sketch(t, "C major", "Dm@4 Dm7@4 "+five+"@4 C6@4", "D5@4 F5@4 E5@4 E5@4")
		if r := Realise(c, Options{}).search.stage.readings[1]; !r.line || !r.asked.Has(0) {
			t.Errorf("before %s: the seventh of Dm7 is not asked for", five)
		}
		c.Passages = []project.Passage{project.DefaultPassage()}
		c.Passages[0].Treatment.TwoFiveAsFive = true
		r := Realise(c, Options{}).search.stage.readings[1]
		if r.heard.String() == five && r.asked != askedOf(r.heard) {
			t.Errorf("%s, played in place of Dm7, asks for %v", five, r.asked)
		}
		if (r.heard.String() == five) == r.line {
			t.Errorf("%v is heard, and the line is %v", r.heard, r.line)
		}
	}
}
