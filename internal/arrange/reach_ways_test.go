package arrange

import (
	"fmt"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// failing is one way in which a passage cannot be played, and the finding that
// has to say so.
type failing struct {
	name, changes, melody string
	pin                   string
	passage               project.Passage
	want                  string
}

// withVoicing returns a passage without bass.
func withVoicing(plan project.HandPlan, v theory.Voicing) project.Passage {
	p := project.DefaultPassage()
	p.Plan, p.Treatment.Voicing, p.Bass = plan, v, project.BassNone
	return p
}

// failings are ten ways; each fills a bar, with a bar of rest behind it.
func failings() []failing {
	full := withVoicing(project.Shout, theory.Close)
	full.Treatment.FullRuns = true
	feet := withVoicing(project.SoloOverComp, theory.UnisonVoicing)
	feet.Bass = project.BassRoots
	switched := withVoicing(project.TwoHandBlock, theory.Close)
	switched.Registration.Upper[0], switched.Registration.Name = 1, "thin reeds"
	return []failing{
		{"a twelfth for one hand", "C6@4", "G5@4", "G5 E5 C5 C4", withVoicing(project.SoloOverComp, theory.Close),
			"right hand stretch"},
		{"six keys for one hand", "Cmaj7@4", "C5@4", "C5 B4 A4 G4 E4 C4", withVoicing(project.SoloOverComp, theory.Close),
			"right hand too many keys"},
		{"two pairs of neighbours an octave apart", "C@4", "C5@4", "C5 B4 C#4 C4", withVoicing(project.SoloOverComp, theory.Close),
			"right hand shape"},
		{"leaps of two octaves", "C6@4", "C4@0.25 C6@0.25 C4@0.25 C6@0.25", "", withVoicing(project.SoloOverComp, theory.UnisonVoicing),
			"right hand speed"},
		{"a nineteenth for the left hand", "C6@4", "C5@4", "C5 G4 E4 A2", withVoicing(project.TwoHandBlock, theory.Close),
			"left hand stretch"},
		{"above the manual", "C6@4", "E7@4", "", withVoicing(project.SoloOverComp, theory.UnisonVoicing),
			"right hand compass"},
		{"below the manual", "C6@4", "G1@4", "", withVoicing(project.SoloOverComp, theory.UnisonVoicing),
			"right hand compass"},
		{"one foot on far pedals", "C@0.5 F#@0.5 C@0.5 F#@0.5 C@2", "C5@4", "", feet,
			"left foot speed"},
		{"blocks that leap in sixteenths", "C6@4", "C5@0.25 G5@0.25", "", full,
			"right hand speed"},
		{"a registration while both hands play", "C6@4", "C5@4", "", switched,
			"left hand control"},
	}
}

// failingChart strings the failings together, a bar of rest behind each. The
// last passage starts while both hands play.
func failingChart(t *testing.T) *project.Chart {
	var changes, melody []string
	var passages []project.Passage
	var pins []project.Pin
	for i, f := range failings() {
		f.passage.First = 2 * i
		passages = append(passages, f.passage)
		changes = append(changes, f.changes)
		melody = append(melody, f.melody)
		rest := 8 - beatsIn(t, f.melody)
		if i < len(failings())-2 {
			changes = append(changes, "N.C.@4")
			melody = append(melody, fmt.Sprintf("r@%g", rest))
		} else if i == len(failings())-2 {
			changes = append(changes, "C6@4")
			melody = append(melody, fmt.Sprintf("r@%g C5@1", rest-1))
		}
		if f.pin != "" {
			pins = append(pins, project.Pin{Start: project.Ticks(2*i) * project.Whole, Voices: pitches(f.pin)})
		}
	}
	c := sketch(t, "C major", strings.Join(changes, " "), strings.Join(melody, " "))
	c.Tempo, c.Passages, c.Pins = 150, passages, pins
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	return c
}

func beatsIn(t *testing.T, melody string) (beats float64) {
	for _, w := range strings.Fields(melody) {
		_, b, _ := strings.Cut(w, "@")
		beats += float64(beatsOf(t, b)) / float64(project.Quarter)
	}
	return beats
}

func pitches(text string) (out []theory.Pitch) {
	for _, w := range strings.Fields(text) {
		out = append(out, theory.MustParsePitch(w))
	}
	return out
}

// failingPlayer has medium hands and keeps the right foot on the expression
// pedal.
func failingPlayer() *reach.Profile {
	p := reach.DefaultProfile()
	p.Feet = reach.LeftOnly
	return &p
}

func TestTenWaysToFailAreReportedExactly(t *testing.T) {
	c := failingChart(t)
	rr := Realise(c, Options{Profile: failingPlayer()}).Reach()
	got := make([][]string, len(failings()))
	for i, f := range rr.Findings {
		if f.Severity != reach.Unplayable {
			t.Errorf("%s: %v", rr.Places[i].Text, f.Text)
		}
		got[rr.Places[i].Bar/2] = append(got[rr.Places[i].Bar/2], fmt.Sprintf("%v %v", f.Limb, f.Kind))
	}
	for i, f := range failings() {
		if g := strings.Join(got[i], ", "); g != f.want {
			t.Errorf("%s: reported is %q, not %q", f.name, g, f.want)
		}
	}
}

func TestFirstRemedyRemovesItsFinding(t *testing.T) {
	o := Options{Profile: failingPlayer()}
	h := project.NewHistory(failingChart(t))
	before := h.Chart()
	rr := Realise(before, o).Reach()
	for i := range rr.Findings {
		f := &rr.Findings[i]
		ways := rr.Remedies(i)
		if len(ways) == 0 {
			t.Errorf("%s: no way out of: %s", rr.Places[i].Text, f.Text)
			continue
		}
		if _, err := h.Do(ways[0].Edit, project.Selection{}); err != nil {
			t.Fatal(err)
		}
		after := Realise(h.Chart(), o).Reach()
		for k, g := range after.Findings {
			if g.Kind == f.Kind && g.Limb == f.Limb && g.Severity >= f.Severity && after.Places[k].Bar/2 == rr.Places[i].Bar/2 {
				t.Errorf("%s: %q leaves: %s", rr.Places[i].Text, ways[0].Text, g.Text)
			}
		}
		if h.Undo(); !h.Chart().Equal(before) {
			t.Fatalf("%q takes more than one step to undo", ways[0].Text)
		}
	}
}
