package project_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
	"organbook/internal/theory"
)

func TestBarEdits(t *testing.T) {
	three := project.NewBar(project.Meter{Beats: 3, Unit: 4})
	five := project.NewBar(project.Meter{Beats: 5, Unit: 4})
	for _, tt := range []struct {
		name                      string
		edit                      project.Edit
		bars                      int
		melody, changes, passages string
	}{
		{"insert ends a held note", project.InsertBars{At: 1, Count: 2}, 10,
			"C5@0+1 D5@1+1 E5@2+2 F#5@16+2", "C6@0 Dm7@12 G7@14 C6@16", "shout@0 two-hand-block@6"},
		{"insert at the front", project.InsertBars{Count: 1}, 9,
			"C5@4+1 D5@5+1 E5@6+4 F#5@12+2", "C6@4 Dm7@8 G7@10 C6@12", "shout@0 two-hand-block@5"},
		{"append", project.InsertBars{At: 8, Count: 1}, 9,
			"C5@0+1 D5@1+1 E5@2+4 F#5@8+2", "C6@0 Dm7@4 G7@6 C6@8", "shout@0 two-hand-block@4"},
		{"insert at a border joins the passage before", project.InsertBars{At: 4, Count: 1}, 9,
			"C5@0+1 D5@1+1 E5@2+4 F#5@8+2", "C6@0 Dm7@4 G7@6 C6@8", "shout@0 two-hand-block@5"},
		{"remove cuts what is held in", project.RemoveBars{First: 1, End: 2}, 7,
			"C5@0+1 D5@1+1 E5@2+2 F#5@4+2", "C6@0 C6@4", "shout@0 two-hand-block@3"},
		{"remove keeps what begins behind", project.RemoveBars{End: 2}, 6,
			"F#5@0+2", "C6@0", "shout@0 two-hand-block@2"},
		{"remove a whole passage", project.RemoveBars{First: 4, End: 8}, 4,
			"C5@0+1 D5@1+1 E5@2+4 F#5@8+2", "C6@0 Dm7@4 G7@6 C6@8", "shout@0"},
		{"remove the first passage", project.RemoveBars{End: 5}, 3,
			"", "C6@0", "two-hand-block@0"},
		{"a shorter bar", project.SetBar{Index: 0, Bar: three}, 8,
			"C5@0+1 D5@1+1 E5@2+3 F#5@7+2", "C6@0 Dm7@3 G7@5 C6@7", "shout@0 two-hand-block@4"},
		{"a longer bar", project.SetBar{Index: 0, Bar: five}, 8,
			"C5@0+1 D5@1+1 E5@2+5 F#5@9+2", "C6@0 Dm7@5 G7@7 C6@9", "shout@0 two-hand-block@4"},
		{"a pick-up", project.SetPickup{Length: project.Quarter}, 9,
			"C5@1+1 D5@2+1 E5@3+4 F#5@9+2", "C6@1 Dm7@5 G7@7 C6@9", "shout@0 two-hand-block@5"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := mustApply(t, tune(), tt.edit)
			if len(d.Bars) != tt.bars || melodyText(d) != tt.melody || changesText(d) != tt.changes || passagesText(d) != tt.passages {
				t.Errorf("%d bars, %s, %s, %s", len(d.Bars), melodyText(d), changesText(d), passagesText(d))
			}
		})
	}
}

func TestRemoveBarsKeepsChordKeyAndTempo(t *testing.T) {
	c := tune()
	c.Bars = slices.Clone(c.Bars)
	c.Bars[1].Key, c.Bars[1].Tempo = theory.MustParseKey("Eb major"), 90
	c.Changes = []project.Change{change(0, "C6"), change(4, "Dm7"), change(6, "G7"), change(30, "C6")}
	d := mustApply(t, c, project.RemoveBars{First: 1, End: 2})
	if got := changesText(d); got != "C6@0 G7@4 C6@26" {
		t.Errorf("changes %s", got)
	}
	if d.KeyAt(ticks(4)).String() != "Eb major" || d.TempoAt(ticks(4)) != 90 || d.KeyAt(0).String() != "C major" {
		t.Errorf("key %v, tempo %v behind the gap", d.KeyAt(ticks(4)), d.TempoAt(ticks(4)))
	}
	last := mustApply(t, c, project.RemoveBars{First: 1, End: 8})
	if got := changesText(last); got != "C6@0" {
		t.Errorf("with nothing behind the gap: changes %s", got)
	}
}

