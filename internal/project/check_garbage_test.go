package project_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// Check judges any chart at all without a panic, and what it passes can be
// written, read and asked about.
func TestCheckStandsGarbage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := garbage(t)
		if c.Check() != nil {
			return
		}
		reload(t, c)
		for _, n := range c.Melody {
			c.PositionText(n.Start)
		}
	})
}

// anyTicks are positions and lengths from sound to absurd.
var anyTicks = rapid.SampledFrom([]project.Ticks{0, 0, 1, q, q, 2 * q, 4 * q, 8 * q, -1, -q, math.MaxInt64, math.MinInt64})

var anyPitch = rapid.SampledFrom([]theory.Pitch{{}, theory.MustParsePitch("C4"), theory.MustParsePitch("B#4"), theory.MustParsePitch("G9")})

func garbage(t *rapid.T) *project.Chart {
	c := project.New()
	c.Bars = rapid.SliceOfN(rapid.Custom(garbageBar), 0, 4).Draw(t, "bars")
	c.Melody = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) project.Note {
		return project.Note{Start: anyTicks.Draw(t, "start"), Duration: anyTicks.Draw(t, "duration"), Pitch: anyPitch.Draw(t, "pitch")}
	}), 0, 3).Draw(t, "melody")
	c.Changes = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) project.Change {
		chord := rapid.SampledFrom([]theory.Chord{{}, theory.NoChord(), theory.MustParseChord("C6")}).Draw(t, "chord")
		return project.Change{Start: anyTicks.Draw(t, "start"), Chord: chord}
	}), 0, 3).Draw(t, "changes")
	c.Pins = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) project.Pin {
		return project.Pin{
			Start: anyTicks.Draw(t, "start"), Voicing: theory.Voicing(rapid.Byte().Draw(t, "voicing")),
			Voices: rapid.SliceOfN(anyPitch, 0, 14).Draw(t, "voices"),
		}
	}), 0, 2).Draw(t, "pins")
	c.Passages = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) project.Passage {
		p := project.DefaultPassage()
		p.First = rapid.SampledFrom([]int{0, 0, 1, -1, math.MaxInt}).Draw(t, "first")
		p.Plan = project.HandPlan(rapid.Byte().Draw(t, "plan") % 4)
		return p
	}), 0, 2).Draw(t, "passages")
	return c
}

func garbageBar(t *rapid.T) project.Bar {
	b := project.NewBar(project.CommonTime)
	if rapid.Bool().Draw(t, "spoilt") {
		b.Length = anyTicks.Draw(t, "length")
		b.Meter = project.Meter{Beats: rapid.IntRange(-1, 70).Draw(t, "beats"), Unit: rapid.SampledFrom([]int{0, 1, 3, 4, 128, -4}).Draw(t, "unit")}
		b.Ending = rapid.SliceOfN(rapid.IntRange(-1, 3), 0, 2).Draw(t, "ending")
		b.EndingStart = rapid.Bool().Draw(t, "start")
		b.Jump = project.Jump(rapid.Byte().Draw(t, "jump") % 9)
	}
	return b
}
