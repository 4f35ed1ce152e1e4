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

// alternativeRow is one thing the bench offers: a block for a note, or a way to
// play several. It shows a small keyboard, what it is, and what sets it apart.
type alternativeRow struct {
	widget.BaseWidget
	v          *benchPage
	index      int
	is         offer
	here, over bool
	keys       *picture
}

// offer is what a row shows.
type offer struct {
	block                 arrange.Block
	title, detail, remark string
	// hint is shown while the pointer is over the row.
	hint string
}

var (
	_ fyne.Tappable     = (*alternativeRow)(nil)
	_ desktop.Hoverable = (*alternativeRow)(nil)
)

func newAlternativeRow(v *benchPage, index int) *alternativeRow {
	r := &alternativeRow{v: v, index: index}
	r.keys = newPainted(r.paint)
	r.ExtendBaseWidget(r)
	return r
}

// rowOfAlternative describes a block for a note; usual is the passage's voicing.
// The chosen block keeps its remark beside the sign of a stretch.
func rowOfAlternative(a arrange.Alternative, usual theory.Voicing, stretch session.ReachFilter) offer {
	o := offer{block: a.Block, title: voicesText(a.Block), detail: kindText(a.Block, usual), remark: say(a.Remark), hint: prose(say(a.Reason))}
	if o.remark != "" {
		o.hint = o.remark + ": " + o.hint
	}
	if sign, words := reachRemark(stretch); sign != "" {
		own := o.remark
		o.remark, o.hint = sign+" "+tr(words), capital(tr(words))+"; "+o.hint
		if a.Cost == 0 && own != "" {
			o.remark = sign + " " + own
		}
	}
	return o
}

// rowOfManner describes a way to play several notes with its first block.
func rowOfManner(m session.Manner, b arrange.Block, i int) offer {
	o := offer{block: b, title: tr(m.Name), detail: tr(fmt.Sprintf("%d/%d notes", m.Can, len(m.Blocks))), hint: mannerText(m, i)}
	switch {
	case i == 0:
	case m.Differ == 0:
		o.remark = tr("nothing changes")
	case m.Differ == 1:
		o.remark = tr("1 changes")
	default:
		o.remark = tr(fmt.Sprintf("%d change", m.Differ))
	}
	return o
}

func (r *alternativeRow) show(is offer, here bool) {
	r.is, r.here = is, here
	r.keys.valid = false
	r.Refresh()
}

func (r *alternativeRow) paint(c *paint.Canvas) {
	p := r.v.b.w.look.colours()
	c.Clear(p.Panel)
	paint.PaintBlockKeys(c, c.Visible(), paint.BlockKeysOf(r.is.block.Voices, arrange.RightHand), p)
}

// Tapped walks to the alternative and sounds it.
func (r *alternativeRow) Tapped(*fyne.PointEvent) {
	w := r.v.b.w
	w.focusPanel(command.Bench)
	if r.v.several {
		w.session.PickManner(r.index)
	} else {
		w.session.PickAlternative(r.index)
	}
}

// MouseIn lights the row and shows the reason.
func (r *alternativeRow) MouseIn(*desktop.MouseEvent) {
	r.over = true
	r.v.b.w.hint(r.is.hint)
	r.Refresh()
}

// MouseMoved does nothing.
func (r *alternativeRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes light and hint away.
func (r *alternativeRow) MouseOut() {
	r.over = false
	r.v.b.w.hint("")
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
		return tr(lead + " alone")
	}
	return tr(strings.Join(under, " ") + " under " + lead)
}

// kindText is "borrowed · drop 2 · D7♭9♯5"; the voicing is left out where it
// is the passage's own.
func kindText(b arrange.Block, usual theory.Voicing) string {
	parts := []string{tr(b.Technique.String())}
	if b.Voicing != usual {
		parts = append(parts, tr(session.VoicingName(b.Voicing)))
	}
	if b.Name != "" {
		parts = append(parts, theory.Pretty(b.Name))
	}
	return strings.Join(parts, " · ")
}

// CreateRenderer draws the row.
func (r *alternativeRow) CreateRenderer() fyne.WidgetRenderer {
	out := &alternativeRenderer{r: r, face: canvas.NewRectangle(color.Transparent),
		title: text("", sizeText, true, color.White), detail: text("", sizeSmall, false, color.White), remark: text("", sizeSmall, false, color.White)}
	out.face.CornerRadius = radiusControl
	out.Refresh()
	return out
}

type alternativeRenderer struct {
	r                     *alternativeRow
	face                  *canvas.Rectangle
	title, detail, remark *canvas.Text
}

const smallKeys float32 = 76

// Layout puts the keyboard left and the words right of it.
func (o *alternativeRenderer) Layout(s fyne.Size) {
	put(o.face, 0, 0, s.Width, s.Height)
	o.r.keys.place(8, 8, smallKeys, s.Height-16)
	x := 8 + smallKeys + 10
	room := s.Width - x - 8
	o.title.Text = fitText(o.r.is.title, o.title, room)
	move(o.title, x, s.Height/2-18)
	o.detail.Text = fitText(o.r.is.detail, o.detail, room)
	move(o.detail, x, s.Height/2+2)
	o.placeRemark(s, room)
}

// placeRemark puts the remark at the end of the line that leaves it more room.
// Where neither has room for all of it the remark is left to the hint: what
// the block is goes first.
func (o *alternativeRenderer) placeRemark(s fyne.Size, room float32) {
	o.remark.Text = o.r.is.remark
	size := o.remark.MinSize()
	upper, lower := room-o.title.MinSize().Width-10, room-o.detail.MinSize().Width-10
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
	p := o.r.v.b.w.look.colours()
	o.face.FillColor, o.face.StrokeColor, o.face.StrokeWidth = color.Transparent, color.Transparent, 0 // costs nothing
	if o.r.here {
		o.face.FillColor, o.face.StrokeColor, o.face.StrokeWidth = p.Raised, p.Accent, 1.5
	} else if o.r.over {
		o.face.FillColor = mix(p.Panel, p.Text, 0.06)
	}
	o.title.Color, o.detail.Color, o.remark.Color = p.Text, p.Muted, p.Muted
	o.Layout(o.r.Size())
	o.r.keys.raster.Refresh()
	canvas.Refresh(o.r)
}

// Objects are drawn in this order.
func (o *alternativeRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{o.face, o.r.keys.raster, o.title, o.detail, o.remark}
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
		lines = append(lines, strings.ReplaceAll(fmt.Sprintf("%+d  %s", p.Cost, say(p.Text)), "-", "−"))
	}
	return strings.Join(lines, "\n")
}
