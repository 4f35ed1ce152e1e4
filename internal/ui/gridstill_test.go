package ui

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/project"
)

// onScreen is where a key's row of a system stands in the view.
func onScreen(w *Window, system, key int) float64 {
	return w.grid.layout.RowY(system, key) - float64(w.grid.scroll.Offset.Y)
}

func TestRowsStayUnderThePointer(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	s := w.grid.layout.Systems[1]
	start := w.session.Chart().BarStart(s.FirstBar)
	w.session.SetCaret(start)
	before, low, high := onScreen(w, 1, 70), s.Low, s.High
	check := func(what string) {
		t.Helper()
		if got := onScreen(w, 1, 70); math.Abs(got-before) > 1 {
			t.Errorf("%s: the row moved from %.0f to %.0f", what, before, got)
		}
	}
	for _, key := range []int{high + 4, low - 5, high + 2, 70} {
		if err := w.session.PlaceAt(start, key); err != nil {
			t.Fatal(err)
		}
		check("a note")
	}
	if s := w.grid.layout.Systems[1]; s.Low > low-5 || s.High < high+4 {
		t.Errorf("rows from %d to %d were given up while editing", s.Low, s.High)
	}
	w.session.Undo()
	check("undo")
	third := w.session.Chart().BarStart(w.grid.layout.Systems[2].FirstBar)
	w.session.SetCaret(third)
	if s := w.grid.layout.Systems[1]; s.High-s.Low > high-low+8 {
		t.Errorf("after leaving it the system has rows from %d to %d, had %d to %d at first", s.Low, s.High, low, high)
	}
	w.session.Open(project.New(), "")
	if w.grid.still.rows != nil {
		t.Error("another chart keeps the rows of the one before")
	}
}
