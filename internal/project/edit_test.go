package project_test

import (
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
	"organbook/internal/theory"
)

func quarters(t project.Ticks) string {
	return strconv.FormatFloat(float64(t)/float64(q), 'g', 4, 64)
}

func itoa(n int) string { return strconv.Itoa(n) }

// Random edits on random charts: each either applies soundly, in every way, or
// fails with a sentence and changes nothing.
func TestRandomEdits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		for range rapid.IntRange(1, 8).Draw(t, "edits") {
			e := projecttest.Edits(c).Draw(t, "edit")
			if d, err := apply(t, c, e, drawSelection(t, c)); err == nil {
				c = d
			}
		}
	})
}

func drawSelection(t *rapid.T, c *project.Chart) project.Selection {
	switch rapid.IntRange(0, 3).Draw(t, "selection") {
	case 0:
		return project.BarSelection(0, rapid.IntRange(1, len(c.Bars)).Draw(t, "end"))
	case 1:
		var starts []project.Ticks
		for _, n := range c.Melody {
			starts = append(starts, n.Start)
		}
		return project.NoteSelection(starts...)
	case 2:
		return project.ChordSelection(0)
	}
	return project.Selection{}
}

// Undoing a random run of edits leads back through every chart, and redoing
// leads there again.
func TestHistoryOfRandomEdits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := project.NewHistory(projecttest.Charts(projecttest.Small).Draw(t, "chart"))
		charts := []*project.Chart{h.Chart()}
		for range rapid.IntRange(0, 10).Draw(t, "edits") {
			h.Do(projecttest.Edits(h.Chart()).Draw(t, "edit"), project.Selection{})
			if h.Chart() != charts[len(charts)-1] {
				charts = append(charts, h.Chart())
			}
		}
		for i := len(charts) - 2; i >= 0; i-- {
			if _, ok := h.Undo(); !ok || h.Chart() != charts[i] {
				t.Fatalf("undo did not lead to chart %d", i)
			}
		}
		if _, ok := h.Undo(); ok {
			t.Fatal("undo went beyond the first chart")
		}
		for i := 1; i < len(charts); i++ {
			if _, ok := h.Redo(); !ok || h.Chart() != charts[i] {
				t.Fatalf("redo did not lead to chart %d", i)
			}
		}
		if _, ok := h.Redo(); ok {
			t.Fatal("redo went beyond the last chart")
		}
	})
}

