package project_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

func TestNewIsSound(t *testing.T) {
	c := project.New()
	if err := c.Check(); err != nil || len(c.Bars) != 8 || c.Length() != 32*q {
		t.Errorf("a new chart: %v, %d bars", err, len(c.Bars))
	}
	if err := tune().Check(); err != nil {
		t.Error(err)
	}
}

// Each rule, broken alone, is reported at its place.
func TestCheck(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spoil func(*project.Chart)
		want  string
	}{
		{"title lines", func(c *project.Chart) { c.Title = "a\nb" }, "title: the text has a line break"},
		{"title UTF-8", func(c *project.Chart) { c.Title = "a\xff" }, "title: the text is not valid UTF-8"},
		{"composer length", func(c *project.Chart) { c.Composer = strings.Repeat("é", 301) }, "composer: the text is longer than 300"},
		{"no key", func(c *project.Chart) { c.Key = theory.Key{} }, "key: there is no key"},
		{"signature", func(c *project.Chart) { c.Key = theory.MustParseKey("Fb major") }, "key: Fb major has no key signature"},
		{"tempo", func(c *project.Chart) { c.Tempo = math.NaN() }, "tempo: NaN is outside 20 to 400"},
		{"swing", func(c *project.Chart) { c.Swing = 0.49 }, "swing: 0.49 is outside 0.5 to 0.8"},
		{"console", func(c *project.Chart) { c.Console = "" }, `console: "" is not a known console`},
		{"no bars", func(c *project.Chart) { c.Bars = nil }, "bars: a chart has at least one bar"},
		{"too many bars", func(c *project.Chart) { c.Bars = slices.Repeat(c.Bars[:1], 10_001) }, "bars: 10001 bars are more than 10000"},
		{"meter", func(c *project.Chart) { c.Bars[2].Meter.Unit = 3 }, "bar 3 of 8: the meter 4/3 cannot be printed"},
		{"length", func(c *project.Chart) { c.Bars[2].Length = 0 }, "bar 3 of 8: a length of 0 ticks"},
		{"bar key", func(c *project.Chart) { c.Bars[2].Key = theory.MustParseKey("G# major") }, "bar 3 of 8: G# major has no key signature"},
		{"bar tempo", func(c *project.Chart) { c.Bars[2].Tempo = 500 }, "bar 3 of 8: tempo 500 is outside"},
		{"section", func(c *project.Chart) { c.Bars[2].Section = "\t" }, "bar 3 of 8: the text has"},
		{"times", func(c *project.Chart) { c.Bars[2].RepeatEnd, c.Bars[2].Times = true, 100 }, "bar 3 of 8: a repeat played 100 times"},
		{"times without repeat", func(c *project.Chart) { c.Bars[2].Times = 2 }, "bar 3 of 8: a number of times needs"},
		{"jump", func(c *project.Chart) { c.Bars[2].Jump = 7 }, "bar 3 of 8: there is no jump 7"},
		{"ending order", func(c *project.Chart) { c.Bars[2].Ending, c.Bars[2].EndingStart = []int{2, 1}, true }, "bar 3 of 8: ending numbers [2 1]"},
		{"ending without start", func(c *project.Chart) { c.Bars[2].Ending = []int{1} }, "3.1: ending [1] has no start"},
		{"start without ending", func(c *project.Chart) { c.Bars[2].EndingStart = true }, "3.1: an ending starts without a number"},
		{"invalid chord", func(c *project.Chart) { c.Changes[1].Chord = theory.Chord{} }, "2.1: a chord symbol says nothing"},
		{"chord twice", func(c *project.Chart) { c.Changes[1].Start = 0 }, "1.1: chord Dm7 does not come after"},
		{"chord outside", func(c *project.Chart) { c.Changes[3].Start = 32 * q }, "8.5: chord C6 at tick 322560 lies outside"},
		{"too many chords", func(c *project.Chart) { c.Changes = make([]project.Change, 100_001) }, "changes: 100001 chord symbols"},
		{"no pitch", func(c *project.Chart) { c.Melody[3].Pitch = theory.Pitch{} }, "3.1: a note has no pitch"},
		{"no duration", func(c *project.Chart) { c.Melody[3].Duration = 0 }, "3.1: note F#5 lasts 0 ticks"},
		{"endless note", func(c *project.Chart) { c.Melody[3].Duration = math.MaxInt64 }, "3.1: note F#5 lasts"},
		{"overlap", func(c *project.Chart) { c.Melody[0].Duration++ }, "1.2: note D5 starts before the note before it ends"},
		{"order", func(c *project.Chart) { c.Melody[1].Start = 0 }, "1.1: note D5 does not come after"},
		{"note leaves", func(c *project.Chart) { c.Melody[3].Start = 31 * q }, "8.4: note F#5 reaches past the last bar"},
		{"note outside", func(c *project.Chart) { c.Melody[0].Start = math.MinInt64 }, "note C5 at tick -9223372036854775808 lies outside"},
		{"too many notes", func(c *project.Chart) { c.Melody = make([]project.Note, 200_001) }, "melody: 200001 notes"},
		{"no passages", func(c *project.Chart) { c.Passages = nil }, "passages: the first passage starts"},
		{"first passage", func(c *project.Chart) { c.Passages[0].First = 1 }, "passages: the first passage starts"},
		{"passage order", func(c *project.Chart) { c.Passages[1].First = 0 }, "passage 2: it starts at bar index 0"},
		{"passage outside", func(c *project.Chart) { c.Passages[1].First = 8 }, "passage 2: it starts at bar index 8"},
		{"pedal drawbar", func(c *project.Chart) { c.Passages[1].Registration.Pedal[1] = 9 }, "passage 2: a pedal drawbar"},
		{"rotary", func(c *project.Chart) { c.Passages[1].Registration.Rotary = 9 }, "passage 2: there is no rotary speed 9"},
		{"swell", func(c *project.Chart) { c.Passages[1].Registration.Swell = math.NaN() }, "passage 2: swell NaN"},
		{"pin without note", func(c *project.Chart) { c.Pins[0].Start++ }, "a pin has no note"},
		{"pin twice", func(c *project.Chart) { c.Pins = append(c.Pins, c.Pins[0]) }, "1.2: pin D5 B4 Ab4 F4 does not come after"},
		{"pin for another note", func(c *project.Chart) { c.Melody[1].Pitch = c.Melody[0].Pitch }, "1.2: a pin for D5 stands on a note C5"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := tune()
			c.Bars = slices.Clone(c.Bars)
			tt.spoil(c)
			err := c.Check()
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v\n want %s", err, tt.want)
			}
		})
	}
}