func TestBarEditsMendEndings(t *testing.T) {
	c := project.New()
	for _, i := range []int{4, 5, 6} {
		c.Bars[i].Ending = []int{1}
	}
	c.Bars[4].EndingStart = true
	c.Bars[6].RepeatEnd = true
	d := mustApply(t, c, project.InsertBars{At: 5, Count: 2})
	if !slices.Equal(d.Bars[6].Ending, []int{1}) || d.Bars[6].EndingStart || len(d.Bars[8].Ending) != 1 {
		t.Errorf("bars inserted inside an ending: %+v", d.Bars[4:9])
	}
	d = mustApply(t, c, project.InsertBars{At: 4, Count: 1})
	if d.Bars[4].Ending != nil || !d.Bars[5].EndingStart {
		t.Errorf("a bar inserted before an ending: %+v", d.Bars[4:6])
	}
	d = mustApply(t, c, project.RemoveBars{First: 4, End: 5})
	if !d.Bars[4].EndingStart {
		t.Error("the ending lost its start")
	}
	d = mustApply(t, c, project.SetBar{Index: 4, Bar: project.NewBar(project.CommonTime)})
	if !d.Bars[5].EndingStart {
		t.Error("the ending lost its start with its first bar")
	}
	d = mustApply(t, c, project.RemoveBars{First: 0, End: 5})
	if !d.Bars[0].EndingStart {
		t.Error("the ending at the front lost its start")
	}
	c = mustApply(t, c, project.SetBar{Index: 5, Bar: project.Bar{Meter: project.CommonTime, Length: 4 * q, Ending: []int{1}, EndingStart: true}})
	d = mustApply(t, c, project.InsertBars{At: 5, Count: 1})
	if d.Bars[5].Ending != nil {
		t.Error("a bar inserted between two endings joined one")
	}
}

// What is written at the first bar and what the chart says never disagree
// after an edit of either.
func TestKeyAndTempoAtTheFront(t *testing.T) {
	bar := project.NewBar(project.CommonTime)
	bar.Key, bar.Tempo = theory.MustParseKey("D minor"), 77
	d := mustApply(t, tune(), project.SetBar{Index: 0, Bar: bar})
	if d.Key != bar.Key || d.Tempo != 77 || d.Bars[0].Key.IsValid() || d.Bars[0].Tempo != 0 {
		t.Errorf("after setting the bar: %v %v, bar %+v", d.Key, d.Tempo, d.Bars[0])
	}
	c := tune()
	c.Bars = slices.Clone(c.Bars)
	c.Bars[0] = bar
	d = mustApply(t, c, project.SetKey{Key: theory.MustParseKey("F major")})
	d = mustApply(t, d, project.SetTempo{Tempo: 99})
	if d.KeyAt(0).String() != "F major" || d.TempoAt(0) != 99 {
		t.Errorf("after setting the chart: %v %v", d.KeyAt(0), d.TempoAt(0))
	}
	c.Bars[0], c.Bars[3] = c.Bars[3], c.Bars[0]
	d = mustApply(t, c, project.RemoveBars{End: 4})
	if d.Key != bar.Key || d.Tempo != 77 || d.Bars[0].Key.IsValid() {
		t.Errorf("after removing the front: %v %v", d.Key, d.Tempo)
	}
}