func TestNoteEdits(t *testing.T) {
	starts := func(quarters ...float64) (s []project.Ticks) {
		for _, v := range quarters {
			s = append(s, ticks(v))
		}
		return s
	}
	for _, tt := range []struct {
		name   string
		edit   project.Edit
		melody string
		pins   string
	}{
		{"add in a rest", project.AddNote{Note: note(6, 1, "A4")}, "C5@0+1 D5@1+1 E5@2+4 A4@6+1 F#5@8+2", "D5@1"},
		{"add cuts a held note", project.AddNote{Note: note(4, 1, "A4")}, "C5@0+1 D5@1+1 E5@2+2 A4@4+1 F#5@8+2", "D5@1"},
		{"add replaces what starts under it, with its tail", project.AddNote{Note: note(0.5, 2, "A4")}, "C5@0+0.5 A4@0.5+2 F#5@8+2", ""},
		{"add at the same start", project.AddNote{Note: note(1, 0.5, "D5")}, "C5@0+1 D5@1+0.5 E5@2+4 F#5@8+2", ""},
		{"paste", project.Paste{Notes: []project.Note{note(1, 1, "G4"), note(2, 1, "A4")}, At: ticks(11)}, "C5@0+1 D5@1+1 E5@2+4 F#5@8+2 G4@12+1 A4@13+1", "D5@1"},
		{"remove", project.RemoveNotes{Starts: starts(8, 1)}, "C5@0+1 E5@2+4", ""},
		{"move in time takes the pin along", project.MoveNotes{Starts: starts(1), By: ticks(9)}, "C5@0+1 E5@2+4 F#5@8+2 D5@10+1", "D5@10"},
		{"move over its own place", project.MoveNotes{Starts: starts(1, 2), By: ticks(0.5)}, "C5@0+1 D5@1.5+1 E5@2.5+4 F#5@8+2", "D5@1.5"},
		{"move onto others", project.MoveNotes{Starts: starts(0), By: ticks(1)}, "C5@1+1 E5@2+4 F#5@8+2", ""},
		{"step up", project.MoveNotes{Starts: starts(1, 2), Pitch: project.PitchMove{N: 1}}, "C5@0+1 E5@1+1 F5@2+4 F#5@8+2", ""},
		{"step down from a chromatic note", project.MoveNotes{Starts: starts(8), Pitch: project.PitchMove{N: -1}}, "C5@0+1 D5@1+1 E5@2+4 F5@8+2", "D5@1"},
		{"step up from a chromatic note", project.MoveNotes{Starts: starts(8), Pitch: project.PitchMove{N: 1}}, "C5@0+1 D5@1+1 E5@2+4 G5@8+2", "D5@1"},
		{"semitone down", project.MoveNotes{Starts: starts(1), Pitch: project.PitchMove{Kind: project.Semitone, N: -1}}, "C5@0+1 Db5@1+1 E5@2+4 F#5@8+2", ""},
		{"octave down", project.MoveNotes{Starts: starts(0), Pitch: project.PitchMove{Kind: project.OctaveStep, N: -1}}, "C4@0+1 D5@1+1 E5@2+4 F#5@8+2", "D5@1"},
		{"lengthen over the next", project.ResizeNotes{Starts: starts(0), By: ticks(1.5)}, "C5@0+2.5 F#5@8+2", ""},
		{"lengthen up to the next", project.ResizeNotes{Starts: starts(2), By: ticks(4), Spare: true}, "C5@0+1 D5@1+1 E5@2+6 F#5@8+2", "D5@1"},
		{"lengthen those that can be", project.ResizeNotes{Starts: starts(0, 2, 8), By: ticks(1), Spare: true}, "C5@0+1 D5@1+1 E5@2+5 F#5@8+3", "D5@1"},
		{"shorten and spare", project.ResizeNotes{Starts: starts(0, 1), By: ticks(-0.5), Spare: true}, "C5@0+0.5 D5@1+0.5 E5@2+4 F#5@8+2", "D5@1"},
		{"resize together", project.ResizeNotes{Starts: starts(0, 1, 2), To: ticks(3)}, "C5@0+1 D5@1+1 E5@2+3 F#5@8+2", "D5@1"},
		{"shorten", project.ResizeNotes{Starts: starts(2), By: ticks(-1)}, "C5@0+1 D5@1+1 E5@2+3 F#5@8+2", "D5@1"},
		{"set pitch drops the pin", project.SetPitch{Start: ticks(1), Pitch: theory.MustParsePitch("G4")}, "C5@0+1 G4@1+1 E5@2+4 F#5@8+2", ""},
		{"respell keeps the pin", project.RespellNote{Start: ticks(1), To: theory.MustParseName("Ebb")}, "C5@0+1 Ebb5@1+1 E5@2+4 F#5@8+2", "D5@1"},
		{"split", project.SplitNote{At: ticks(3)}, "C5@0+1 D5@1+1 E5@2+1 E5@3+3 F#5@8+2", "D5@1"},
		{"split a pinned note", project.SplitNote{At: ticks(1.5)}, "C5@0+1 D5@1+0.5 D5@1.5+0.5 E5@2+4 F#5@8+2", "D5@1"},
		{"join", project.JoinNotes{Starts: starts(8, 2)}, "C5@0+1 D5@1+1 E5@2+8", "D5@1"},
		{"join keeps the first pin", project.JoinNotes{Starts: starts(1, 2)}, "C5@0+1 D5@1+5 F#5@8+2", "D5@1"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := mustApply(t, tune(), tt.edit)
			if got := melodyText(d); got != tt.melody {
				t.Errorf("melody %s\n  want %s", got, tt.melody)
			}
			if got := pinsText(d); got != tt.pins {
				t.Errorf("pins %q, want %q", got, tt.pins)
			}
		})
	}
}

func TestNoteEditsRefused(t *testing.T) {
	at := []project.Ticks{0}
	for _, tt := range []struct {
		edit   project.Edit
		phrase string
	}{
		{project.AddNote{Note: note(31, 2, "C5")}, "past the last bar"},
		{project.AddNote{Note: note(-1, 2, "C5")}, "before the first bar"},
		{project.AddNote{Note: note(1, 0, "C5")}, "needs a length"},
		{project.AddNote{Note: project.Note{Duration: q}}, "no pitch"},
		{project.Paste{}, "nothing to paste"},
		{project.Paste{Notes: []project.Note{note(0, 2, "C5"), note(1, 1, "C5")}}, "one line"},
		{project.RemoveNotes{}, "no note is selected"},
		{project.RemoveNotes{Starts: []project.Ticks{ticks(0.5)}}, "no note starts here"},
		{project.MoveNotes{Starts: at, By: -1}, "before the first bar"},
		{project.MoveNotes{Starts: at, By: 1 << 62}, "past the last bar"},
		{project.MoveNotes{Starts: at, Pitch: project.PitchMove{N: 999}}, "range of keys"},
		{project.MoveNotes{Starts: at, Pitch: project.PitchMove{Kind: project.Semitone, N: -999}}, "range of keys"},
		{project.MoveNotes{Starts: at, Pitch: project.PitchMove{Kind: project.OctaveStep, N: 9}}, "range of keys"},
		{project.ResizeNotes{Starts: at, By: -q}, "needs a length"},
		{project.ResizeNotes{Starts: at, To: 99 * q}, "past the last bar"},
		{project.ResizeNotes{Starts: []project.Ticks{q, 0}, By: q, Spare: true}, "1.2: D5 is in the way"},
		{project.SetPitch{Start: 1}, "no note starts here"},
		{project.SetPitch{Start: 0}, "needs a pitch"},
		{project.RespellNote{Start: 0, To: theory.MustParseName("D")}, "not another name"},
		{project.RespellNote{Start: 5}, "no note starts here"},
		{project.SplitNote{At: 0}, "no note to split"},
		{project.SplitNote{At: ticks(7)}, "no note to split"},
		{project.JoinNotes{Starts: at}, "two notes"},
		{project.JoinNotes{Starts: []project.Ticks{0, ticks(2)}}, "neighbouring"},
	} {
		mustRefuse(t, tune(), tt.edit, tt.phrase)
	}
}

