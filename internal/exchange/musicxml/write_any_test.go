package musicxml

import (
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"

	"pgregory.net/rapid"
)

func sortNotes(notes []arrange.Note) {
	slices.SortStableFunc(notes, func(a, b arrange.Note) int { return int(a.Start - b.Start) })
}

// anyChart draws a chart of several meters with marks, tuplets, ties, rests
// and chord symbols.
func anyChart(t *rapid.T) *project.Chart {
	c := project.New()
	c.Title = rapid.String().Draw(t, "title")
	c.Key = theory.KeyFromFifths(rapid.IntRange(-7, 7).Draw(t, "fifths"), theory.Mode(rapid.IntRange(0, 1).Draw(t, "mode")))
	c.Swing = rapid.Float64Range(0.5, 0.8).Draw(t, "swing")
	c.Bars = nil
	for range rapid.IntRange(1, 6).Draw(t, "bars") {
		c.Bars = append(c.Bars, anyBar(t))
	}
	if len(c.Bars) > 1 && rapid.Bool().Draw(t, "pickup") {
		c.Bars[0].Length, c.Bars[0].Unnumbered = c.Bars[0].Meter.Beat(), true
	}
	c.Melody = anyMelody(t, c.Length())
	c.Changes = anyChanges(t, c.Length())
	c.Passages = []project.Passage{{}}
	return c
}

func anyBar(t *rapid.T) project.Bar {
	meters := []project.Meter{{Beats: 4, Unit: 4}, {Beats: 3, Unit: 4}, {Beats: 6, Unit: 8}, {Beats: 5, Unit: 4}, {Beats: 2, Unit: 2}, {Beats: 12, Unit: 8}, {Beats: 7, Unit: 8}, {Beats: 1, Unit: 128}}
	m := rapid.SampledFrom(meters).Draw(t, "meter")
	b := project.Bar{Meter: m, Length: m.Length()}
	switch rapid.IntRange(0, 9).Draw(t, "mark") {
	case 0:
		b.Section = "B"
	case 1:
		b.RepeatStart = true
	case 2:
		b.RepeatEnd, b.Times = true, rapid.IntRange(2, 4).Draw(t, "times")
	case 3:
		b.Ending, b.EndingStart = []int{1, 2}, rapid.Bool().Draw(t, "ending start")
	case 4:
		b.Segno, b.ToCoda = true, true
	case 5:
		b.Coda, b.Fine = true, true
	case 6:
		b.Jump = project.Jump(rapid.IntRange(0, 6).Draw(t, "jump"))
	case 7:
		b.Key = theory.KeyFromFifths(rapid.IntRange(-7, 7).Draw(t, "new fifths"), theory.Minor)
	case 8:
		b.Tempo = float64(rapid.IntRange(200, 4000).Draw(t, "tenths")) / 10
	}
	return b
}

// steps are note lengths whose sums give plain rhythms, tuplets and ties.
var steps = []project.Ticks{q, q, q / 2, q / 2, 3 * q / 2, 2 * q, 4 * q, q / 3, 2 * q / 3, q / 4, q / 5, q / 6, q / 7, q / 9, q / 32, 4 * q / 3}

func anyMelody(t *rapid.T, end project.Ticks) (melody []project.Note) {
	for at := project.Ticks(0); at < end; {
		// A tuplet comes whole, as players write it.
		step := rapid.SampledFrom(steps).Draw(t, "step")
		count := 1
		for project.Ticks(count)*step%(q/32) != 0 {
			count++
		}
		for range count {
			d := min(step, end-at)
			if d > 0 && rapid.IntRange(0, 4).Draw(t, "rest") > 0 {
				melody = append(melody, project.Note{Start: at, Duration: d, Pitch: anyPitch(t)})
			}
			at += d
		}
	}
	return melody
}

func anyPitch(t *rapid.T) theory.Pitch {
	n := theory.NewName(theory.Letter(rapid.IntRange(0, 6).Draw(t, "letter")), rapid.IntRange(-2, 2).Draw(t, "alter"))
	return theory.NewPitch(n, rapid.IntRange(3, 5).Draw(t, "octave"))
}

func anyChanges(t *rapid.T, end project.Ticks) (changes []project.Change) {
	symbols := []string{"C", "Gm6", "D7b9/F#", "N.C.", "Bbmaj7#11", "C#m7b5", "F7alt", "Abdim7", "Ebsus4", "A13", "G6/9", "Caug7", "Dadd9", "E5"}
	for at := project.Ticks(0); at < end; at += rapid.SampledFrom([]project.Ticks{q / 2, q, 2 * q, 4 * q / 3}).Draw(t, "gap") {
		if rapid.Bool().Draw(t, "change") {
			changes = append(changes, project.Change{Start: at, Chord: theory.MustParseChord(rapid.SampledFrom(symbols).Draw(t, "symbol"))})
		}
	}
	return changes
}

// anyRealisation draws a realisation of any chart with any further notes.
func anyRealisation(t *rapid.T) *arrange.Realisation {
	c := anyChart(t)
	end := c.Length()
	var more []arrange.Note
	for range rapid.IntRange(0, 12).Draw(t, "more") {
		start := rapid.SampledFrom(steps).Draw(t, "unit") * project.Ticks(rapid.IntRange(0, 12).Draw(t, "start"))
		if start >= end {
			continue
		}
		p := anyPitch(t)
		more = append(more, arrange.Note{
			Start: start, Duration: min(rapid.SampledFrom(steps).Draw(t, "duration"), end-start), Key: p.Key(), Pitch: p,
			Division: arrange.Division(rapid.IntRange(0, 2).Draw(t, "division")), Limb: arrange.Limb(rapid.IntRange(0, 3).Draw(t, "limb")),
			Layer: arrange.Layer(rapid.IntRange(1, 5).Draw(t, "layer")), Finger: rapid.IntRange(0, 5).Draw(t, "finger"), Step: -1,
		})
	}
	return realise(c, more...)
}
