package ui

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/ui/command"
)

// TestEverythingGrowsWithinTheWindow makes everything bigger by its key until
// there is no more: the driver is told each size, the window keeps its pixels,
// the size is remembered, and a window that is too small says so.
func TestEverythingGrowsWithinTheWindow(t *testing.T) {
	var told []int
	w := open(t, Options{SetScale: func(percent int) { told = append(told, percent) }}, alwaysDark, fyne.NewSize(1600, 1000))
	for range len(scales) + 2 {
		do := w.commands.ForKey(command.Grid, "F8")
		if do == nil {
			t.Fatal("F8 does nothing")
		}
		w.do(do)
		size := w.win.Canvas().Size()
		pixels := size.Width * float32(w.scale) / 100
		if pixels < 1599 || pixels > 1601 {
			t.Errorf("at %d %% the window is %v units wide, which is %v pixels", w.scale, size.Width, pixels)
		}
		if w.prefs.scale() != w.scale || ScaleOf(w.app) != w.scale {
			t.Errorf("%d %% is remembered as %d", w.scale, w.prefs.scale())
		}
	}
	if w.scale != 250 || !slices.Equal(told[:len(scales)-1], scales[1:]) {
		t.Errorf("the driver was told %v", told)
	}
	w.Scale(-1)
	if w.scale != 230 {
		t.Errorf("smaller than 250 is %d", w.scale)
	}
	w.Scale(0)
	if size := w.win.Canvas().Size(); w.scale != 100 || size.Width < 1590 || size.Width > 1610 {
		t.Errorf("at its usual size, %d %%, the window is %v", w.scale, size)
	}
	w.win.Resize(fyne.NewSize(700, 500))
	told = nil
	w.Scale(1)
	if len(told) > 0 || !strings.Contains(w.session.Message(), "too small") {
		t.Errorf("in a window of 700 units the driver is told %v and the user %q", told, w.session.Message())
	}
}

func TestStepsOfScale(t *testing.T) {
	for _, c := range []struct{ now, step, want int }{
		{100, 1, 110}, {100, -1, 100}, {250, 1, 250}, {140, 1, 150}, {140, -1, 130}, {170, 0, 100}, {400, -1, 250}, {50, 1, 100},
	} {
		if got := nextScale(c.now, c.step); got != c.want {
			t.Errorf("%d steps from %d is %d, want %d", c.step, c.now, got, c.want)
		}
	}
}
