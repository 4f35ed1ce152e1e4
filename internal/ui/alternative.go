package ui

import (
	"fmt"
	"image/color"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/arrange"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// alternativeRow is one block the bench offers: a small keyboard, its voices,
// what it is, and what sets it apart.
type alternativeRow struct {
	widget.BaseWidget
	b          *benchView
	index      int
	a          arrange.Alternative
	here, over bool
	keys       *picture
}

var (
	_ fyne.Tappable     = (*alternativeRow)(nil)
	_ desktop.Hoverable = (*alternativeRow)(nil)
)

func newAlternativeRow(b *benchView, index int) *alternativeRow {
	r := &alternativeRow{b: b, index: index}
	r.keys = newPainted(r.paint)
	r.ExtendBaseWidget(r)
	return r
}

func (r *alternativeRow) show(a arrange.Alternative, here bool) {
	r.a, r.here = a, here
	r.keys.valid = false
	r.Refresh()
}

func (r *alternativeRow) paint(c *paint.Canvas) {
	p := r.b.w.look.colours()
	c.Clear(p.Panel)
	paint.PaintBlockKeys(c, c.Visible(), paint.BlockKeysOf(r.a.Voices, arrange.RightHand), p)
}

// Tapped walks to the alternative and sounds it.
func (r *alternativeRow) Tapped(*fyne.PointEvent) {
	r.b.w.focusPanel(command.Bench)
	r.b.w.session.PickAlternative(r.index)
}

// MouseIn lights the row and shows the reason.
func (r *alternativeRow) MouseIn(*desktop.MouseEvent) {
	r.over = true
	hint := prose(r.a.Reason)
	if r.a.Remark != "" {
		hint = r.a.Remark + ": " + hint
	}
	r.b.w.hint(hint)
	r.Refresh()
}

// MouseMoved does nothing.
func (r *alternativeRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes light and hint away.
func (r *alternativeRow) MouseOut() {
	r.over = false
	r.b.w.hint("")
	r.Refresh()
}

// voicesText is "F♯ E♭ C under B♭".
func voicesText(b arrange.Block) string {
	if len(b.Voices) == 0 {
		return ""
	}
	lead := b.Voices[0].Name().Pretty()
	var under []string
	for _, v := range b.Voices[1:] {
		under = append(under, v.Name().Pretty())
	}
	if len(under) == 0 {
		return lead + " alone"
	}
	return strings.Join(under, " ") + " under " + lead
}

// kindText is "borrowed · drop 2 · D7♭9♯5"; the voicing is left out where it
// is the passage's own.
func kindText(b arrange.Block, usual theory.Voicing) string {
	parts := []string{b.Technique.String()}
	if b.Voicing != usual {
		parts = append(parts, session.VoicingName(b.Voicing))
	}
	if b.Name != "" {
		parts = append(parts, theory.Pretty(b.Name))
	}
	return strings.Join(parts, " · ")
}

// CreateRenderer draws the row.
func (r *alternativeRow) CreateRenderer() fyne.WidgetRenderer {
	out := &alternativeRenderer{r: r, face: canvas.NewRectangle(color.Transparent),
		voices: text("", sizeText, true, color.White), kind: text("", sizeSmall, false, color.White), remark: text("", sizeSmall, false, color.White)}
	out.face.CornerRadius = radiusControl
	out.Refresh()
	return out
}

type alternativeRenderer struct {
	r                    *alternativeRow
	face                 *canvas.Rectangle
	voices, kind, remark *canvas.Text
}

const smallKeys float32 = 76

// Layout puts the keyboard left and the words right of it.
func (o *alternativeRenderer) Layout(s fyne.Size) {
	put(o.face, 0, 0, s.Width, s.Height)
	o.r.keys.place(8, 8, smallKeys, s.Height-16)
	x := 8 + smallKeys + 10
	room := s.Width - x - 8
	o.voices.Text = fitText(voicesText(o.r.a.Block), o.voices, room)
	move(o.voices, x, s.Height/2-18)
	o.kind.Text = fitText(kindText(o.r.a.Block, o.r.b.w.session.Passage().Treatment.Voicing), o.kind, room)
	move(o.kind, x, s.Height/2+2)
	o.placeRemark(s, room)
}

// placeRemark puts the remark at the end of the line that leaves it more room.
// Where neither has room for all of it the remark is left to the hint: what
// the block is goes first.
func (o *alternativeRenderer) placeRemark(s fyne.Size, room float32) {
	o.remark.Text = o.r.a.Remark
	size := o.remark.MinSize()
	upper, lower := room-o.voices.MinSize().Width-10, room-o.kind.MinSize().Width-10
	y := s.Height/2 + 2
	if lower < size.Width && upper >= size.Width {
		y = s.Height/2 - 16
	} else if lower < size.Width {
		o.remark.Text = ""
	}
	move(o.remark, s.Width-8-size.Width, y)
}

// MinSize is a row.
func (o *alternativeRenderer) MinSize() fyne.Size { return fyne.NewSize(200, rowHeight) }

// Refresh follows state and theme.
func (o *alternativeRenderer) Refresh() {
	p := o.r.b.w.look.colours()
	o.face.FillColor, o.face.StrokeColor, o.face.StrokeWidth = p.Panel, p.Hair, 1
	if o.r.here {
		o.face.FillColor, o.face.StrokeColor, o.face.StrokeWidth = p.Raised, p.Accent, 1.5
	} else if o.r.over {
		o.face.FillColor = mix(p.Panel, p.Text, 0.06)
	}
	o.voices.Color, o.kind.Color, o.remark.Color = p.Text, p.Muted, p.Muted
	o.Layout(o.r.Size())
	o.r.keys.raster.Refresh()
	canvas.Refresh(o.r)
}

// Objects are drawn in this order.
func (o *alternativeRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{o.face, o.r.keys.raster, o.voices, o.kind, o.remark}
}

// Destroy has nothing to free.
func (o *alternativeRenderer) Destroy() {}

// chargesText says what an alternative costs, part by part: dear parts first.
func chargesText(a arrange.Alternative) string {
	if len(a.Parts) == 0 {
		return "Costs nothing: no rule speaks against it."
	}
	parts := slices.Clone(a.Parts)
	slices.SortStableFunc(parts, func(p, q arrange.Part) int { return q.Cost - p.Cost })
	var lines []string
	for _, p := range parts {
		lines = append(lines, strings.ReplaceAll(fmt.Sprintf("%+d  %s", p.Cost, p.Text), "-", "−"))
	}
	return strings.Join(lines, "\n")
}
