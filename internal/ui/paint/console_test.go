package paint

import (
	"math"
	"strings"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/reach"
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

// TestSplitLine holds that the line at a split runs from above the keys to their
// front, with the lower division's keys at its left and the upper one's at its
// right, wherever the split is.
func TestSplitLine(t *testing.T) {
	for _, text := range []string{"own upper:55-100 lower:28-54 split:55", "own upper:54-100 lower:28-53 split:54", "own upper:53-100 lower:28-52 split:53"} {
		k, err := project.ParseConsole(text)
		if err != nil {
			t.Fatal(err)
		}
		l := LayoutConsole(900, 120, k)
		path := l.splitPath()
		if len(path) == 0 {
			t.Fatalf("%s: no line", text)
		}
		low, _, _ := l.KeyRect(arrange.Lower, k.Split-1)
		high, _, _ := l.KeyRect(arrange.Upper, k.Split)
		top, bottom := math.Inf(1), 0.0
		for _, r := range path {
			top, bottom = math.Min(top, r.Y), math.Max(bottom, r.Bottom())
			if y := r.CentreY(); y < l.Upper.Y || r.W > 2*splitLine {
				continue
			}
			for d, side := range map[arrange.Division]float64{arrange.Lower: -1, arrange.Upper: 1} {
				if got, key, ok := l.KeyAt(r.CentreX()+side*2, r.CentreY()); !ok || got != d {
					t.Errorf("%s: beside the line at %+v is key %d of %v (%v), want %v", text, r, key, got, ok, d)
				}
			}
		}
		if top >= l.Upper.Y || bottom < low.Bottom()-0.01 && bottom < high.Bottom()-0.01 {
			t.Errorf("%s: the line goes from %g to %g", text, top, bottom)
		}
	}
	if path := LayoutConsole(900, 120, project.Consoles()[0]).splitPath(); len(path) > 0 {
		t.Errorf("a console that is not split has the line %v", path)
	}
}

func TestIsSharp(t *testing.T) {
	for key, want := range map[int]bool{60: false, 61: true, 62: false, 63: true, 64: false, 65: false, 66: true, 68: true, 70: true, 71: false, 0: false, 127: false} {
		if isSharp(key) != want {
			t.Errorf("isSharp(%d) = %v", key, !want)
		}
	}
}

// TestPictureIsTheModel holds that keys are drawn as far apart as the reach
// model has them, on every console, to one scale for all keyboards.
func TestPictureIsTheModel(t *testing.T) {
	own, err := project.ParseConsole("own upper:36-96 lower:36-84 pedal:36-67 offset:-40")
	if err != nil {
		t.Fatal(err)
	}
	for _, console := range append(project.Consoles(), own) {
		l, model := LayoutConsole(900, 260, console), arrange.ReachConsole(console)
		for d := range l.keys {
			for i := range l.keys[d] {
				a, b := &l.keys[d][0], &l.keys[d][i]
				p, q := model.Key(reach.Division(d), a.key), model.Key(reach.Division(d), b.key)
				drawn, real := (b.CentreX()-a.CentreX())/l.Scale, float64(q.Middle()-p.Middle())
				if math.Abs(drawn-real) > 1e-6 {
					t.Fatalf("%s: keys %d and %d of %v are drawn %.2f mm apart; they are %.2f", console.ID, a.key, b.key, arrange.Division(d), drawn, real)
				}
			}
		}
		for key := console.Lower.Lowest; key <= console.Lower.Highest; key++ {
			lower, _, _ := l.KeyRect(arrange.Lower, key)
			if upper, _, ok := l.KeyRect(arrange.Upper, key); ok && math.Abs((lower.X-upper.X)/l.Scale-float64(console.LowerOffset)) > 1e-6 {
				t.Fatalf("%s: %d of the lower manual stands %.2f mm to the right, not %d", console.ID, key, (lower.X-upper.X)/l.Scale, console.LowerOffset)
			}
		}
	}
	concert := LayoutConsole(900, 260, project.Consoles()[2])
	if end, middle := concert.keys[arrange.Pedal][0], concert.keys[arrange.Pedal][16]; end.Y >= middle.Y {
		t.Errorf("a concave board rises to its ends; its lowest pedal is drawn at %g, its middle at %g", end.Y, middle.Y)
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

func TestKeyMarksAreInTheReadersLanguage(t *testing.T) {
	german := func(s string) string {
		return map[string]string{"t": "S", "h": "A", "front": "vorn", "behind": "hinten"}[s]
	}
	for _, c := range []struct {
		lit             LitKey
		english, german string
	}{
		{LitKey{Limb: arrange.LeftFoot, Part: reach.Heel}, "h LF", "A LF"},
		{LitKey{Limb: arrange.RightFoot, Part: reach.Toe, Cross: reach.InFront}, "front t RF", "vorn S RF"},
		{LitKey{Limb: arrange.RightFoot, Part: reach.Toe, Cross: reach.Behind, Glide: true}, "behind –t RF", "hinten –S RF"},
		{LitKey{Limb: arrange.RightHand, Finger: 5, Then: 4}, "5-4 R", "5-4 R"},
	} {
		if got := strings.Join((&ConsoleLayout{}).keyMarks(c.lit), " "); got != c.english {
			t.Errorf("in English %q, want %q", got, c.english)
		}
		if got := strings.Join((&ConsoleLayout{Words: german}).keyMarks(c.lit), " "); got != c.german {
			t.Errorf("in German %q, want %q", got, c.german)
		}
	}
}
