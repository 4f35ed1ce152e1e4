package ui

import (
	"fmt"
	"image/color"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/phrase"
	"organbook/internal/reach"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// findingRow is one finding: its sign, where it is and whose, what it says
// and, on the one that was walked to, the ways out with their numbers.
type findingRow struct {
	widget.BaseWidget
	v          *reachPage
	index      int
	f          *reach.Finding
	place      string
	here, over bool
	sign       *picture
	ways       []*wayOut
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
			r.ways = append(r.ways, newWayOut(r, k, way))
		}
	}
	r.Refresh()
}

func (r *findingRow) paint(c *paint.Canvas) {
	th := r.v.b.w.look.colours()
	c.Clear(th.Panel)
	box := c.Visible()
	c.FindingSign(box.CentreX(), box.CentreY(), 7, r.f.Severity, th)
}

// Tapped walks to the finding, or takes the way out under the pointer.
func (r *findingRow) Tapped(e *fyne.PointEvent) {
	r.v.b.w.focusPanel(command.Reach)
	if e != nil && r.here {
		for _, w := range r.ways {
			if w.holds(e.Position.Y) {
				w.button.Tapped(e)
				return
			}
		}
	}
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
	s := fmt.Sprintf("%s · %s · %s", r.place, limbLetters[r.f.Limb], tr(r.f.Severity.String()))
	if r.f.Count > 1 {
		s += " · " + tr(fmt.Sprintf("%d times", r.f.Count))
	}
	return s
}

const (
	findingLine float32 = 16
	findingLeft float32 = 32
)

// height is what the row needs at a width.
func (r *findingRow) height(width float32) float32 {
	h := 28 + findingLine*float32(len(r.lines(width))) + 6
	switch {
	case !r.here:
	case len(r.ways) == 0:
		h += findingLine * float32(len(r.waiting(width)))
	default:
		for _, w := range r.ways {
			h += w.height(width) + unit
		}
	}
	return h
}

// lines is the text of the finding at a width of the row.
func (r *findingRow) lines(width float32) []string {
	return wrapWords(prose(capital(say(r.f.Text)))+".", paint.Regular, float64(sizeSmall+1), float64(width-findingLeft-8))
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
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
	o := &findingRenderer{r: r, face: canvas.NewRectangle(color.Transparent), head: text("", sizeSmall+1, true, color.White)}
	o.face.CornerRadius = radiusControl
	o.Refresh()
	return o
}

type findingRenderer struct {
	r     *findingRow
	face  *canvas.Rectangle
	head  *canvas.Text
	lines []*canvas.Text
	none  []*canvas.Text // in the place of ways out
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
	for _, t := range o.none {
		move(t, findingLeft, y)
		y += findingLine
	}
	for _, w := range o.r.ways {
		y = w.layout(y, s.Width) + unit
	}
}

// MinSize is a row of one line.
func (o *findingRenderer) MinSize() fyne.Size { return fyne.NewSize(200, 50) }

// Refresh follows state and theme.
func (o *findingRenderer) Refresh() {
	r, p := o.r, o.r.v.b.w.look.colours()
	o.face.FillColor, o.face.StrokeColor, o.face.StrokeWidth = color.Transparent, color.Transparent, 0 // costs nothing
	if r.here {
		o.face.FillColor, o.face.StrokeColor, o.face.StrokeWidth = p.Panel, p.Accent, 1.5
	} else if r.over {
		o.face.FillColor = mix(p.Panel, p.Text, 0.06)
	}
	o.head.Text, o.head.Color = r.head(), p.Text
	width := r.Size().Width
	if width < 100 {
		width = 260
	}
	o.lines = o.lines[:0]
	for _, line := range r.lines(width) {
		o.lines = append(o.lines, text(line, sizeSmall+1, false, p.Text))
	}
	o.none = o.none[:0]
	for _, line := range r.waiting(width) {
		o.none = append(o.none, text(line, sizeSmall, false, p.Muted))
	}
	o.Layout(r.Size())
	r.sign.raster.Refresh()
	canvas.Refresh(r)
}

// waiting are the lines that stand in the place of the ways out: that they are
// being looked for, or why there is none and what can be done by hand.
func (r *findingRow) waiting(width float32) []string {
	if !r.here || len(r.ways) > 0 {
		return nil
	}
	said := tr("Looking for ways out…")
	if _, known := r.v.b.w.session.KnownRemedies(r.index); known {
		said = prose(say(phrase.Of("No way out: %s.", r.f.ByHand())))
	}
	return wrapWords(said, paint.Regular, float64(sizeSmall), float64(width-findingLeft-8))
}

// Objects are drawn in this order.
func (o *findingRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{o.face, o.r.sign.raster, o.head}
	for _, t := range append(slices.Clone(o.lines), o.none...) {
		out = append(out, t)
	}
	for _, w := range o.r.ways {
		out = append(out, w.objects()...)
	}
	return out
}

// Destroy has nothing to free.
func (o *findingRenderer) Destroy() {}
