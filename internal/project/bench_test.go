package project_test

import (
	"bytes"
	"testing"

	"organbook/internal/project"
)

// longTune is a chart of n bars with four notes, two chords and a pin a bar.
func longTune(n int) *project.Chart {
	c := project.New()
	c.Bars, c.Passages = nil, c.Passages[:1]
	for i := range n {
		c.Bars = append(c.Bars, project.NewBar(project.CommonTime))
		at := float64(4 * i)
		c.Changes = append(c.Changes, change(at, "Dm7"), change(at+2, "G7"))
		c.Melody = append(c.Melody, note(at, 1, "F4"), note(at+1, 1, "A4"), note(at+2, 1, "B4"), note(at+3, 1, "G4"))
		c.Pins = append(c.Pins, pin(at, "F4", "D4", "C4", "A3"))
	}
	return c
}

func BenchmarkEdit64Bars(b *testing.B) {
	c := longTune(64)
	for b.Loop() {
		if _, err := (project.AddNote{Note: note(100, 1, "C5")}).Apply(c); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead64Bars(b *testing.B) {
	data := []byte(text(b, longTune(64)))
	for b.Loop() {
		if _, err := project.Read(bytes.NewReader(data)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCheckLargest(b *testing.B) {
	c := longTune(project.MaxBars)
	for b.Loop() {
		if err := c.Check(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMoveAllLargest(b *testing.B) {
	c := longTune(project.MaxBars)
	var starts []project.Ticks
	for _, n := range c.Melody {
		starts = append(starts, n.Start)
	}
	edit := project.MoveNotes{Starts: starts, Pitch: project.PitchMove{N: 1}}
	for b.Loop() {
		if _, err := edit.Apply(c); err != nil {
			b.Fatal(err)
		}
	}
}
