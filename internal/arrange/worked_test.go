package arrange

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

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

// twelveKeys are the moves from a case's own key to all twelve.
var twelveKeys = []theory.Interval{
	theory.Unison, theory.MinorSecond, theory.MajorSecond, theory.MinorThird, theory.MajorThird, theory.PerfectFourth, theory.AugmentedFourth,
	theory.MinorSecond.Invert(), theory.MajorSecond.Invert(), theory.MinorThird.Invert(), theory.MajorThird.Invert(), theory.PerfectFourth.Invert(),
}

// TestWorkedCasesInTwelveKeys moves every case to the other eleven keys: the
// same blocks must come out, moved.
func TestWorkedCasesInTwelveKeys(t *testing.T) {
	for _, w := range workedCases {
		r := w.realise(t, theory.Unison)
		for _, by := range twelveKeys {
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

// TestAlteredDominantsKeepTheirThird reads every alternative over an altered
// dominant: whichever way it is borrowed, the chord's third is written as one.
func TestAlteredDominantsKeepTheirThird(t *testing.T) {
	for _, borrow := range []project.Borrow{project.BorrowAsNeeded, project.BorrowFreely} {
		c := sketch(t, "C minor", "G7alt@4 Cm6@4", "Eb5@1 Db5@1 Ab4@1 G4@1 C5@4")
		c.Passages[0].Treatment.Borrow = borrow
		r, inner := Realise(c, Options{}), 0
		for step := range 4 {
			for _, a := range r.Alternatives(step) {
				if a.Technique != theory.Borrowed {
					continue
				}
				for _, v := range a.Voices[1:] {
					if v.Name().PC() == 11 {
						inner++
						if v.Name() != theory.MustParseName("B") {
							t.Errorf("borrowing %v, note %d: %s writes the third of G7alt as %v", borrow, step, pitchList(a.Voices), v.Name())
						}
					}
				}
			}
		}
		if inner == 0 {
			t.Errorf("borrowing %v: no alternative has the third under the lead", borrow)
		}
	}
}

// TestWorkedCasesSpelledOut holds every case in every key against the blocks that
// were looked at, note name by note name. ORGANBOOK_WORKED=write writes the file
// anew; read what changed before keeping it.
func TestWorkedCasesSpelledOut(t *testing.T) {
	const file = "testdata/worked.txt"
	var b strings.Builder
	for _, w := range workedCases {
		fmt.Fprintf(&b, "%s\n", w.name)
		for _, by := range twelveKeys {
			r := w.realise(t, by)
			fmt.Fprintf(&b, "  %v\n", r.Chart.Key)
			for _, line := range stepTexts(r) {
				fmt.Fprintf(&b, "    %s\n", line)
			}
		}
	}
	if os.Getenv("ORGANBOOK_WORKED") == "write" {
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	got, lines := strings.Split(b.String(), "\n"), strings.Split(string(want), "\n")
	for i := range min(len(got), len(lines)) {
		if got[i] != lines[i] {
			t.Fatalf("%s:%d: %q, want %q", file, i+1, got[i], lines[i])
		}
	}
	if len(got) != len(lines) {
		t.Errorf("%d lines, want %d", len(got), len(lines))
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
	if got := stepText(&r.Steps[0]); got != "away C5 A4 F#4 Eb4 D7b9/A" {
		t.Errorf("C over Am7b5 played as D7: %s", got)
	}
	if r.Spans[0].Function.String() != "iiø, played as V" || !r.Spans[0].Leading {
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
		if st := r.Steps[0]; st.Technique != theory.Alone || !strings.Contains(st.Reason.String(), c.want) {
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
	if pitchList(list[0].Voices) != "G4 D4 Bb3" || list[0].Remark.String() != "your pin" || list[0].Cost < 0 {
		t.Errorf("first is %+v", list[0])
	}
	if pitchList(list[1].Voices) != "G4 E4 D4 Bb3" {
		t.Errorf("without the pin the note gets %+v", list[1])
	}
	if !strings.HasPrefix(r.Steps[0].Reason.String(), "You pinned these voices") {
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
