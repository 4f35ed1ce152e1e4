package projecttest

import (
	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// Edits generates edits of every kind for a chart. Most apply; some are out of
// place, as a user's are, and must fail with a sentence.
func Edits(c *project.Chart) *rapid.Generator[project.Edit] {
	return rapid.Custom(func(t *rapid.T) project.Edit {
		g := editor{t, c}
		kinds := []func() project.Edit{
			g.addNote, g.addNote, g.paste, g.removeNotes, g.moveNotes, g.nudgeNotes, g.resize, g.setPitch, g.respell, g.split, g.join, g.even, g.divide, g.record,
			g.setChord, g.removeChord, g.moveChord,
			g.head, g.insertBars, g.removeBars, g.setBar, g.setPickup,
			g.passage, g.splitPassage, g.joinPassage, g.moveBorder, g.makePassage, g.applyTemplate,
			g.setPin, g.setPin, g.clearPin, g.setFinger, g.clearFingers, g.setPlayer, g.setTone, g.transpose, g.makeTake, g.take,
		}
		return kinds[rapid.IntRange(0, len(kinds)-1).Draw(t, "kind")]()
	})
}

// editor draws the parts of edits.
type editor struct {
	t *rapid.T
	c *project.Chart
}

func (g editor) int(low, high int) int { return rapid.IntRange(low, max(low, high)).Draw(g.t, "n") }

// ticks draws a shift on a grid of sixteenths and triplets.
func (g editor) ticks(low, high int) project.Ticks {
	return project.Ticks(g.int(low, high)) * rapid.SampledFrom([]project.Ticks{project.Quarter / 4, project.Quarter / 3}).Draw(g.t, "grid")
}

// place draws a position in or just outside the chart.
func (g editor) place() project.Ticks {
	return g.ticks(-1, int(g.c.Length()/(project.Quarter/4))+1)
}

func (g editor) bar() int { return g.int(0, len(g.c.Bars)) }

func (g editor) passageIndex() int { return g.int(0, len(g.c.Passages)) }

// start draws the start of a note, or a place without one.
func (g editor) start() project.Ticks {
	if len(g.c.Melody) == 0 {
		return g.place()
	}
	return rapid.SampledFrom(g.c.Melody).Draw(g.t, "note").Start
}

func (g editor) starts() []project.Ticks {
	n := g.int(1, 4)
	starts := make([]project.Ticks, n)
	for i := range starts {
		starts[i] = g.start()
	}
	return starts
}

// neighbours draws the starts of a run of notes.
func (g editor) neighbours() []project.Ticks {
	if len(g.c.Melody) == 0 {
		return nil
	}
	i := g.int(0, len(g.c.Melody)-1)
	var starts []project.Ticks
	for _, n := range g.c.Melody[i:min(len(g.c.Melody), i+g.int(1, 3))] {
		starts = append(starts, n.Start)
	}
	return starts
}

func (g editor) note() project.Note {
	return project.Note{Start: g.place(), Duration: rapid.SampledFrom(durations).Draw(g.t, "duration"), Pitch: Pitches().Draw(g.t, "pitch")}
}

func (g editor) addNote() project.Edit { return project.AddNote{Note: g.note()} }

func (g editor) paste() project.Edit {
	first, second := g.note(), g.note()
	second.Start = first.End() + g.ticks(0, 3)
	return project.Paste{Notes: []project.Note{first, second}, From: first.Start, At: g.place()}
}

func (g editor) removeNotes() project.Edit { return project.RemoveNotes{Starts: g.starts()} }

func (g editor) moveNotes() project.Edit {
	return project.MoveNotes{
		Starts: g.starts(), By: g.ticks(-8, 8),
		Pitch: project.PitchMove{Kind: project.PitchStep(g.int(0, 2)), N: g.int(-3, 3)},
	}
}

func (g editor) nudgeNotes() project.Edit {
	return project.NudgeNotes{Starts: g.starts(), By: g.ticks(-8, 8)}
}

func (g editor) resize() project.Edit {
	return project.ResizeNotes{Starts: g.starts(), By: g.ticks(-4, 8), To: g.ticks(0, 4), Spare: g.int(0, 1) == 1}
}

func (g editor) setPitch() project.Edit {
	return project.SetPitch{Start: g.start(), Pitch: Pitches().Draw(g.t, "pitch")}
}

func (g editor) respell() project.Edit {
	start := g.start()
	to := drawName(g.t)
	if i, ok := g.c.NoteStarting(start); ok && g.int(0, 3) > 0 {
		// The enharmonic neighbours lie twelve fifths to either side.
		to = theory.NameFromFifths(g.c.Melody[i].Pitch.Name().Fifths() + 12*g.int(-1, 1))
	}
	return project.RespellNote{Start: start, To: to}
}

func (g editor) split() project.Edit {
	return project.SplitNote{At: g.start() + g.ticks(0, 3)}
}

func (g editor) join() project.Edit { return project.JoinNotes{Starts: g.neighbours()} }

func (g editor) even() project.Edit { return project.EvenNotes{Starts: g.neighbours()} }

func (g editor) divide() project.Edit {
	return project.DivideNotes{Starts: g.starts()[:1], Parts: g.int(1, 4)}
}

func (g editor) record() project.Edit {
	e := project.Record{From: g.place(), Notes: []project.Note{g.note()}, Add: g.int(0, 1) == 1}
	e.To = e.From + g.ticks(1, 40)
	if g.int(0, 9) > 0 {
		e.Notes[0].Start = e.From
		e.Notes[0].Duration = min(e.Notes[0].Duration, max(1, g.c.Length()-e.From))
	}
	return e
}

func (g editor) setChord() project.Edit {
	return project.SetChord{Start: g.place(), Chord: Chords().Draw(g.t, "chord")}
}

func (g editor) change() project.Ticks {
	if len(g.c.Changes) == 0 {
		return g.place()
	}
	return rapid.SampledFrom(g.c.Changes).Draw(g.t, "change").Start
}

func (g editor) removeChord() project.Edit { return project.RemoveChord{Start: g.change()} }

func (g editor) moveChord() project.Edit {
	return project.MoveChord{From: g.change(), To: g.place()}
}

func (g editor) head() project.Edit {
	return rapid.SampledFrom([]project.Edit{
		project.SetTitle{Title: "Two\nlines"}, project.SetComposer{Composer: "A. Nonym"},
		project.SetTempo{Tempo: 90}, project.SetTempo{Tempo: 9000},
		project.SetSwing{Swing: 0.66}, project.SetSwing{Swing: 2},
		project.SetConsole{Console: "short"}, project.SetConsole{Console: "none"},
		project.SetKey{Key: theory.MustParseKey("Ab major")}, project.SetKey{},
	}).Draw(g.t, "head")
}

func (g editor) insertBars() project.Edit {
	return project.InsertBars{At: g.bar(), Count: g.int(0, 4)}
}

func (g editor) removeBars() project.Edit {
	first := g.bar()
	return project.RemoveBars{First: first, End: first + g.int(0, 3)}
}

func (g editor) setPickup() project.Edit { return project.SetPickup{Length: g.ticks(-1, 18)} }

func (g editor) setBar() project.Edit {
	bar := rapid.SampledFrom(Bars(4).Draw(g.t, "bars")).Draw(g.t, "bar")
	return project.SetBar{Index: g.bar(), Bar: bar}
}

func (g editor) passage() project.Edit {
	i, p := g.passageIndex(), Passages().Draw(g.t, "passage")
	return rapid.SampledFrom([]project.Edit{
		project.SetTreatment{Passage: i, Treatment: p.Treatment}, project.SetPlan{Passage: i, Plan: p.Plan},
		project.SetBass{Passage: i, Bass: p.Bass}, project.SetRegistration{Passage: i, Registration: p.Registration},
		project.RenamePassage{Passage: i, To: p.Name},
	}).Draw(g.t, "setting")
}

func (g editor) makeTake() project.Edit {
	e := project.MakeTake{Passage: g.passageIndex(), NewName: Texts().Draw(g.t, "name")}
	if g.int(0, 1) == 1 {
		e.Change = project.TreatmentChange{Given: true, Treatment: Treatments().Draw(g.t, "treatment")}
	}
	return e
}

func (g editor) take() project.Edit {
	i := g.passageIndex()
	takes := 0
	if i < len(g.c.Passages) {
		takes = len(g.c.Passages[i].Takes)
	}
	take := g.int(0, takes)
	return rapid.SampledFrom([]project.Edit{
		project.UseTake{Passage: i, Take: take}, project.RenameTake{Passage: i, Take: take, To: Texts().Draw(g.t, "name")},
		project.DropTake{Passage: i, Take: take},
	}).Draw(g.t, "take")
}

func (g editor) splitPassage() project.Edit {
	return project.SplitPassage{Bar: g.bar(), NewName: Texts().Draw(g.t, "name")}
}

func (g editor) joinPassage() project.Edit { return project.JoinPassage{Passage: g.passageIndex()} }

func (g editor) makePassage() project.Edit {
	first := g.bar()
	return project.MakePassage{First: first, End: first + g.int(0, 4), NewName: Texts().Draw(g.t, "name")}
}

func (g editor) applyTemplate() project.Edit {
	return project.ApplyTemplate{Passage: g.passageIndex(), Template: project.TemplateOf(Passages().Draw(g.t, "template"), "x")}
}

func (g editor) moveBorder() project.Edit {
	return project.MovePassageBorder{Passage: g.passageIndex(), To: g.bar()}
}

func (g editor) setPin() project.Edit {
	start, lead := g.start(), theory.MustParsePitch("C5")
	if i, ok := g.c.NoteStarting(start); ok {
		lead = g.c.Melody[i].Pitch
	}
	return project.SetPin{
		Start: start, Strength: project.PinStrength(g.int(0, 2)), Voicing: Voicings().Draw(g.t, "voicing"),
		Technique: theory.Technique(g.int(0, int(theory.Alone))), Voices: Block(lead).Draw(g.t, "voices"),
	}
}

func (g editor) clearPin() project.Edit {
	if len(g.c.Pins) > 0 && g.int(0, 1) == 1 {
		return project.ClearPin{Start: rapid.SampledFrom(g.c.Pins).Draw(g.t, "pin").Start}
	}
	from := g.place()
	return project.ClearPins{From: from, To: from + g.ticks(0, 32)}
}

func (g editor) setFinger() project.Edit {
	if n := len(g.c.Fingerings); n > 0 && g.int(0, 2) == 2 {
		e := project.SetFinger(g.c.Fingerings[g.int(0, n-1)])
		e.Finger = g.int(0, project.MaxFinger)
		return e
	}
	return project.SetFinger{Start: g.start(), Key: g.int(36, 96), Finger: g.int(0, project.MaxFinger)}
}

func (g editor) clearFingers() project.Edit {
	from := g.place()
	return project.ClearFingers{From: from, To: from + g.ticks(0, 32)}
}

func (g editor) setPlayer() project.Edit {
	if g.int(0, 1) == 0 {
		return project.SetPlayer{}
	}
	return project.SetPlayer{Player: Players().Draw(g.t, "player")}
}

func (g editor) setTone() project.Edit {
	if g.int(0, 2) == 0 {
		return project.SetTone{Tone: project.DefaultTone()}
	}
	tone := Tones().Draw(g.t, "tone")
	if g.int(0, 9) == 0 {
		tone.Click = 7
	}
	return project.SetTone{Tone: tone}
}

func (g editor) transpose() project.Edit {
	return project.TransposeChart{By: Intervals().Draw(g.t, "interval")}
}

// Intervals generates the intervals of transposition, up or down.
func Intervals() *rapid.Generator[theory.Interval] {
	return rapid.Custom(func(t *rapid.T) theory.Interval {
		by := rapid.SampledFrom([]theory.Interval{
			theory.MinorSecond, theory.MajorSecond, theory.MinorThird, theory.MajorThird, theory.PerfectFourth,
			theory.AugmentedFourth, theory.DiminishedFifth, theory.PerfectFifth, theory.MinorSixth, theory.Octave,
		}).Draw(t, "interval")
		if rapid.Bool().Draw(t, "down") {
			return by.Invert()
		}
		return by
	})
}
