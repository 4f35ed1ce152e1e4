package paint

import (
	"image/color"
	"slices"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"

	"organbook/internal/arrange"
)

func TestShorten(t *testing.T) {
	for _, s := range []string{"", "a", "Am7♭5", "a long name of a passage"} {
		full := TextWidth(s, Regular, 13)
		if got := Shorten(s, Regular, 13, full+0.01); got != s {
			t.Errorf("Shorten(%q) at its own width = %q", s, got)
		}
		for w := 0.0; w < full; w += full / 9 {
			got := Shorten(s, Regular, 13, w)
			if TextWidth(got, Regular, 13) > w {
				t.Errorf("Shorten(%q, %g) = %q, which is %g wide", s, w, got, TextWidth(got, Regular, 13))
			}
		}
	}
}

// TestRectanglesShareEdges holds that neighbouring rectangles neither overlap
// nor leave a gap in pixels, at every scale.
func TestRectanglesShareEdges(t *testing.T) {
	for _, scale := range []float64{1, 1.25, 1.5, 2} {
		c := NewPicture(100, 10, scale, color.NRGBA{A: 255})
		for x := 0.3; x < 90; x += 7.7 {
			c.FillRect(Rect{x, 0, 7.7, 10}, color.NRGBA{255, 255, 255, 100})
		}
		y := c.img.Rect.Dy() / 2
		for x := int(2 * scale); x < int(85*scale); x++ {
			if v := c.img.RGBAAt(x, y).R; v != 100 {
				t.Fatalf("scale %g: pixel %d is %d, painted not exactly once", scale, x, v)
			}
		}
	}
}

// TestPaintingStaysInside paints shapes over every edge of a sub-image.
func TestPaintingStaysInside(t *testing.T) {
	whole := NewPicture(60, 60, 1, color.NRGBA{A: 255})
	c := NewCanvas(subImage(whole.img, 20, 20, 20), 1, 0, 0)
	white := color.NRGBA{255, 255, 255, 255}
	for _, x := range []float64{10, 25, 35} {
		for _, y := range []float64{10, 25, 35} {
			r := Rect{x, y, 15, 15}
			c.RoundRect(r, 5, white)
			c.StrokeRound(r, 5, 2, white)
			c.Hatch(r, 5, 1, white)
			c.Stripes(r, 3, 1, white)
			c.Dots(r, 4, 2, white)
			c.Disc(x, y, 9, white)
			c.Ring(x, y, 12, 2, white)
			c.Text(x, y, "gÅ♭", Style{SemiBold, 20, white}, AlignCentre)
		}
	}
	painted := 0
	for y := 0; y < 60; y++ {
		for x := 0; x < 60; x++ {
			inside := x >= 20 && x < 40 && y >= 20 && y < 40
			if v := whole.img.RGBAAt(x, y).R; v > 0 && !inside {
				t.Fatalf("pixel %d, %d outside was painted", x, y)
			} else if v > 0 {
				painted++
			}
		}
	}
	if painted < 200 {
		t.Errorf("only %d pixels inside were painted", painted)
	}
}

func TestStaffClefAndColumns(t *testing.T) {
	for _, c := range []struct {
		notes   []string
		clef    string
		columns []int
	}{
		{[]string{"Eb4", "F#4", "A4", "Bb4"}, trebleClef, []int{1, 2, -1, 0}},
		{[]string{"E3", "G3", "Bb3", "C4"}, bassClef, []int{-1, -1, 0, -1}},
		{[]string{"Eb4", "Eb5"}, trebleClef, []int{0, 0}},
		{[]string{"C4"}, trebleClef, []int{-1}},
		{[]string{"F#4", "F4", "A4"}, trebleClef, []int{1, 0, -1}},
		{[]string{"Bb4", "E4", "B4"}, trebleClef, []int{-1, 1, 0}},
		{[]string{"F4", "F#5"}, trebleClef, []int{-1, 0}},
	} {
		notes := validSorted(append(pitches(c.notes...), theory.Pitch{}))
		bottom, clef := clefFor(notes)
		p := staffPainter{bottom: bottom, notes: notes}
		got := p.columns().of
		if clef != c.clef {
			t.Errorf("%v: clef %q", c.notes, clef)
		}
		for i := range c.columns {
			if got[i] != c.columns[i] {
				t.Errorf("%v: columns %v, want %v", c.notes, got, c.columns)
				break
			}
		}
	}
}

