package ui

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

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

// roundingDriver is a window as the screen's driver has it: it asks for whole dots,
// tells whole units, rounding up both, and rounds its scale to tenths.
type roundingDriver struct {
	screen, scale float32
	dots          int
}

func (d *roundingDriver) setScale(percent int) {
	d.scale = float32(math.Round(float64(d.screen)*float64(percent)/10)) / 10
}

func (d *roundingDriver) resize(units float32) { d.dots = int(math.Ceil(float64(units * d.scale))) }

func (d *roundingDriver) size() fyne.Size {
	units := float32(math.Ceil(float64(float32(d.dots) / d.scale)))
	return fyne.NewSize(units, units)
}

// TestTheWindowKeepsItsDots goes up and down the sizes, with windows of every width
// on screens of several scales. One that was opened at another size than 100 % may
// lose what cannot be known, less than a unit, and no more.
func TestTheWindowKeepsItsDots(t *testing.T) {
	for _, screen := range []float32{1, 1.5, 2} {
		for width := 1000; width < 1700; width++ {
			for _, first := range []int{100, 110, 170} {
				d, known := &roundingDriver{screen: screen, dots: width}, dots{}
				d.setScale(first)
				exact := 0
				for i, percent := range append(append([]int{}, scales...), 200, 150, 110, 100, 110, 120, 110, 100) {
					size, before := d.size(), d.scale
					if d.setScale(percent); d.scale == before {
						continue
					}
					known = known.of(size, before)
					d.resize(known.at(d.scale).Width)
					if exact == 0 {
						exact = d.dots
					}
					if d.dots != exact || before == 1 && i == 0 && exact != width || math.Abs(float64(exact-width)) > float64(screen)*2 {
						t.Fatalf("screen at %v, first %d %%: a window of %d dots has %d at %d %%", screen, first, width, d.dots, percent)
					}
				}
			}
		}
	}
}

// TestAnotherWidthIsAnotherWindow resizes it between two changes.
func TestAnotherWidthIsAnotherWindow(t *testing.T) {
	d := &roundingDriver{screen: 1, scale: 1, dots: 1440}
	known := dots{}.of(d.size(), 1)
	d.setScale(110)
	d.resize(known.at(d.scale).Width)
	d.dots = 1283 // the user
	known = known.of(d.size(), d.scale)
	d.setScale(100)
	d.resize(known.at(d.scale).Width)
	if d.dots < 1283 || d.dots > 1284 {
		t.Errorf("a window of 1283 dots has %d", d.dots)
	}
}

// TestAFirstWindowFitsTheScreen however small that is, and does not grow on a large one.
func TestAFirstWindowFitsTheScreen(t *testing.T) {
	for _, tc := range []struct {
		width, height int
		scale         float32
		want          fyne.Size
	}{
		{1920, 1080, 1, openSize},
		{1280, 800, 1, fyne.NewSize(1272, 760)},
		{1366, 768, 1, fyne.NewSize(1358, 728)},
		{1440, 1000, 1, fyne.NewSize(1432, 900)},
		{1920, 1080, 2, fyne.NewSize(952, 500)},
		{640, 480, 1, fyne.NewSize(640, 440)},
	} {
		w := open(t, Options{}, alwaysDark, openSize)
		w.win.Canvas().(test.WindowlessCanvas).SetScale(tc.scale)
		w.win.Resize(openSize)
		if w.Fit(tc.width, tc.height); w.win.Canvas().Size() != tc.want {
			t.Errorf("on %d×%d pixels at %g it is %v, want %v", tc.width, tc.height, tc.scale, w.win.Canvas().Size(), tc.want)
		}
	}
}
