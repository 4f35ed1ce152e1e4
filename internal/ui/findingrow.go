package ui

import (
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/arrange"
	"organbook/internal/reach"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// findingRow is one finding: its sign, where it is and whose, what it says
// and, on the one that was walked to, the ways out as buttons.
type findingRow struct {
	widget.BaseWidget
	v          *reachPage
	index      int
	f          *reach.Finding
	place      string
	here, over bool
	sign       *picture
	ways       []*button
}

var (
	_ fyne.Tappable     = (*findingRow)(nil)
	_ desktop.Hoverable = (*findingRow)(nil)
)

func newFindingRow(v *reachPage, index int) *findingRow {
	r := &findingRow{v: v, index: index, f: &reach.Finding{}}
	r.sign = newPainted(r.paint)
	r.ExtendBaseWidget(r)
	return r
}

func (r *findingRow) show(f *reach.Finding, place string, here bool) {
	r.f, r.place, r.here = f, place, here
	r.sign.valid = false
	r.ways = r.ways[:0]
	if here {
		list, _ := r.v.b.w.session.KnownRemedies(r.index)
		for k, way := range list {
			r.ways = append(r.ways, r.way(k, way))
		}
	}
	r.Refresh()
}

// way is the button of one way out.
func (r *findingRow) way(k int, way arrange.Remedy) *button {
	w := r.v.b.w
	hint := "Way out: " + way.Text
	if k == 0 {
		hint += "  (Enter)"
	}
	b := w.top.button(prose(way.Text), hint, func() {
		w.grid.say(w.session.ApplyRemedy(r.index, k))
		w.focusPanel(command.Reach)
	})
	b.compact = true
	return b
}

func (r *findingRow) paint(c *paint.Canvas) {
	th := r.v.b.w.look.colours()
	c.Clear(th.Panel)
	box := c.Visible()
	c.FindingSign(box.CentreX(), box.CentreY(), 7, arrange.Severity(r.f.Severity), th)
}

// Tapped walks to the finding.
func (r *findingRow) Tapped(*fyne.PointEvent) {
	r.v.b.w.focusPanel(command.Reach)
	r.v.b.w.session.PickFinding(r.index)
}

// MouseIn lights the row.
func (r *findingRow) MouseIn(*desktop.MouseEvent) { r.over = true; r.Refresh() }

// MouseMoved does nothing.
func (r *findingRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes the light away.
func (r *findingRow) MouseOut() { r.over = false; r.Refresh() }

// limbLetters are the letters of the lanes and the console.
var limbLetters = [...]string{"R", "L", "LF", "RF"}

// head is "9.3 · R · demanding".
func (r *findingRow) head() string {
	s := fmt.Sprintf("%s · %s · %v", r.place, limbLetters[r.f.Limb], r.f.Severity)
	if r.f.Count > 1 {
		s += fmt.Sprintf(" · %d times", r.f.Count)
	}
	return s
}

const (
	findingLine float32 = 16
	wayHeight   float32 = 24
	findingLeft float32 = 32
)

// height is what the row needs at a width.
func (r *findingRow) height(width float32) float32 {
	h := 28 + findingLine*float32(len(r.lines(width))) + 6
	switch {
	case !r.here:
	case len(r.ways) == 0:
		h += findingLine
	default:
		h += float32(len(r.ways)) * (wayHeight + unit)
	}
	return h
}

// lines is the text of the finding at a width of the row.
func (r *findingRow) lines(width float32) []string {
	return wrapWords(prose(capital(r.f.Text))+".", paint.Regular, float64(sizeSmall+1), float64(width-findingLeft-8))
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// wrapWords breaks a text into lines of a width.
func wrapWords(s string, f paint.Font, size, width float64) (lines []string) {
	line := ""
	for _, word := range strings.Fields(s) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && paint.TextWidth(longer, f, size) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	return append(lines, line)
}

// CreateRenderer draws the row.
func (r *findingRow) CreateRenderer() fyne.WidgetRenderer {
	o := &findingRenderer{r: r, face: canvas.NewRectangle(color.Transparent), head: text("", sizeSmall+1, true, color.White), none: text("", sizeSmall, false, color.White)}
	o.face.CornerRadius = radiusControl
	o.Refresh()
	return o
}

type findingRenderer struct {
	r          *findingRow
	face       *canvas.Rectangle
	head, none *canvas.Text
	lines      []*canvas.Text
}

// Layout puts the sign left, the words right of it and the ways out below.
func (o *findingRenderer) Layout(s fyne.Size) {
	put(o.face, 0, 0, s.Width, s.Height)
	o.r.sign.place(8, 6, 18, 18)
	move(o.head, findingLeft, 7)
	y := float32(26)
	for _, t := range o.lines {
		move(t, findingLeft, y)
		y += findingLine
	}
	y += 3
	move(o.none, findingLeft, y)
	for _, b := range o.r.ways {
		width := min(b.MinSize().Width, s.Width-findingLeft-8)
		b.setLabel(paint.Shorten(b.label, paint.SemiBold, float64(sizeSmall+1), float64(width-4*unit+1)), false)
		put(b, findingLeft, y, width, wayHeight)
		y += wayHeight + unit
	}
}

// MinSize is a row of one line.
func (o *findingRenderer) MinSize() fyne.Size { return fyne.NewSize(200, 50) }

// Refresh follows state and theme.
func (o *findingRenderer) Refresh() {
	r, p := o.r, o.r.v.b.w.look.colours()
	o.face.FillColor, o.face.StrokeColor, o.face.StrokeWidth = p.Panel, p.Hair, 1
	if r.here {
		o.face.FillColor, o.face.StrokeColor, o.face.StrokeWidth = p.Panel, p.Accent, 1.5
	} else if r.over {
		o.face.FillColor = mix(p.Panel, p.Text, 0.06)
	}
	o.head.Text, o.head.Color, o.none.Color = r.head(), p.Text, p.Muted
	o.none.Text = r.waiting()
	width := r.Size().Width
	if width < 100 {
		width = 260
	}
	o.lines = o.lines[:0]
	for _, line := range r.lines(width) {
		o.lines = append(o.lines, text(line, sizeSmall+1, false, p.Text))
	}
	o.Layout(r.Size())
	r.sign.raster.Refresh()
	canvas.Refresh(r)
}

// waiting is what stands in the place of the ways out.
func (r *findingRow) waiting() string {
	if !r.here || len(r.ways) > 0 {
		return ""
	}
	if _, known := r.v.b.w.session.KnownRemedies(r.index); !known {
		return "Looking for ways out…"
	}
	return "No way out that holds; change the passage by hand."
}

// Objects are drawn in this order.
func (o *findingRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{o.face, o.r.sign.raster, o.head, o.none}
	for _, t := range o.lines {
		out = append(out, t)
	}
	for _, b := range o.r.ways {
		out = append(out, b)
	}
	return out
}

// Destroy has nothing to free.
func (o *findingRenderer) Destroy() {}
