package ui

import (
	"image"

	"fyne.io/fyne/v2"

	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// effectsView draws the effects of the registration and the tone of the
// instrument beside the drawbars: a column each.
type effectsView struct {
	w       *Window
	picture *picture
	columns [2]*paint.ControlsLayout
	// held is the control under the pressed pointer and the part of its track
	// it is pulled to; -1 for none.
	held int
	part float64
}

func newEffectsView(w *Window) *effectsView {
	v := &effectsView{w: w, held: -1}
	v.picture = newPicture(v.paint)
	return v
}

// effectsWidth is what both columns want, leastKeys the least width at which
// the keyboards are still of use beside them.
const effectsWidth, leastKeys float32 = 610, 440

// layout places the columns for the size.
func (v *effectsView) layout() {
	s := v.picture.raster.Size()
	w, h := (float64(s.Width)-16)/2, float64(s.Height)
	rows := max(session.Effects, len(session.Controls)-session.Effects)
	least := paint.LayoutControls(paint.Rect{W: w, H: h}, rows).RowHeight
	for i, n := range [2]int{session.Effects, len(session.Controls) - session.Effects} {
		r := paint.Rect{X: float64(i) * (w + 16), W: w, H: 18 + least*float64(n)}
		v.columns[i] = paint.LayoutControls(r, n)
	}
	v.picture.invalidate()
}

// first is the place in session.Controls of a column's first control.
func (v *effectsView) first(column int) int { return column * session.Effects }

func (v *effectsView) paint(img *image.RGBA, scale float64) {
	if v.columns[0] == nil {
		return
	}
	c := paint.NewCanvas(img, scale, 0, 0)
	th := v.w.look.colours()
	c.Clear(th.Panel)
	titles := [2]string{"Effects of the passage", "Instrument of the chart"}
	for i, l := range v.columns {
		rows := make([]paint.ControlRow, len(l.Tracks))
		for k := range rows {
			rows[k] = v.row(v.first(i) + k)
		}
		paint.PaintControls(c, l, th, tr(titles[i]), rows)
	}
	if at, ok := v.w.session.Control(); ok && v.w.console.focused {
		i := 0
		if at >= session.Effects {
			i = 1
		}
		c.StrokeRound(v.columns[i].RowRect(at-v.first(i)), 3, 1, th.Accent)
	}
}

// row is how a control is drawn.
func (v *effectsView) row(at int) paint.ControlRow {
	c := &session.Controls[at]
	value := v.w.session.Value(c)
	if v.held == at {
		value = c.At(v.part)
	}
	return paint.ControlRow{
		Name: tr(c.Name), Value: tr(c.Says(value)), Part: c.Part(value), Choices: len(c.Choices),
		Idle: v.w.session.Idle(c),
	}
}

// at returns the control under a point of the console and the part of its
// track there.
func (v *effectsView) at(p fyne.Position) (control int, part float64, ok bool) {
	if !v.picture.raster.Visible() || v.columns[0] == nil {
		return 0, 0, false
	}
	origin := v.picture.raster.Position()
	for i, l := range v.columns {
		if row, part, hit := l.Hit(float64(p.X-origin.X), float64(p.Y-origin.Y)); hit {
			return v.first(i) + row, part, true
		}
	}
	return 0, 0, false
}

// hold takes hold of a control.
func (v *effectsView) hold(control int, part float64) {
	v.w.session.PickControl(control)
	v.held = control
	v.pull(part)
}

// pull moves the control that is held; a part of the tone is heard on the way.
func (v *effectsView) pull(part float64) {
	v.part = part
	c := &session.Controls[v.held]
	v.w.session.Try(c, c.At(part))
	v.picture.invalidate()
}

// drag follows the pointer.
func (v *effectsView) drag(p fyne.Position) {
	i := 0
	if v.held >= session.Effects {
		i = 1
	}
	v.pull(v.columns[i].Part(v.held-v.first(i), float64(p.X-v.picture.raster.Position().X)))
}

// letGo sets the control to where it has been pulled.
func (v *effectsView) letGo() {
	if v.held < 0 {
		return
	}
	c, part := &session.Controls[v.held], v.part
	v.held = -1
	v.w.grid.say(v.w.session.Set(c, c.At(part)))
	v.picture.invalidate()
}

// turn moves the control under the pointer by a step.
func (v *effectsView) turn(control, by int) {
	v.w.session.PickControl(control)
	v.w.grid.say(v.w.session.Turn(&session.Controls[control], by))
}
