package ui

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"organbook/assets"
	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

// longChart is the demo's song over and over, as long as 200 bars.
func longChart(tb testing.TB) *project.Chart {
	tb.Helper()
	c, err := assets.Demo()
	if err == nil {
		c, err = projecttest.Repeated(c, 200)
	}
	if err != nil {
		tb.Fatal(err)
	}
	return c
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
		for _, p := range []*picture{w.grid.picture, w.console.keys, w.console.stops, w.bench.note.staff, w.bench.note.keys} {
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
