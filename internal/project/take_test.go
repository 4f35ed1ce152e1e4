package project_test

import (
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestTakes makes, names, switches and deletes takes and follows settings and
// pins through it.
func TestTakes(t *testing.T) {
	c := tune()
	bright := c.Passages[0].Treatment
	bright.Voicing, bright.Leaning = theory.Drop2, project.LeanBright
	d := mustApply(t, c, project.MakeTake{Passage: 0, NewName: "Bright", Change: project.TreatmentChange{Given: true, Treatment: bright}})
	p := d.Passages[0]
	if len(p.Takes) != 2 || p.TakeName() != "Bright" || p.Treatment != bright || len(d.Pins) != 1 || len(d.Shelved) != 1 {
		t.Fatalf("after making a take: %+v, %d pins, %d shelved", p, len(d.Pins), len(d.Shelved))
	}
	d = mustApply(t, d, project.ClearPin{Start: ticks(1)})
	d = mustApply(t, d, project.UseTake{Passage: 0, Take: 0})
	if p := d.Passages[0]; p.Treatment != c.Passages[0].Treatment || p.TakeName() != "Take 1" || len(d.Pins) != 1 || len(d.Shelved) != 0 {
		t.Fatalf("back on the first take: %+v, %d pins, %d shelved", p, len(d.Pins), len(d.Shelved))
	}
	d = mustApply(t, d, project.RenameTake{Passage: 0, Take: 1, To: "Brass"})
	d = mustApply(t, d, project.UseTake{Passage: 0, Take: 1})
	if p := d.Passages[0]; p.TakeName() != "Brass" || p.Treatment != bright || len(d.Pins) != 0 || len(d.Shelved) != 1 {
		t.Fatalf("on the second take: %+v", p)
	}
	d = mustApply(t, d, project.DropTake{Passage: 0, Take: 1})
	if p := d.Passages[0]; len(p.Takes) != 1 || p.TakeName() != "Take 1" || len(d.Pins) != 1 || len(d.Shelved) != 0 {
		t.Fatalf("after deleting it: %+v", p)
	}
	if _, err := (project.DropTake{Passage: 0, Take: 0}).Apply(d); err == nil {
		t.Error("the last take could be deleted")
	}
}

// TestShelvedPinsFollowTheirNotes moves notes and bars under takes that wait.
func TestShelvedPinsFollowTheirNotes(t *testing.T) {
	c := mustApply(t, tune(), project.MakeTake{Passage: 0})
	for name, e := range map[string]project.Edit{
		"inserting bars": project.InsertBars{At: 0, Count: 1},
		"moving":         project.MoveNotes{Starts: []project.Ticks{ticks(1)}, By: q / 4},
	} {
		d := mustApply(t, c, e)
		if len(d.Shelved) != 1 || d.Shelved[0].Start != d.Pins[0].Start || d.Pins[0].Start == c.Pins[0].Start {
			t.Errorf("%s left the shelved pin at %+v, the other at %+v", name, d.Shelved, d.Pins)
		}
	}
	up := mustApply(t, c, project.TransposeChart{By: theory.MajorSecond})
	if up.Shelved[0].Voices[0] != theory.MustParsePitch("E5") {
		t.Errorf("transposing left the shelved pin on %v", up.Shelved[0])
	}
	if d := mustApply(t, c, project.SetPitch{Start: ticks(1), Pitch: theory.MustParsePitch("A4")}); len(d.Shelved) != 0 {
		t.Errorf("a pin stays shelved for a note that is gone: %+v", d.Shelved)
	}
	joined := mustApply(t, mustApply(t, c, project.SplitPassage{Bar: 1}), project.JoinPassage{Passage: 1})
	if len(joined.Shelved) != 1 {
		t.Errorf("splitting and joining lost the shelved pin of the part that stayed: %+v", joined.Shelved)
	}
}

// TestWeakPins fixes less than a block.
func TestWeakPins(t *testing.T) {
	c := mustApply(t, tune(), project.SetPin{Start: 0, Strength: project.PinVoicing, Voicing: theory.Drop2, Voices: tune().Pins[0].Voices})
	c = mustApply(t, c, project.SetPin{Start: ticks(2), Strength: project.PinTechnique, Technique: theory.Borrowed})
	if p := c.Pins[0]; p.String() != "drop2" || len(p.Voices) != 0 {
		t.Errorf("a voicing pin holds %+v", p)
	}
	if p := c.Pins[2]; p.String() != "borrowed" {
		t.Errorf("a technique pin holds %+v", p)
	}
	bad := *c
	bad.Pins = []project.Pin{{Start: 0, Strength: project.PinVoicing, Voices: tune().Pins[0].Voices}}
	if bad.Check() == nil {
		t.Error("a voicing pin with voices passes")
	}
}
