package perform

import (
	"reflect"
	"slices"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"

	"pgregory.net/rapid"
)

// anyRealisation draws a realisation with any bars, marks and notes.
func anyRealisation(t *rapid.T) *arrange.Realisation {
	r := realised("-")
	c := r.Chart
	c.Bars = anyBars(t)
	c.Swing = rapid.Float64Range(0.5, 0.8).Draw(t, "swing")
	var end project.Ticks
	for i := range c.Bars {
		c.Bars[i].Length = project.Ticks(rapid.IntRange(1, 8).Draw(t, "eighths")) * q / 2
		c.Bars[i].Unnumbered = rapid.Bool().Draw(t, "unnumbered")
		if rapid.Bool().Draw(t, "new tempo") {
			c.Bars[i].Tempo = rapid.Float64Range(20, 400).Draw(t, "tempo")
		}
		end += c.Bars[i].Length
	}
	for range rapid.IntRange(0, 40).Draw(t, "notes") {
		r.Notes = append(r.Notes, anyNote(t, end))
	}
	slices.SortStableFunc(r.Notes, func(a, b arrange.Note) int { return int(a.Start - b.Start) })
	return r
}

func anyNote(t *rapid.T, end project.Ticks) arrange.Note {
	grid := rapid.SampledFrom([]project.Ticks{q, q / 2, q / 3, q / 4, q / 5, q / 7, q / 32}).Draw(t, "grid")
	start := project.Ticks(rapid.IntRange(0, int((end-1)/grid)).Draw(t, "start")) * grid
	length := grid * project.Ticks(rapid.IntRange(1, 6).Draw(t, "length"))
	return arrange.Note{
		Start: start, Duration: min(length, end-start), Key: rapid.IntRange(60, 63).Draw(t, "key"),
		Division: arrange.Division(rapid.IntRange(0, 2).Draw(t, "division")),
		Limb:     arrange.Limb(rapid.IntRange(0, 3).Draw(t, "limb")),
		Layer:    arrange.Layer(rapid.IntRange(0, 5).Draw(t, "layer")),
	}
}

func TestAnyPerformanceIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRealisation(t)
		p, err := Perform(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		checkPerformance(t, p)
		again, _ := Perform(r, Options{})
		if !reflect.DeepEqual(p, again) {
			t.Fatal("two performances differ")
		}
	})
}

// A note that is played sounds: muting nothing drops nothing.
func TestEveryNoteOfAPlayedBarSounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRealisation(t)
		p, _ := Perform(r, Options{})
		page := newPage(r.Chart, r.Notes)
		type down struct {
			division arrange.Division
			key      int
			at       project.Ticks
		}
		downs := map[down]bool{}
		for _, e := range p.Events {
			if e.Kind == KeyDown {
				downs[down{e.Division, e.Key, e.At}] = true
			}
		}
		for _, n := range r.Notes {
			for _, b := range p.Played {
				if n.Start >= b.Written && n.Start < b.Written+b.Length {
					at := page.Bend(n.Start, n.Limb) - b.Written + b.At
					if !downs[down{n.Division, n.Key, at}] {
						t.Fatalf("note %+v is not struck at %d", n, at)
					}
				}
			}
		}
	})
}

func BenchmarkPerform(b *testing.B) {
	r := realised("- - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - -")
	r.Chart.Swing = 0.66
	for i := range 512 {
		for v := range 5 {
			r.Notes = append(r.Notes, note(project.Ticks(i)*q/2, q/2, 50+v*3+i%3))
		}
	}
	for b.Loop() {
		if _, err := Perform(r, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
