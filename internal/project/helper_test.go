package project_test

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

const q = project.Quarter

// note reads "C4" at a start and length in quarters.
func note(start, quarters float64, pitch string) project.Note {
	return project.Note{Start: ticks(start), Duration: ticks(quarters), Pitch: theory.MustParsePitch(pitch)}
}

func ticks(quarters float64) project.Ticks { return project.Ticks(quarters * float64(q)) }

func change(start float64, symbol string) project.Change {
	return project.Change{Start: ticks(start), Chord: theory.MustParseChord(symbol)}
}

// pin fixes a block; the lead comes first.
func pin(start float64, voices ...string) project.Pin {
	p := project.Pin{Start: ticks(start)}
	for _, v := range voices {
		p.Voices = append(p.Voices, theory.MustParsePitch(v))
	}
	return p
}

// tune is eight bars with notes, chords, two passages and a pin.
func tune() *project.Chart {
	c := project.New()
	c.Melody = []project.Note{note(0, 1, "C5"), note(1, 1, "D5"), note(2, 4, "E5"), note(8, 2, "F#5")}
	c.Changes = []project.Change{change(0, "C6"), change(4, "Dm7"), change(6, "G7"), change(8, "C6")}
	second := project.DefaultPassage()
	second.First, second.Plan = 4, project.TwoHandBlock
	c.Passages = append(c.Passages, second)
	c.Pins = []project.Pin{pin(1, "D5", "B4", "Ab4", "F4")}
	return c
}

// reload returns what reading back the written chart gives.
func reload(t rapid.TB, c *project.Chart) *project.Chart {
	t.Helper()
	var b bytes.Buffer
	if err := project.Write(&b, c); err != nil {
		t.Fatalf("write: %v", err)
	}
	d, err := project.Read(&b)
	if err != nil {
		t.Fatalf("read: %v", err)
	}
	if !d.Equal(c) {
		t.Fatal("a chart changed on its way through a file")
	}
	return d
}

// apply makes an edit in every way it can be made, and checks that they agree:
// directly, through a history with undo and redo, and on a chart that went
// through a file. It checks that the edit left its chart alone, that the
// result is sound, and that the selection after it exists. It returns nil and
// the error when the edit does not apply.
func apply(t rapid.TB, c *project.Chart, e project.Edit, selected project.Selection) (*project.Chart, error) {
	t.Helper()
	twin := reload(t, c)
	d, err := e.Apply(c)
	if !c.Equal(twin) {
		t.Fatalf("%s changed the chart it was given", e.Name())
	}
	if err != nil {
		refused(t, c, e, d, err)
		return nil, err
	}
	if err := d.Check(); err != nil {
		t.Fatalf("%s made an unsound chart: %v", e.Name(), err)
	}
	again, err := e.Apply(twin)
	if err != nil || !reload(t, d).Equal(again) {
		t.Fatalf("%s on a reloaded chart differs: %v", e.Name(), err)
	}
	undoRedo(t, c, d, e, selected)
	return d, nil
}

// refused checks an edit that failed.
func refused(t rapid.TB, c *project.Chart, e project.Edit, d *project.Chart, err error) {
	t.Helper()
	if d != nil || err.Error() == "" || strings.Contains(err.Error(), "\n") {
		t.Fatalf("%s: chart %v with error %q", e.Name(), d, err)
	}
	h := project.NewHistory(c)
	if _, err := h.Do(e, project.Selection{}); err == nil || h.Chart() != c || h.Dirty() {
		t.Fatalf("a history took %s, which does not apply", e.Name())
	}
}

// undoRedo checks that a history goes from c to d, back, and there again.
func undoRedo(t rapid.TB, c, d *project.Chart, e project.Edit, selected project.Selection) {
	t.Helper()
	h := project.NewHistory(c)
	after, err := h.Do(e, selected)
	if err != nil || !h.Chart().Equal(d) {
		t.Fatalf("%s through a history differs: %v", e.Name(), err)
	}
	if !after.In(d).Equal(after) {
		t.Fatalf("%s selects %v, which is not in the chart", e.Name(), after)
	}
	if c.Equal(d) {
		if _, ok := h.CanUndo(); ok {
			t.Fatalf("%s changed nothing and can be undone", e.Name())
		}
		return
	}
	if name, ok := h.CanUndo(); !ok || name != e.Name() || !h.Dirty() {
		t.Fatalf("undo offers %q, %v; want %q", name, ok, e.Name())
	}
	if back, ok := h.Undo(); !ok || h.Chart() != c || !back.Equal(selected) || h.Dirty() {
		t.Fatalf("undoing %s did not lead back", e.Name())
	}
	if there, ok := h.Redo(); !ok || !h.Chart().Equal(d) || !there.Equal(after) {
		t.Fatalf("redoing %s did not lead there", e.Name())
	}
}

// mustApply is apply for an edit that has to work.
func mustApply(t *testing.T, c *project.Chart, e project.Edit) *project.Chart {
	t.Helper()
	d, err := apply(t, c, e, project.Selection{})
	if err != nil {
		t.Fatalf("%s: %v", e.Name(), err)
	}
	return d
}

// mustRefuse is apply for an edit that must not work, for a reason that
// contains a phrase.
func mustRefuse(t *testing.T, c *project.Chart, e project.Edit, phrase string) {
	t.Helper()
	_, err := apply(t, c, e, project.Selection{})
	if err == nil || !strings.Contains(err.Error(), phrase) {
		t.Errorf("%s: error %v, want one about %q", e.Name(), err, phrase)
	}
}

// melodyText writes a melody as "C5@0+1 D5@1+1", in quarters.
func melodyText(c *project.Chart) string {
	var words []string
	for _, n := range c.Melody {
		words = append(words, n.Pitch.String()+"@"+quarters(n.Start)+"+"+quarters(n.Duration))
	}
	return strings.Join(words, " ")
}

func changesText(c *project.Chart) string {
	var words []string
	for _, x := range c.Changes {
		words = append(words, x.Chord.String()+"@"+quarters(x.Start))
	}
	return strings.Join(words, " ")
}

func pinsText(c *project.Chart) string {
	var words []string
	for _, p := range c.Pins {
		words = append(words, p.Voices[0].String()+"@"+quarters(p.Start))
	}
	return strings.Join(words, " ")
}

func passagesText(c *project.Chart) string {
	var words []string
	for _, p := range c.Passages {
		words = append(words, p.Plan.String()+"@"+itoa(p.First))
	}
	return strings.Join(words, " ")
}
