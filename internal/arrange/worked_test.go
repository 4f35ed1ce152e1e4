package arrange

import (
	"fmt"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// workedCase is a line over changes with the blocks an arranger accepts.
type workedCase struct {
	name, key, changes, melody string
	// steps holds "technique voices name" for each note, and "held …" for each
	// later block under a held one.
	steps []string
	// treat changes the passage's treatment.
	treat func(*project.Treatment)
}

var workedCases = []workedCase{
	{"minor two-five-one, borrowed note on the five", "F minor",
		"Gm7b5@4 C7@4 Fm6@4",
		"Bb4@2 Db5@2 Ab4@2 G4@2 F4@4",
		[]string{
			"home Bb4 G4 F4 Db4 Gm7b5",
			"home Db5 Bb4 G4 F4 Gm7b5",
			"borrowed Ab4 E4 Db4 Bb3 C7b9#5",
			"borrowed G4 E4 C4 Bb3 C7",
			"home F4 D4 C4 Ab3 Fm6",
		}, nil},
	{"minor two-five to a major one", "F major",
		"Gm7b5@4 C7@4 Fmaj7@4",
		"Db5@2 Bb4@2 Ab4@1 G4@1 Bb4@2 A4@4",
		[]string{
			"home Db5 Bb4 G4 F4 Gm7b5",
			"home Bb4 G4 F4 Db4 Gm7b5",
			"borrowed Ab4 E4 Db4 Bb3 C7b9#5",
			"borrowed G4 E4 C4 Bb3 C7",
			"away Bb4 G4 E4 Db4 C7b9",
			"home A4 F4 D4 C4 F6",
		}, nil},
	{"major two-five-one", "C major",
		"Dm7@4 G7@4 Cmaj7@4",
		"F5@1 E5@1 D5@1 C5@1 B4@1 D5@1 E5@1 D5@1 C5@4",
		[]string{
			"home F5 D5 C5 A4 Dm7",
			"away E5 Db5 Bb4 G4 C7b9",
			"home D5 C5 A4 F4 Dm7",
			"home C5 A4 F4 D4 Dm7",
			"away B4 Ab4 F4 D4 G7b9",
			"borrowed D5 B4 G4 F4 G7",
			"borrowed E5 B4 Ab4 F4 G13b9",
			"borrowed D5 B4 G4 F4 G7",
			"home C5 A4 G4 E4 C6",
		}, nil},
	{"blues dominant that does not resolve", "C major",
		"C7@4 F7@4",
		"E5@0.5 Eb5@0.5 E5@1 G5@2 Eb5@2 C5@2",
		[]string{
			"home E5 C5 Bb4 G4 C7",
			"approach Eb5 B4 A4 Gb4 B7",
			"home E5 C5 Bb4 G4 C7",
			"home G5 E5 C5 Bb4 C7",
			"home Eb5 C5 A4 F4 F7",
			"home C5 A4 F4 Eb4 F7",
		}, nil},
	{"tritone substitute", "C major",
		"Dm7@4 Db7@4 Cmaj7@4",
		"F5@2 D5@2 Eb5@2 Cb5@2 G4@4",
		[]string{
			"home F5 D5 C5 A4 Dm7",
			"home D5 C5 A4 F4 Dm7",
			"home Eb5 Cb5 Ab4 F4 Db9",
			"home Cb5 Ab4 F4 Eb4 Db9",
			"home G4 E4 C4 A3 C6",
		}, nil},
	{"turnaround over the tonic in disguise", "G minor",
		"Gm6@4 Em7b5@2 A7@2 D7@4 Gm6@4",
		"D5@4 Bb4@2 C#5@2 C5@2 Bb4@2 G4@4",
		[]string{
			"home D5 Bb4 G4 E4 Gm6",
			"home Bb4 G4 E4 D4 Em7b5",
			"away C#5 Bb4 G4 E4 A7b9",
			"away C5 A4 F#4 Eb4 D7b9",
			"borrowed Bb4 F#4 Eb4 C4 D7b9#5",
			"home G4 E4 D4 Bb3 Gm6",
		}, nil},
	{"chromatic run into a target", "G minor",
		"Gm6@8",
		"G5@0.5 F#5@0.5 F5@0.5 E5@0.5 Eb5@0.5 D5@1.5 D5@4",
		[]string{
			"home G5 E5 D5 Bb4 Gm6",
			"away F#5 Eb5 C5 A4 D7b9",
			"approach F5 Eb5 B4 Ab4 Abm6",
			"home E5 D5 Bb4 G4 Gm6",
			"away Eb5 C5 A4 F#4 D7b9",
			"home D5 Bb4 G4 E4 Gm6",
			"home D5 Bb4 G4 E4 Gm6",
		}, nil},
	{"resting away notes", "C major",
		"Cmaj7@8",
		"B4@4 D5@4",
		[]string{
			"borrowed B4 G4 E4 C4 Cmaj7",
			"borrowed D5 A4 G4 E4 C6/9",
		}, nil},
	{"anticipation over the bar line", "C minor",
		"Dm7b5@2 G7@2 Cm6@4",
		"Ab4@1 F5@1 D5@1 B4@0.5 Eb5@2.5 C5@2",
		[]string{
			"home Ab4 F4 D4 C4 Dm7b5",
			"home F5 D5 C5 Ab4 Dm7b5",
			"away D5 B4 Ab4 F4 G7b9",
			"away B4 Ab4 F4 D4 G7b9",
			"home Eb5 C5 A4 G4 Cm6",
			"home C5 A4 G4 Eb4 Cm6",
		}, nil},
	{"held note with inner movement", "C minor",
		"Cm6@4 Dm7b5@2 G7@2 Cm6@4",
		"G5@4 F5@4 Eb5@4",
		[]string{
			"home G5 Eb5 C5 A4 Cm6",
			"held borrowed G5 F5 D5 B4 G7",
			"held home G5 Eb5 C5 A4 Cm6",
			"home F5 D5 C5 Ab4 Dm7b5",
			"held away F5 D5 B4 Ab4 G7b9",
			"home Eb5 C5 A4 G4 Cm6",
			"held borrowed Eb5 B4 Ab4 F4 G7b9#5",
			"held home Eb5 C5 A4 G4 Cm6",
		}, func(t *project.Treatment) { t.MoveInner = true }},
	{"held note under a two-five", "C major",
		"Dm7@2 G7@2 Cmaj7@4",
		"A4@4 G4@4",
		[]string{
			"home A4 F4 D4 C4 Dm7",
			"held borrowed A4 F4 D4 B3 G9",
			"home G4 E4 C4 A3 C6",
		}, nil},
	{"blue notes over dominants", "C major",
		"C7@4 F7@4 C7@4",
		"Eb5@2 C5@2 A4@1 C5@1 Eb5@2 Gb5@1.5 F5@0.5 Eb5@1 C5@1",
		[]string{
			"diatonic Eb5 Bb4 A4 E4 C13#9",
			"home C5 Bb4 G4 E4 C7",
			"home A4 F4 Eb4 C4 F7",
			"home C5 A4 F4 Eb4 F7",
			"home Eb5 C5 A4 F4 F7",
			"diatonic Gb5 E5 Bb4 A4 C13#11",
			"away F5 D5 B4 Ab4 G7b9",
			"diatonic Eb5 Bb4 A4 E4 C13#9",
			"home C5 Bb4 G4 E4 C7",
		}, nil},
	{"enclosure", "C major",
		"Cmaj7@4",
		"G5@1 Db5@0.5 B4@0.5 C5@2",
		[]string{
			"home G5 E5 C5 A4 C6",
			"approach Db5 Bb4 G4 E4 Edim7",
			"away B4 Ab4 F4 D4 G7b9",
			"home C5 A4 G4 E4 C6",
		}, nil},
	{"dominants with natural nines", "C major",
		"Dm7@4 G7@4 Cmaj7@4",
		"F5@2 D5@2 B4@1 D5@1 F5@1 D5@1 C5@4",
		[]string{
			"home F5 D5 C5 A4 Dm7",
			"home D5 C5 A4 F4 Dm7",
			"home B4 A4 F4 D4 G9",
			"home D5 B4 A4 F4 G9",
			"home F5 D5 B4 A4 G9",
			"home D5 B4 A4 F4 G9",
			"home C5 A4 G4 E4 C6",
		}, func(t *project.Treatment) { t.Dominants = project.DominantsNaturalNine }},
	{"altered dominants", "C major",
		"Dm7@4 G7@4 Cmaj7@4",
		"D5@4 Ab4@1 B4@1 Eb5@1 F5@1 E5@4",
		[]string{
			"home D5 C5 A4 F4 Dm7",
			"home Ab4 F4 Eb4 B3 G7b9#5",
			"home B4 Ab4 F4 Eb4 G7b9#5",
			"home Eb5 B4 Ab4 F4 G7b9#5",
			"home F5 Eb5 B4 Ab4 G7b9#5",
			"home E5 C5 A4 G4 C6",
		}, func(t *project.Treatment) { t.Dominants = project.DominantsAltered }},
	{"the symbol's own alterations win", "C major",
		"G13@4 Cmaj7@4",
		"E5@1 D5@1 B4@2 G4@4",
		[]string{
			"borrowed E5 B4 A4 F4 G13",
			"home D5 B4 A4 F4 G9",
			"home B4 A4 F4 D4 G9",
			"home G4 E4 C4 A3 C6",
		}, func(t *project.Treatment) { t.Dominants = project.DominantsAltered }},
	{"the voicing opens at the climax", "C major",
		"C6@4 F6@4 C6@4",
		"G4@1 A4@1 C5@1 D5@1 E5@1 A5@2 G5@1 E5@1 C5@3",
		[]string{
			"home G4 E4 C4 A3 C6",
			"home A4 G4 E4 C4 C6",
			"home C5 A4 G4 E4 C6",
			"away D5 B4 Ab4 F4 G7b9",
			"away E5 Db5 Bb4 G4 C7b9",
			"home A5 D5 C5 F4 F6",
			"borrowed G5 D5 C5 A4 F6/9",
			"home E5 C5 A4 G4 C6",
			"home C5 A4 G4 E4 C6",
		}, func(t *project.Treatment) { t.OpenAtClimax = true }},
	{"repeated notes alternate", "C major",
		"C6@4 G7@4 C6@4",
		"E5@1 E5@0.5 E5@0.5 E5@1 E5@1 D5@1 D5@1 D5@2 C5@4",
		[]string{
			"home E5 C5 A4 G4 C6",
			"home E5 C5 A4 G4 C6",
			"borrowed E5 B4 Ab4 F4 G13b9",
			"home E5 C5 A4 G4 C6",
			"home E5 C5 A4 G4 C6",
			"away D5 B4 Ab4 F4 G7b9",
			"borrowed D5 B4 G4 F4 G7",
			"away D5 B4 Ab4 F4 G7b9",
			"home C5 A4 G4 E4 C6",
		}, func(t *project.Treatment) { t.AlternateRepeats = true }},
}

func (w *workedCase) realise(t *testing.T, by theory.Interval) *Realisation {
	t.Helper()
	c, err := sketch(t, w.key, w.changes, w.melody).Transpose(by)
	if err != nil {
		t.Fatal(err)
	}
	if w.treat != nil {
		w.treat(&c.Passages[0].Treatment)
	}
	return Realise(c, Options{})
}

// stepTexts writes every block of a realisation, later ones of held notes
// included.
func stepTexts(r *Realisation) (out []string) {
	for i := range r.Steps {
		out = append(out, stepText(&r.Steps[i]))
		for _, m := range r.Steps[i].Moves {
			out = append(out, fmt.Sprintf("held %v %s %s", m.Technique, pitchList(m.Voices), m.Name))
		}
	}
	return out
}

func stepText(st *Step) string {
	return fmt.Sprintf("%v %s %s", st.Technique, pitchList(st.Voices), st.Name)
}

func TestWorkedCases(t *testing.T) {
	for _, w := range workedCases {
		t.Run(w.name, func(t *testing.T) {
			r := w.realise(t, theory.Unison)
			got := stepTexts(r)
			if len(got) != len(w.steps) {
				t.Fatalf("%d blocks, want %d:\n%s", len(got), len(w.steps), strings.Join(got, "\n"))
			}
			for i := range w.steps {
				if got[i] != w.steps[i] {
					t.Errorf("block %d: %s\n\twant %s", i, got[i], w.steps[i])
				}
			}
		})
	}
}

// TestWorkedCasesInTwelveKeys moves every case to the other eleven keys: the
// same blocks must come out, moved.
func TestWorkedCasesInTwelveKeys(t *testing.T) {
	moves := []theory.Interval{
		theory.MinorSecond, theory.MajorSecond, theory.MinorThird, theory.MajorThird, theory.PerfectFourth, theory.AugmentedFourth,
		theory.MinorSecond.Invert(), theory.MajorSecond.Invert(), theory.MinorThird.Invert(), theory.MajorThird.Invert(), theory.PerfectFourth.Invert(),
	}
	for _, w := range workedCases {
		r := w.realise(t, theory.Unison)
		for _, by := range moves {
			moved := w.realise(t, by)
			for i := range r.Steps {
				want, got := keyText(r.Steps[i].Voices, by.Semitones()), keyText(moved.Steps[i].Voices, 0)
				if got != want {
					t.Errorf("%s, moved by %v: note %d is %s, want keys %s", w.name, by, i, pitchList(moved.Steps[i].Voices), want)
				}
			}
		}
	}
}

func keyText(voices []theory.Pitch, shift int) string {
	var b strings.Builder
	for _, v := range voices {
		fmt.Fprint(&b, v.Key()+shift, " ")
	}
	return b.String()
}

// TestRunSlides checks the chromatic run note by note: F# passes on the away
// chord, F slides, and every block under the run moves.
func TestChromaticRunMoves(t *testing.T) {
	c := sketch(t, "G minor", "Gm6@8", "G5@0.5 F#5@0.5 F5@0.5 E5@0.5 Eb5@0.5 D5@1.5 D5@4")
	r := Realise(c, Options{})
	if r.Steps[2].Technique != theory.Approach {
		t.Errorf("F natural over Gm6 is %s", stepText(&r.Steps[2]))
	}
	for i := 1; i < 6; i++ {
		a, b := r.Steps[i-1].Voices, r.Steps[i].Voices
		if keyText(a[1:], 0) == keyText(b[1:], 0) {
			t.Errorf("the voices stand still from %v to %v", a, b)
		}
	}
}

func TestTwoFivePlayedAsFive(t *testing.T) {
	c := sketch(t, "G minor", "Am7b5@4 D7@4 Gm6@8", "C5@2 A4@2 Eb5@4 D5@8")
	c.Passages[0].Treatment.TwoFiveAsFive = true
	r := Realise(c, Options{})
	if got := stepText(&r.Steps[0]); got != "away C5 A4 F#4 Eb4 D7b9" {
		t.Errorf("C over Am7b5 played as D7: %s", got)
	}
	if r.Spans[0].Function != "iiø, played as V" || !r.Spans[0].Leading {
		t.Errorf("the span reads %q", r.Spans[0].Function)
	}
	for _, n := range r.Notes {
		if n.Layer == LayerBass && n.Start == 0 && n.Pitch.Name().String() != "A" {
			t.Errorf("the bass plays %v under the two", n.Pitch)
		}
	}
}

func TestLeadOctave(t *testing.T) {
	c := sketch(t, "G minor", "Gm6@4", "G4@4")
	c.Passages[0].Treatment.LeadOctave = 1
	if got := stepText(&Realise(c, Options{}).Steps[0]); got != "home G5 E5 D5 Bb4 Gm6" {
		t.Errorf("G an octave up: %s", got)
	}
}

func TestThinning(t *testing.T) {
	for _, c := range []struct{ lead, chord, want string }{
		{"C3@4", "C6@4", "is too low for a block"},
		{"C7@4", "C6@4", "is above the range"},
		{"C5@4", "N.C.@4", "No chord is in force"},
	} {
		r := Realise(sketch(t, "C major", c.chord, c.lead), Options{})
		if st := r.Steps[0]; st.Technique != theory.Alone || !strings.Contains(st.Reason, c.want) {
			t.Errorf("%s over %s: %s (%s)", c.lead, c.chord, stepText(&st), st.Reason)
		}
	}
}

func TestWithoutChords(t *testing.T) {
	r := Realise(sketch(t, "C major", "", "C5@1 D5@1"), Options{})
	if len(r.Spans) != 1 || r.Spans[0].Chord.IsValid() || r.Steps[1].Technique != theory.Alone {
		t.Errorf("a chart without chords: %+v", r.Steps[1])
	}
	if len(Realise(project.New(), Options{}).Steps) != 0 {
		t.Error("steps without a melody")
	}
}

// TestWeirdCharts realises charts that Check would refuse; nothing may panic.
func TestWeirdCharts(t *testing.T) {
	c := sketch(t, "C major", "C6@4", "C5@4")
	for name, change := range map[string]func(*project.Chart){
		"no bars":           func(c *project.Chart) { c.Bars = nil },
		"no passages":       func(c *project.Chart) { c.Passages = nil },
		"no key":            func(c *project.Chart) { c.Key = theory.Key{} },
		"no such console":   func(c *project.Chart) { c.Console = "spinet" },
		"nothing but N.C.":  func(c *project.Chart) { c.Changes[0].Chord = theory.NoChord() },
		"chord out of time": func(c *project.Chart) { c.Changes[0].Start = 1 << 40 },
	} {
		t.Run(name, func(t *testing.T) {
			d := *c
			d.Changes = append([]project.Change(nil), c.Changes...)
			change(&d)
			r := Realise(&d, Options{})
			for i := range r.Steps {
				if len(r.Alternatives(i)) == 0 || len(r.Steps[i].Voices) == 0 {
					t.Errorf("step %d has nothing", i)
				}
			}
		})
	}
}

// TestPinAmongAlternatives lists a pin first, and what the note would get
// without it after.
func TestPinAmongAlternatives(t *testing.T) {
	c := sketch(t, "G minor", "Gm6@4", "G4@2 A4@2")
	pin := []theory.Pitch{theory.MustParsePitch("G4"), theory.MustParsePitch("D4"), theory.MustParsePitch("Bb3")}
	c.Pins = []project.Pin{{Start: 0, Voicing: theory.Close, Voices: pin}}
	r := Realise(c, Options{})
	list := r.Alternatives(0)
	if pitchList(list[0].Voices) != "G4 D4 Bb3" || list[0].Remark != "your pin" || list[0].Cost < 0 {
		t.Errorf("first is %+v", list[0])
	}
	if pitchList(list[1].Voices) != "G4 E4 D4 Bb3" {
		t.Errorf("without the pin the note gets %+v", list[1])
	}
	if !strings.HasPrefix(r.Steps[0].Reason, "You pinned these voices") {
		t.Errorf("the pin's reason: %s", r.Steps[0].Reason)
	}
}

// TestPinIsRecognised names a pinned block by what it is.
func TestPinIsRecognised(t *testing.T) {
	c := sketch(t, "G minor", "Gm6@4", "G4@2 A4@2")
	drop2 := []theory.Pitch{theory.MustParsePitch("G4"), theory.MustParsePitch("D4"), theory.MustParsePitch("Bb3"), theory.MustParsePitch("E3")}
	c.Pins = []project.Pin{{Start: 0, Voicing: theory.Drop2, Voices: drop2}}
	st := Realise(c, Options{}).Steps[0]
	if st.Technique != theory.Home || st.Voicing != theory.Drop2 || !st.Pinned || st.Name != "Gm6" {
		t.Errorf("a pinned Gm6 in drop 2 is %s (%s)", stepText(&st), st.Reason)
	}
}
