package arrange

import (
	"fmt"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// planned realises a sketch under a plan and voicing.
func planned(t *testing.T, plan project.HandPlan, v theory.Voicing, bass project.BassStyle, changes, melody string) *Realisation {
	t.Helper()
	return Realise(sketch(t, "G minor", changes, melody), Options{Plan: &plan, Voicing: &v, Bass: &bass})
}

// handText writes what the limbs play at position 0: "RH upper lead G4, ...".
func handText(notes []Note, at project.Ticks) string {
	var words []string
	for _, n := range notes {
		if n.Start == at {
			words = append(words, fmt.Sprintf("%v/%v/%v/%v/%d", n.Limb, n.Division, n.Layer, n.Pitch, n.Finger))
		}
	}
	return strings.Join(words, ", ")
}

func TestPlans(t *testing.T) {
	for _, c := range []struct {
		plan    project.HandPlan
		voicing theory.Voicing
		want    string
	}{
		{project.Shout, theory.Close,
			"right hand/upper/lead/D5/5, right hand/upper/block/Bb4/3, right hand/upper/block/G4/2, right hand/upper/block/E4/1, left hand/upper/double/D4/3"},
		{project.Shout, theory.DoubleLead,
			"right hand/upper/lead/D5/5, right hand/upper/block/Bb4/3, right hand/upper/block/G4/2, right hand/upper/block/E4/1, left hand/upper/double/D4/3"},
		{project.Shout, theory.Drop2,
			"right hand/upper/lead/D5/5, right hand/upper/block/G4/2, right hand/upper/block/E4/1, left hand/upper/double/D4/1, left hand/upper/block/Bb3/2"},
		{project.Shout, theory.Octaves,
			"right hand/upper/lead/D5/3, left hand/upper/double/D4/3"},
		{project.TwoHandBlock, theory.Drop2,
			"right hand/upper/lead/D5/3, right hand/upper/block/G4/1, left hand/upper/block/E4/1, left hand/upper/block/Bb3/3"},
		{project.SoloOverComp, theory.Close,
			"right hand/upper/lead/D5/3, left hand/lower/comp/D4/1, left hand/lower/comp/Bb3/2, left hand/lower/comp/E3/5"},
	} {
		r := planned(t, c.plan, c.voicing, project.BassNone, "Gm6@4", "D5@4")
		if got := handText(r.Notes, 0); got != c.want {
			t.Errorf("%v, %v:\n%s, want\n%s", c.plan, c.voicing, got, c.want)
		}
	}
}

// bassText writes the pedal part as "G2:4 D2:2".
func bassText(notes []Note) string {
	var words []string
	for _, n := range notes {
		if n.Layer == LayerBass {
			words = append(words, fmt.Sprintf("%v:%g", n.Pitch, float64(n.Duration)/float64(project.Quarter)))
		}
	}
	return strings.Join(words, " ")
}

func TestBass(t *testing.T) {
	for _, c := range []struct {
		style         project.BassStyle
		changes, want string
	}{
		{project.BassRoots, "Gm6@4 D7@2 Gm6@2", "G2:4 D2:2 G2:2"},
		{project.BassRoots, "Gm6/Bb@4 N.C.@4 Gm6@4", "Bb2:4 G2:4"},
		{project.BassTwoFeel, "Gm6@4 C7@2 F7@2", "G2:2 D2:2 C2:2 F2:2"},
		{project.BassTwoFeel, "Gm6/D@4", "D2:2 G2:2"},
		{project.BassTwoFeel, "F6/G@4", "G2:2 G2:2"},
		{project.BassTwoFeel, "Am7b5@4", "A2:2 Eb2:2"},
		{project.BassNone, "Gm6@4", ""},
	} {
		r := planned(t, project.Shout, theory.Close, c.style, c.changes, "G4@1")
		if got := bassText(r.Notes); got != c.want {
			t.Errorf("%v under %s: %s, want %s", c.style, c.changes, got, c.want)
		}
	}
}

func TestTwoFeelInOtherMeters(t *testing.T) {
	for _, c := range []struct {
		meter project.Meter
		want  string
	}{
		{project.Meter{Beats: 3, Unit: 4}, "G2:2 D2:1"},
		{project.Meter{Beats: 5, Unit: 4}, "G2:3 D2:2"},
		{project.Meter{Beats: 7, Unit: 4}, "G2:4 D2:3"},
		{project.Meter{Beats: 6, Unit: 8}, "G2:1.5 D2:1.5"},
		{project.Meter{Beats: 2, Unit: 2}, "G2:2 D2:2"},
		{project.Meter{Beats: 1, Unit: 4}, "G2:1"},
	} {
		s := sketch(t, "G minor", "Gm6@1", "G4@1")
		s.Bars = []project.Bar{project.NewBar(c.meter)}
		s.Passages[0].Bass = project.BassTwoFeel
		if got := bassText(Realise(s, Options{}).Notes); got != c.want {
			t.Errorf("%v: %s, want %s", c.meter, got, c.want)
		}
	}
}

// TestFeetAlternate allows one foot twice running only from a pedal to its
// neighbour, where heel and toe do.
func TestFeetAlternate(t *testing.T) {
	r := planned(t, project.Shout, theory.Close, project.BassTwoFeel, "Gm6@4 C7@4 Gm6@4", "G4@1")
	var last Note
	for _, n := range r.Notes {
		if n.Layer != LayerBass {
			continue
		}
		if last.Duration > 0 && n.Limb == last.Limb && distance(int16(n.Key), int16(last.Key)) > 2 {
			t.Errorf("the %v leaps from %v to %v", n.Limb, last.Pitch, n.Pitch)
		}
		last = n
	}
}

func TestNoPedals(t *testing.T) {
	c := sketch(t, "G minor", "Gm6@4", "G4@4")
	c.Console = "single"
	r := Realise(c, Options{})
	if bassText(r.Notes) != "" || len(r.Findings) == 0 || !strings.Contains(r.Findings[0].Text.String(), "no pedals") {
		t.Errorf("bass %q, findings %v", bassText(r.Notes), r.Findings)
	}
}

// TestShellsLead follows the comp through a two-five-one: guide notes move by
// step or stay.
func TestShellsLead(t *testing.T) {
	r := planned(t, project.SoloOverComp, theory.Close, project.BassNone, "Am7b5@4 D7@4 Gm6@4", "A4@4 F#4@4 G4@4")
	var shells [][]theory.Pitch
	at := project.Ticks(-1)
	for _, n := range r.Notes {
		if n.Layer != LayerComp {
			continue
		}
		if n.Start != at {
			shells, at = append(shells, nil), n.Start
		}
		shells[len(shells)-1] = append(shells[len(shells)-1], n.Pitch)
	}
	if len(shells) != 3 {
		t.Fatalf("%d shells for three chords", len(shells))
	}
	for i := 1; i < len(shells); i++ {
		if cost := shellMove(shell{pitches: shells[i-1]}, shell{pitches: shells[i]}); cost > 6 {
			t.Errorf("shell %d moves by %d semitones: %v to %v", i, cost, shells[i-1], shells[i])
		}
	}
	for i, chord := range []string{"Am7b5", "D7", "Gm6"} {
		for _, guide := range guidesOf(theory.MustParseChord(chord)) {
			if !classes(shells[i]).Has(guide.PC()) {
				t.Errorf("the shell of %s has no %v: %v", chord, guide, shells[i])
			}
		}
	}
}

func TestCues(t *testing.T) {
	c := sketch(t, "G minor", "Gm6@8", "G4@4")
	second := c.Passages[0]
	second.First = 1
	second.Registration.Name, second.Registration.Rotary, second.Registration.Swell = "reeds", project.RotaryFast, 0.5
	c.Passages = append(c.Passages, second)
	var got []string
	for _, cue := range Realise(c, Options{}).Cues {
		got = append(got, fmt.Sprintf("%s %v %s", c.PositionText(cue.Start), cue.Kind, cue.Value))
	}
	want := "1.1 registration muted brass, 1.1 rotary slow, 1.1 expression 65 %, 2.1 registration reeds, 2.1 rotary fast, 2.1 expression 50 %"
	if strings.Join(got, ", ") != want {
		t.Errorf("cues %v", got)
	}
}

// TestSwellThatGlidesIsACue and keeps the right foot from the pedals: a swell that
// goes on from where another has arrived is no cue of its own unless it glides.
func TestSwellThatGlidesIsACue(t *testing.T) {
	c := sketch(t, "C major", "C6@4 A7@4 D7@4 G7@4", "C5@4 E5@4 D5@4 B4@4")
	c.Passages[0].Registration = c.Passages[0].Registration.WithSwell(0.4).GlidingTo(0.8)
	second := c.Passages[0]
	second.First, second.Registration = 2, second.Registration.GlidingTo(0.4).WithSwell(0.8)
	c.Passages = append(c.Passages, second)
	r := Realise(c, Options{})
	var got []string
	for _, cue := range r.Cues {
		if cue.Kind == CueExpression {
			got = append(got, fmt.Sprintf("%s %s", c.PositionText(cue.Start), cue.Value))
		}
	}
	if len(got) != 1 || got[0] != "1.1 40 → 80 %" {
		t.Errorf("cues %v", got)
	}
	feet := 0
	for _, n := range r.Notes {
		if n.Division == Pedal && n.Start < c.BarStart(2) {
			feet++
			if n.Limb != LeftFoot {
				t.Errorf("the right foot plays %v at %s while it moves the swell", n.Pitch, c.PositionText(n.Start))
			}
		}
	}
	if feet == 0 {
		t.Error("no pedal is played")
	}
}

func TestFindings(t *testing.T) {
	c := sketch(t, "C major", "C6@4", "C5@4")
	c.Pins = []project.Pin{{Start: 0, Voicing: theory.Close, Voices: []theory.Pitch{
		theory.MustParsePitch("C5"), theory.MustParsePitch("G4"), theory.MustParsePitch("C4"), theory.MustParsePitch("C3"), theory.MustParsePitch("E2"),
	}}}
	two := project.TwoHandBlock
	r := Realise(c, Options{Plan: &two})
	if len(r.Findings) != 1 || r.Findings[0].Limb != LeftHand || r.Findings[0].Severity != Caution && len(r.Findings[0].Remedies) == 0 {
		shout := Realise(c, Options{})
		if len(shout.Findings) == 0 {
			t.Errorf("nothing is found under a stretch of %v", c.Pins[0].Voices)
		}
	}
	high := sketch(t, "C major", "C6@4", "C#7@4")
	if r := Realise(high, Options{}); len(r.Findings) == 0 || r.Findings[0].Severity != Unplayable {
		t.Errorf("a lead above the manual: %+v", r.Findings)
	}
}

func TestExplainText(t *testing.T) {
	r := Realise(sketch(t, "F minor", "C7@4 Fm6@4", "Ab4@4 F4@4"), Options{})
	lines := Explain(r)
	if len(lines) != 2 || lines[0].Position != "1.1" || lines[0].Function != "V of i" {
		t.Fatalf("%+v", lines)
	}
	var b strings.Builder
	if err := WriteLines(&b, lines, 100); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for _, want := range []string{"Ab4 E4 Db4 Bb3", "C7b9#5", "Ab over C7: not in the diminished chord; borrowed from Fm6 in place of G, giving C7b9#5.", "F over Fm6: the root of the family's home chord, so Fm6 with F on top."} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	for _, line := range strings.Split(text, "\n") {
		if len([]rune(line)) > 100 {
			t.Errorf("a line of %d characters: %s", len([]rune(line)), line)
		}
	}
}

func TestAlternativesAreExplained(t *testing.T) {
	r := Realise(sketch(t, "F minor", "Gm7b5@4 C7@4 Fm6@4", "Bb4@4 Ab4@2 G4@2 F4@4"), Options{})
	list := r.Alternatives(1)
	if len(list) < 4 {
		t.Fatalf("%d alternatives", len(list))
	}
	if pitchList(list[0].Voices) != pitchList(r.Steps[1].Voices) || list[0].Cost != 0 || list[0].Remark.IsZero() {
		t.Errorf("the first alternative is %+v", list[0])
	}
	seen := map[string]bool{}
	for _, a := range list {
		key := pitchList(a.Voices)
		if seen[key] || a.Reason.String() == "" || a.Voices[0].Key() != r.Steps[1].Lead.Key() {
			t.Errorf("alternative %s: %+v", key, a)
		}
		seen[key] = true
	}
	if r.Alternatives(-1) != nil || r.Alternatives(99) != nil {
		t.Error("alternatives for a step that is not there")
	}
}