func TestBarEditsRefused(t *testing.T) {
	for _, tt := range []struct {
		edit   project.Edit
		phrase string
	}{
		{project.InsertBars{At: 9, Count: 1}, "between the bars"},
		{project.InsertBars{At: 0, Count: 0}, "between the bars"},
		{project.InsertBars{At: 0, Count: project.MaxBars}, "at most 10000"},
		{project.RemoveBars{First: 3, End: 3}, "no such bars"},
		{project.RemoveBars{First: -1, End: 3}, "no such bars"},
		{project.RemoveBars{First: 0, End: 8}, "at least one bar"},
		{project.SetBar{Index: 8, Bar: project.NewBar(project.CommonTime)}, "no such bar"},
		{project.SetBar{Index: 0}, "needs a length"},
		{project.SetBar{Index: 0, Bar: project.Bar{Length: q}}, "cannot be printed"},
		{project.SetBar{Index: 0, Bar: project.Bar{Meter: project.CommonTime, Length: q, Times: 2}}, "needs a repeat sign"},
	} {
		mustRefuse(t, tune(), tt.edit, tt.phrase)
	}
}

// TestPickupGrowsAtItsFront gives the tune a pick-up with a note in it, makes it
// longer and shorter, and takes it away again.
func TestPickupGrowsAtItsFront(t *testing.T) {
	c := mustApply(t, tune(), project.SetPickup{Length: project.Quarter})
	if c.Pickup() != project.Quarter || c.BarNumber(0) != 0 || c.BarNumber(1) != 1 || c.PositionText(0) != "0.4" {
		t.Fatalf("the pick-up of %d ticks is bar %d at %s", c.Pickup(), c.BarNumber(0), c.PositionText(0))
	}
	c = mustApply(t, c, project.AddNote{Note: project.Note{Duration: project.Quarter, Pitch: theory.MustParsePitch("B4")}})
	c = mustApply(t, c, project.SetPickup{Length: 2 * project.Quarter})
	if got, want := melodyText(c), "B4@1+1 C5@2+1 D5@3+1 E5@4+4 F#5@10+2"; got != want || c.PositionText(0) != "0.3" {
		t.Errorf("longer: %s from %s, want %s", got, c.PositionText(0), want)
	}
	c = mustApply(t, c, project.SetPickup{Length: project.Quarter / 2})
	if got, want := melodyText(c), "C5@0.5+1 D5@1.5+1 E5@2.5+4 F#5@8.5+2"; got != want {
		t.Errorf("shorter: %s, want %s", got, want)
	}
	if c = mustApply(t, c, project.SetPickup{}); !c.Equal(tune()) {
		t.Errorf("taken away: %s", melodyText(c))
	}
	mustRefuse(t, c, project.SetPickup{}, "no pick-up")
	mustRefuse(t, c, project.SetPickup{Length: project.Whole}, "shorter than a bar of 4/4")
	mustRefuse(t, c, project.SetPickup{Length: -1}, "shorter than a bar of 4/4")
}

// Removing inserted bars leads back, unless a note was held over the place.
func TestRemoveUndoesInsert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		at := rapid.IntRange(0, len(c.Bars)).Draw(t, "at")
		count := rapid.IntRange(1, 3).Draw(t, "count")
		pos := c.BarStart(at)
		if i, ok := c.NoteAt(pos); ok && c.Melody[i].Start != pos {
			return
		}
		if at == 0 && (c.Bars[0].Key.IsValid() || c.Bars[0].Tempo > 0) {
			return // they become the chart's
		}
		d, err := project.InsertBars{At: at, Count: count}.Apply(c)
		if err != nil {
			t.Fatal(err)
		}
		back, err := project.RemoveBars{First: at, End: at + count}.Apply(d)
		if err != nil || !back.Equal(c) {
			t.Fatalf("removing %d bars at %d did not lead back: %v", count, at, err)
		}
	})
}