// What a note pushes aside, compared with the rule said note by note.
func TestPlacingAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		e, ok := projecttest.Edits(c).Filter(func(e project.Edit) bool {
			_, isPaste := e.(project.Paste)
			return isPaste
		}).Draw(t, "paste").(project.Paste)
		d, err := e.Apply(c)
		if !ok || err != nil {
			return
		}
		if want := placed(c.Melody, e); !slices.Equal(d.Melody, want) {
			t.Fatalf("melody %v\n  want %v", d.Melody, want)
		}
	})
}

func placed(melody []project.Note, e project.Paste) []project.Note {
	var out []project.Note
	for _, a := range e.Notes {
		a.Start += e.At - e.From
		out = append(out, a)
	}
	added := slices.Clone(out)
	for _, n := range melody {
		covered := false
		for _, a := range added {
			covered = covered || a.Start <= n.Start && n.Start < a.End()
			if a.Start > n.Start && a.Start < n.End() {
				n.Duration = a.Start - n.Start
			}
		}
		if !covered {
			out = append(out, n)
		}
	}
	slices.SortFunc(out, func(a, b project.Note) int { return int(a.Start - b.Start) })
	return out
}

func TestChordEdits(t *testing.T) {
	for _, tt := range []struct {
		name    string
		edit    project.Edit
		changes string
	}{
		{"new", project.SetChord(change(2, "A7")), "C6@0 A7@2 Dm7@4 G7@6 C6@8"},
		{"replace", project.SetChord(change(4, "D7")), "C6@0 D7@4 G7@6 C6@8"},
		{"remove", project.RemoveChord{Start: ticks(4)}, "C6@0 G7@6 C6@8"},
		{"move", project.MoveChord{From: ticks(4), To: ticks(3)}, "C6@0 Dm7@3 G7@6 C6@8"},
		{"move onto another", project.MoveChord{From: ticks(4), To: ticks(8)}, "C6@0 G7@6 Dm7@8"},
		{"move nowhere", project.MoveChord{From: ticks(4), To: ticks(4)}, "C6@0 Dm7@4 G7@6 C6@8"},
	} {
		if got := changesText(mustApply(t, tune(), tt.edit)); got != tt.changes {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.changes)
		}
	}
	mustRefuse(t, tune(), project.SetChord{Start: -1, Chord: theory.NoChord()}, "outside the bars")
	mustRefuse(t, tune(), project.SetChord{Start: 0}, "says nothing")
	mustRefuse(t, tune(), project.RemoveChord{Start: 1}, "no chord symbol")
	mustRefuse(t, tune(), project.MoveChord{From: 1}, "no chord symbol")
	mustRefuse(t, tune(), project.MoveChord{From: 0, To: ticks(32)}, "outside the bars")
}

func TestHeadEdits(t *testing.T) {
	for _, tt := range []struct {
		edit project.Edit
		ok   func(*project.Chart) bool
	}{
		{project.SetTitle{Title: " Night\n Ferry "}, func(c *project.Chart) bool { return c.Title == "Night Ferry" }},
		{project.SetComposer{Composer: "A.\x00B."}, func(c *project.Chart) bool { return c.Composer == "A.B." }},
		{project.SetKey{Key: theory.MustParseKey("F minor")}, func(c *project.Chart) bool { return c.Key.String() == "F minor" }},
		{project.SetTempo{Tempo: 66.5}, func(c *project.Chart) bool { return c.Tempo == 66.5 }},
		{project.SetSwing{Swing: 0.6}, func(c *project.Chart) bool { return c.Swing == 0.6 }},
		{project.SetConsole{Console: "concert"}, func(c *project.Chart) bool { return c.Console == "concert" }},
	} {
		before := tune()
		d := mustApply(t, before, tt.edit)
		if !tt.ok(d) {
			t.Errorf("%s was not done", tt.edit.Name())
		}
		if &d.Melody[0] != &before.Melody[0] || &d.Bars[0] != &before.Bars[0] {
			t.Errorf("%s copied slices it does not touch", tt.edit.Name())
		}
	}
	mustRefuse(t, tune(), project.SetKey{Key: theory.MustParseKey("G# major")}, "no key signature")
	mustRefuse(t, tune(), project.SetTempo{Tempo: 19}, "outside 20 to 400")
	mustRefuse(t, tune(), project.SetSwing{Swing: 0.9}, "outside 0.5 to 0.8")
	mustRefuse(t, tune(), project.SetConsole{Console: "tiny"}, "not a known console")
}