func TestCheckCollectsProblems(t *testing.T) {
	c := tune()
	c.Title = "\n"
	for i := range c.Melody {
		c.Melody[i].Pitch = theory.Pitch{}
	}
	for i := range c.Changes {
		c.Changes[i].Chord = theory.Chord{}
	}
	err := c.Check()
	var all project.Problems
	var one project.Problem
	if !errors.As(err, &all) || len(all) != 9 || !errors.As(err, &one) || one.Where != "title" {
		t.Fatalf("problems %v", err)
	}
	if !strings.HasSuffix(err.Error(), "; and 4 more") {
		t.Errorf("text %q", err)
	}
}

func TestOneLine(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"", ""}, {" a \r\n b\t", "a b"}, {"a\xffb\x00c", "abc"}, {"ééééé éé", "ééééé"}, {"\u2028x\u2029", "x"},
	} {
		if got := project.OneLine(tt.in, 6); got != tt.want {
			t.Errorf("OneLine(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

func TestConsoles(t *testing.T) {
	for id, want := range map[string][3]int{"full": {61, 61, 25}, "short": {44, 44, 13}, "concert": {61, 61, 32}, "single": {46, 27, 0}} {
		k, ok := project.ConsoleByID(id)
		if got := [3]int{k.Upper.Keys(), k.Lower.Keys(), k.Pedal.Keys()}; !ok || got != want {
			t.Errorf("%s has %v keys, want %v", id, got, want)
		}
	}
	k, _ := project.ConsoleByID("short")
	if k.Upper.Has(52) || !k.Upper.Has(53) || !k.Pedal.Has(48) || k.Pedal.Has(49) {
		t.Error("the short console's compass is off")
	}
}

func TestRegistrations(t *testing.T) {
	seen := map[string]bool{}
	for i, r := range project.Registrations() {
		c := project.New()
		c.Passages[0].Registration = r
		if err := c.Check(); err != nil || r.Name == "" || seen[r.Name] {
			t.Errorf("registration %d %q: %v", i, r.Name, err)
		}
		seen[r.Name] = true
		if got, ok := project.RegistrationByName(r.Name); !ok || got != r {
			t.Errorf("%q is not found by its name", r.Name)
		}
	}
	if _, ok := project.RegistrationByName("nobody"); ok {
		t.Error("an unknown registration was found")
	}
}

func TestWords(t *testing.T) {
	for _, p := range project.HandPlans {
		if got, err := project.ParseHandPlan(p.String()); err != nil || got != p {
			t.Errorf("%v: %v, %v", p, got, err)
		}
	}
	if _, err := project.ParseJump("da capo al nowhere"); err == nil {
		t.Error("an unknown jump was read")
	}
}