func TestPassageEdits(t *testing.T) {
	c := tune()
	for _, tt := range []struct {
		name     string
		edit     project.Edit
		passages string
	}{
		{"plan", project.SetPlan{Passage: 0, Plan: project.SoloOverComp}, "solo-over-comp@0 two-hand-block@4"},
		{"split", project.SplitPassage{Bar: 2, NewName: "B"}, "shout@0 shout@2 two-hand-block@4"},
		{"join", project.JoinPassage{Passage: 1}, "shout@0"},
		{"border right", project.MovePassageBorder{Passage: 1, To: 7}, "shout@0 two-hand-block@7"},
		{"border left", project.MovePassageBorder{Passage: 1, To: 1}, "shout@0 two-hand-block@1"},
	} {
		if got := passagesText(mustApply(t, c, tt.edit)); got != tt.passages {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.passages)
		}
	}
	flute, _ := project.RegistrationByName("solo flute")
	d := mustApply(t, c, project.SetRegistration{Passage: 1, Registration: flute})
	d = mustApply(t, d, project.SetBass{Passage: 1, Bass: project.BassTwoFeel})
	d = mustApply(t, d, project.SetTreatment{Passage: 1, Treatment: project.Treatment{Voicing: theory.Drop2, LeadOctave: 1}})
	d = mustApply(t, d, project.RenamePassage{Passage: 1, To: "Shout\nchorus"})
	p := d.Passages[1]
	if p.Registration != flute || p.Bass != project.BassTwoFeel || p.Treatment.Voicing != theory.Drop2 || p.Name != "Shout chorus" {
		t.Errorf("passage %+v", p)
	}
}

func TestPassageEditsRefused(t *testing.T) {
	loud := project.DefaultPassage().Registration
	loud.Upper[3] = 9
	for _, tt := range []struct {
		edit   project.Edit
		phrase string
	}{
		{project.SetPlan{Passage: 2}, "no such passage"},
		{project.SetPlan{Passage: 0, Plan: 77}, "no hand plan"},
		{project.SetBass{Passage: 0, Bass: 77}, "no bass style"},
		{project.SetTreatment{Passage: 0, Treatment: project.Treatment{LeadOctave: 3}}, "octaves"},
		{project.SetTreatment{Passage: 0, Treatment: project.Treatment{Voicing: 99}}, "no voicing"},
		{project.SetRegistration{Passage: 0, Registration: loud}, "drawbar 4"},
		{project.SplitPassage{Bar: 4}, "starts at bar 5 already"},
		{project.SplitPassage{Bar: 8}, "no such bar"},
		{project.JoinPassage{Passage: 0}, "no passage before"},
		{project.MovePassageBorder{Passage: 0, To: 3}, "only the border"},
		{project.MovePassageBorder{Passage: 1, To: 0}, "at least one bar"},
		{project.MovePassageBorder{Passage: 1, To: 8}, "at least one bar"},
	} {
		mustRefuse(t, tune(), tt.edit, tt.phrase)
	}
}

func TestPinEdits(t *testing.T) {
	c := tune()
	voices := pin(0, "C5", "A4", "G4", "E4").Voices
	mine := slices.Clone(voices)
	d := mustApply(t, c, project.SetPin{Start: 0, Voicing: theory.Close, Voices: mine})
	mine[0] = theory.Pitch{}
	if err := d.Check(); err != nil {
		t.Error("the pin shares its caller's slice:", err)
	}
	if got := pinsText(d); got != "C5@0 D5@1" {
		t.Errorf("pins %s", got)
	}
	again := mustApply(t, d, project.SetPin{Start: 0, Voicing: theory.Pair, Voices: voices[:2]})
	if len(again.Pins) != 2 || again.Pins[0].Voicing != theory.Pair {
		t.Errorf("a second pin for a note: %v", again.Pins)
	}
	if got := pinsText(mustApply(t, d, project.ClearPin{Start: ticks(1)})); got != "C5@0" {
		t.Errorf("pins %s", got)
	}
	if got := pinsText(mustApply(t, d, project.ClearPins{From: 0, To: ticks(8)})); got != "" {
		t.Errorf("pins %s", got)
	}
	mustApply(t, d, project.ClearPins{From: ticks(8), To: ticks(0)})
	mustRefuse(t, c, project.ClearPin{Start: 0}, "no pin")
	mustRefuse(t, c, project.SetPin{Start: ticks(0.5), Voices: voices}, "no note")
	mustRefuse(t, c, project.SetPin{Start: ticks(2), Voices: voices}, "stands on a note")
	mustRefuse(t, c, project.SetPin{Start: 0}, "0 voices")
	mustRefuse(t, c, project.SetPin{Start: 0, Voices: []theory.Pitch{voices[0], {}}}, "top down")
	mustRefuse(t, c, project.SetPin{Start: 0, Voicing: 99, Voices: voices}, "no voicing")
}
