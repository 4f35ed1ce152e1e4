package paint

import (
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

func TestEveryKeyIsHitWhereItIsDrawn(t *testing.T) {
	for _, console := range project.Consoles() {
		l := LayoutConsole(900, 240, console)
		whole := Rect{0, 0, l.Width, l.Height}
		for d, compass := range []project.Compass{console.Upper, console.Lower, console.Pedal} {
			for key := compass.Lowest; key <= compass.Highest; key++ {
				r, sharp, ok := l.KeyRect(arrange.Division(d), key)
				if !ok || r.Empty() || r.X < whole.X || r.Right() > whole.Right() || r.Y < 0 || r.Bottom() > whole.Bottom()+0.01 {
					t.Fatalf("%s: key %d of %v at %+v (%v)", console.ID, key, arrange.Division(d), r, ok)
				}
				y := r.Bottom() - 1
				if sharp {
					y = r.Y + 1
				}
				division, got, ok := l.KeyAt(r.CentreX(), y)
				if !ok || got != key || division != arrange.Division(d) {
					t.Errorf("%s: key %d of %v is hit as %d of %v (%v)", console.ID, key, arrange.Division(d), got, division, ok)
				}
			}
		}
		if _, _, ok := l.KeyRect(arrange.Upper, 20); ok {
			t.Errorf("%s has a key it lacks", console.ID)
		}
		if _, _, ok := l.KeyAt(-1, -1); ok {
			t.Errorf("%s has a key outside", console.ID)
		}
	}
}

// TestWhiteKeysTile holds that naturals of a manual follow each other without
// gap and that sharps lie over two of them.
func TestWhiteKeysTile(t *testing.T) {
	l := LayoutConsole(1000, 300, project.Consoles()[0])
	x := l.Upper.X
	for _, k := range l.keys[arrange.Upper] {
		if k.sharp {
			if k.CentreX() < x-k.W || k.CentreX() > x+k.W || k.H >= l.Upper.H {
				t.Errorf("sharp %d at %+v is not over the crack at %g", k.key, k.Rect, x)
			}
			continue
		}
		if diff := k.X - x; diff > 1e-6 || diff < -1e-6 {
			t.Errorf("key %d starts at %g, want %g", k.key, k.X, x)
		}
		x = k.Right()
	}
	if got := x - l.Upper.X; got < l.Upper.W-1e-6 || got > l.Upper.W+1e-6 {
		t.Errorf("keys are %g wide, the manual %g", got, l.Upper.W)
	}
}

func TestIsSharp(t *testing.T) {
	for key, want := range map[int]bool{60: false, 61: true, 62: false, 63: true, 64: false, 65: false, 66: true, 68: true, 70: true, 71: false, 0: false, 127: false} {
		if isSharp(key) != want {
			t.Errorf("isSharp(%d) = %v", key, !want)
		}
	}
	if got := whiteIndex(72) - whiteIndex(60); got != 7 {
		t.Errorf("an octave has %d white keys", got)
	}
}

func TestDrawbarHit(t *testing.T) {
	l := LayoutDrawbars(Rect{10, 20, 200, 150}, arrange.Upper)
	if len(l.Bars) != 9 {
		t.Fatalf("%d bars", len(l.Bars))
	}
	for i, b := range l.Bars {
		for setting := uint8(0); setting <= maxDrawbar; setting++ {
			x := b.X + b.W*float64(setting)/maxDrawbar
			bar, got, ok := l.Hit(x, b.CentreY())
			if !ok || bar != i || got != setting {
				t.Errorf("bar %d at %d: hit bar %d at %d (%v)", i, setting, bar, got, ok)
			}
		}
	}
	if _, _, ok := l.Hit(100, 25); ok {
		t.Error("the title was hit as a drawbar")
	}
	if n := len(LayoutDrawbars(Rect{0, 0, 100, 60}, arrange.Pedal).Bars); n != 2 {
		t.Errorf("the pedals have %d drawbars", n)
	}
}