func TestShareOut(t *testing.T) {
	for _, c := range []struct {
		notes []string
		lower int
		ok    bool
	}{
		{[]string{"D3", "A3", "C4", "E4", "G4"}, 2, true},
		{[]string{"Eb4", "F#4", "A4", "Bb4"}, 0, false},
		{[]string{"E3", "G3", "Bb3", "C4"}, 3, false}, // one ledger line is no reason
		{[]string{"G5", "A5", "C6", "E6"}, 0, false},  // nothing for a lower staff
		{[]string{"E1", "B1"}, -1, false},
	} {
		notes := validSorted(pitches(c.notes...))
		bottom, _ := clefFor(notes)
		if lower, ok := shareOut(notes, bottom); lower != c.lower || ok != c.ok {
			t.Errorf("%v: %d on the lower staff, %v; want %d, %v", c.notes, lower, ok, c.lower, c.ok)
		}
	}
}

// TestEmptyChart holds that a chart without a note or a chord is a grid ready
// for entry, and that no picture of it fails.
func TestEmptyChart(t *testing.T) {
	chart := project.New()
	r := arrange.Realise(chart, arrange.Options{})
	l := LayoutGrid(r, GridOptions{Width: 900})
	s := &l.Systems[0]
	if h := l.Hit(s.Rows.X+50, s.Rows.CentreY()); h.Kind != HitRow || h.Key < 60 || h.Key > 84 {
		t.Errorf("the middle of the rows is hit as %+v", h)
	}
	img := GridPicture(r, "empty", Light(), 900, 1)
	if img.Rect.Dx() != 900 {
		t.Errorf("picture is %v", img.Rect)
	}
	savePicture(t, "empty", img)
}

// TestPictureIsBounded holds that a huge scale does not take huge memory.
func TestPictureIsBounded(t *testing.T) {
	img := GridPicture(demo(), "demo", Light(), 1200, 30)
	if n := img.Rect.Dx() * img.Rect.Dy(); n > maxPicturePixels*21/20 {
		t.Errorf("picture of %v has %d pixels", img.Rect, n)
	}
}

// TestSignsOfABlockDoNotTouch draws the signs of clusters one by one and
// compares the pixels, with those of the clef, too.
func TestSignsOfABlockDoNotTouch(t *testing.T) {
	const width, height = 130, 90
	for _, notes := range [][]string{
		{"C#4", "D#4", "F#4", "G#4"}, {"Ab4", "Bb4", "Db5", "Eb5"}, {"Abb4", "Bbb4", "Cb5", "Dbb5"},
		{"G##4", "A#4", "B#4", "C##5"}, {"Fb4", "Gb4", "Ab4", "C5", "Db5"}, {"Eb4", "F#4", "A4", "Bb4"},
		{"F4", "F#4", "G#4", "B4"}, {"Eb4", "Bb4", "B4"},
	} {
		p := staffPainter{th: Dark(), bottom: trebleBottom, notes: validSorted(pitches(notes...))}
		signs := p.columns()
		low, high := p.bounds()
		owner := make([]string, width*height*4)
		draw := func(name string, paint func()) {
			p.Canvas = NewPicture(width, height, 2, color.NRGBA{A: 255})
			p.fit(Rect{0, 0, width, height}, low, high, p.across())
			paint()
			for i := range owner {
				if p.img.Pix[4*i] < 100 {
					continue
				}
				if owner[i] != "" {
					t.Errorf("%v: %s touches %s", notes, name, owner[i])
					return
				}
				owner[i] = name
			}
		}
		draw("the clef", func() { p.sign(p.space*0.5, p.at(0), trebleClef, 1, AlignLeft) })
		for i, n := range p.notes {
			only := signColumns{of: slices.Repeat([]int{-1}, len(p.notes)), widths: signs.widths}
			only.of[i] = signs.of[i]
			draw(n.String(), func() { p.accidentals(p.space*(clefRoom+signs.room()), only) })
		}
	}
}
