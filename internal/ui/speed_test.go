package ui

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"organbook/assets"
	"organbook/internal/project"
)

// longChart is the demo's song over and over, as long as 200 bars.
func longChart(b *testing.B) *project.Chart {
	c, err := assets.Demo()
	if err != nil {
		b.Fatal(err)
	}
	notes, length, bars := c.Melody, c.Length(), len(c.Bars)
	changes := c.Changes
	for len(c.Bars) < 200 {
		at := c.Length()
		for _, e := range []project.Edit{
			project.InsertBars{At: len(c.Bars), Count: min(bars, 200-len(c.Bars))},
			project.Paste{Notes: fitting(notes, length, project.Ticks(200)*project.Whole-at), At: at},
		} {
			if c, err = e.Apply(c); err != nil {
				b.Fatal(err)
			}
		}
		for _, x := range changes {
			if at+x.Start >= c.Length() {
				break
			}
			if c, err = (project.SetChord{Start: at + x.Start, Chord: x.Chord}).Apply(c); err != nil {
				b.Fatal(err)
			}
		}
	}
	return c
}

// fitting returns the notes that end within a stretch.
func fitting(notes []project.Note, length, room project.Ticks) []project.Note {
	n := 0
	for n < len(notes) && notes[n].End() <= min(length, room) {
		n++
	}
	return notes[:n]
}

// BenchmarkEditToPicture measures an edit in a 200-bar chart until every
// panel's picture is painted: realisation, layout, painting.
func BenchmarkEditToPicture(b *testing.B) {
	app := test.NewTempApp(b)
	preferences{app.Preferences()}.setTheme(alwaysDark)
	w, err := New(app, Options{Chart: longChart(b)})
	if err != nil {
		b.Fatal(err)
	}
	defer w.win.Close()
	w.win.Resize(fyne.NewSize(1600, 1000))
	w.session.SelectNote(40, false)
	by := 1
	for b.Loop() {
		if err := w.session.StepPitch(by); err != nil {
			b.Fatal(err)
		}
		by = -by
		for _, p := range []*picture{w.grid.picture, w.console.keys, w.console.stops, w.bench.staff, w.bench.keys} {
			s := p.raster.Size()
			p.generate(int(s.Width), int(s.Height))
		}
	}
}

// BenchmarkTick measures one movement of the cursor while playing, keys lit
// anew each time.
func BenchmarkTick(b *testing.B) {
	app := test.NewTempApp(b)
	preferences{app.Preferences()}.setTheme(alwaysDark)
	w, err := New(app, Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer w.win.Close()
	w.win.Resize(fyne.NewSize(1600, 1000))
	end := w.session.Chart().Length()
	t := project.Ticks(0)
	for b.Loop() {
		w.console.light(soundingKeys(w.session.Realisation(), t))
		w.top.showPosition(t)
		w.grid.showCursor(t)
		s := w.console.keys.raster.Size()
		w.console.keys.generate(int(s.Width), int(s.Height))
		t = (t + project.Quarter/7) % end
	}
}
