package ui

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"pgregory.net/rapid"
)

// sheet is what a scroll holds in these tests; it counts how often it is moved.
type sheet struct {
	canvas.Rectangle
	moved int
}

func (s *sheet) Move(p fyne.Position) {
	s.moved++
	s.Rectangle.Move(p)
}

// TestSettledScrollIsTheToolkits does the same to a settled scroll and to the
// toolkit's, with the layout of each frame in between: they show the same at the
// same places.
func TestSettledScrollIsTheToolkits(t *testing.T) {
	test.NewTempApp(t)
	rapid.Check(t, func(t *rapid.T) {
		ours, theirs := &sheet{}, &sheet{}
		a, b := newSettledScroll(ours), container.NewVScroll(theirs)
		for range rapid.IntRange(1, 20).Draw(t, "steps") {
			what, by := rapid.IntRange(0, 5).Draw(t, "what"), rapid.Float32Range(-300, 900).Draw(t, "by")
			for _, s := range []*container.Scroll{&a.Scroll, b} {
				switch size := s.Size(); what {
				case 0:
					s.Resize(fyne.NewSize(max(40, by), max(60, by/2)))
				case 1:
					s.ScrollToOffset(fyne.NewPos(0, by))
				case 2:
					s.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -by)})
				case 3: // the content asks for another height, and the frame finds out
					s.Content.(*sheet).SetMinSize(fyne.NewSize(20, max(1, by)))
				case 4:
					s.Content.(*sheet).SetMinSize(fyne.NewSize(20, max(1, by)))
					s.Refresh()
				default:
					s.Move(fyne.NewPos(by, by))
					s.Resize(size)
				}
			}
			test.WidgetRenderer(a).Layout(a.Size())
			test.WidgetRenderer(b).Layout(b.Size())
			if a.Offset != b.Offset || ours.Position() != theirs.Position() || ours.Size() != theirs.Size() {
				t.Fatalf("%v %v at %v, the toolkit's %v %v at %v", ours.Position(), ours.Size(), a.Offset, theirs.Position(), theirs.Size(), b.Offset)
			}
			bars := test.WidgetRenderer(b).Objects()
			for i, o := range test.WidgetRenderer(a).Objects() {
				if p := bars[i]; o.Visible() != p.Visible() || o.Position() != p.Position() || o.Size() != p.Size() {
					t.Fatalf("part %d of the scroll is at %v, %v, the toolkit's at %v, %v", i, o.Position(), o.Size(), p.Position(), p.Size())
				}
			}
		}
	})
}

// TestSettledScrollIsLaidOutOnce changes the height of the content: after Refresh
// the layout of the frame moves nothing more, and without it the layout does all.
func TestSettledScrollIsLaidOutOnce(t *testing.T) {
	test.NewTempApp(t)
	s := &sheet{}
	scroll := newSettledScroll(s)
	scroll.Resize(fyne.NewSize(100, 100))
	for i, height := range []float32{500, 300, 80, 700} {
		s.SetMinSize(fyne.NewSize(20, height))
		if i%2 == 0 {
			scroll.Refresh()
			moved := s.moved
			test.WidgetRenderer(scroll).Layout(scroll.Size())
			if s.moved != moved {
				t.Errorf("%v high: laid out again after it was refreshed", height)
			}
		} else {
			test.WidgetRenderer(scroll).Layout(scroll.Size())
		}
		if s.Size().Height != max(height, 100) {
			t.Errorf("%v high: the content is given %v", height, s.Size().Height)
		}
	}
}

// TestEditsLeaveNothingToLayOut moves a note up step by step, which gives the
// bench other sentences and lists of other lengths: what is scrolled is in its
// place when the command ends, so that the frame needs no other one after it.
func TestEditsLeaveNothingToLayOut(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	heights := map[float32]bool{}
	for range 12 {
		w.run("note.up")
		for name, s := range map[string]*settledScroll{"bench": w.bench.scroll, "grid": &w.grid.scroll.settledScroll} {
			impl := fyne.Widget(s)
			if name == "grid" {
				impl = w.grid.scroll
			}
			r := test.WidgetRenderer(impl).(*settledRenderer)
			if r.layout(s.Size()) != r.laid {
				t.Errorf("the %s is laid out again when it is drawn", name)
			}
		}
		heights[w.bench.body.Size().Height] = true
	}
	if len(heights) < 2 {
		t.Error("no edit changed the bench's height")
	}
}
