package ui

import (
	"image"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// consoleView draws the instrument: drawbars, keyboards with the keys that
// sound or would sound, and the settings of speaker, swell and layers.
type consoleView struct {
	panel
	root  *fyne.Container
	plate *plate
	title *canvas.Text
	name  *canvas.Text

	registration *button
	effects      *button
	foldButton   *button
	folded       bool
	rotary       []*button
	swell        *bar
	layers       []*button
	labels       []*canvas.Text

	keys    *picture
	rest    *image.RGBA // the keyboards without lit keys
	layout  *paint.ConsoleLayout
	lit     []paint.LitKey
	legend  *picture
	stops   *picture
	bars    [3]*paint.DrawbarLayout
	dragged dragging
}

// dragging is what the pointer holds on the console.
type dragging struct {
	kind     byte // 'd' a drawbar, 'k' a key, 0 nothing
	bar      int  // place of the drawbar in the console
	value    int
	division arrange.Division
	key      int
}

var (
	_ fyne.Widget       = (*consoleView)(nil)
	_ fyne.Focusable    = (*consoleView)(nil)
	_ fyne.Shortcutable = (*consoleView)(nil)
	_ fyne.Draggable    = (*consoleView)(nil)
	_ fyne.Scrollable   = (*consoleView)(nil)
	_ desktop.Mouseable = (*consoleView)(nil)
	_ desktop.Hoverable = (*consoleView)(nil)
)

// mutable are the layers with a button, in the order of the score.
var mutable = []arrange.Layer{arrange.LayerLead, arrange.LayerBlock, arrange.LayerDouble, arrange.LayerComp, arrange.LayerBass}

func newConsoleView(w *Window) *consoleView {
	c := &consoleView{}
	c.panel.init(w, command.Console)
	p := w.look.colours()
	c.plate = newPlate(w.look)
	c.title, c.name = text("Console", sizeSmall+1, true, p.Muted), text("", sizeSmall, false, p.Muted)
	c.registration = w.top.button("", "Registration of the passage: a section of the band", func() { w.showCommands("Registration", c.registration) })
	c.registration.compact = true
	c.effects = w.top.button("effects ▾", "Struck accent, vibrato, drive and room of the registration", func() { w.showEffects(c.effects) })
	c.effects.compact = true
	c.foldButton = w.top.command("▾", "view.console")
	c.foldButton.compact = true
	c.addControls()
	c.keys, c.stops, c.legend = newPicture(c.paintKeys), newPicture(c.paintStops), newPainted(c.paintLegend)
	c.ExtendBaseWidget(c)
	objects := []fyne.CanvasObject{c.plate.root, c.ring, c, c.title, c.name, c.registration, c.foldButton, c.effects, c.swell}
	for _, b := range append(append([]*button{}, c.rotary...), c.layers...) {
		objects = append(objects, b)
	}
	for _, t := range c.labels {
		objects = append(objects, t)
	}
	c.root = container.New(&consoleLayout{c}, objects...)
	return c
}

// addControls makes the right-hand column.
func (c *consoleView) addControls() {
	for _, r := range project.RotarySpeeds {
		b := c.w.top.command(r.String(), "rotary."+r.String())
		b.compact = true
		c.rotary = append(c.rotary, b)
	}
	c.swell = newBar(c.w, 0.05, "Expression pedal of the passage", func(v float64) { c.w.grid.say(c.w.session.SetSwell(float64(int(v*100+0.5)) / 100)) })
	c.swell.late = true
	for _, l := range mutable {
		b := c.w.top.command(l.String(), "mute."+l.String())
		b.compact = true
		c.layers = append(c.layers, b)
	}
	for _, s := range []string{"Rotary speaker", "Swell", "Layers heard"} {
		c.labels = append(c.labels, text(s, sizeSmall, true, c.w.look.colours().Text))
	}
}

// update follows chart, selection and settings.
func (c *consoleView) update() {
	s := c.w.session
	r := s.Heard().Registration
	c.registration.setLabel(r.Name+" ▾", false)
	for i, speed := range project.RotarySpeeds {
		c.rotary[i].setLabel(speed.String(), r.Rotary == speed)
	}
	c.swell.show(r.Swell)
	if k, ok := project.ConsoleByID(s.Chart().Console); ok {
		setText(c.name, k.Name)
		if c.layout != nil && c.layout.Console.ID != k.ID {
			c.relayout()
		}
	}
	c.updateLayers()
	c.stops.invalidate()
	if !s.Playing() {
		c.light(c.w.selectedKeys())
	}
}

func (c *consoleView) updateLayers() {
	for i, l := range mutable {
		label := l.String()
		if c.w.session.Muted(l) {
			label += " off"
		}
		c.layers[i].setLabel(label, !c.w.session.Muted(l))
	}
	c.root.Layout.Layout(c.root.Objects, c.root.Size())
}

// fold leaves the head line alone, or shows the whole console again.
func (c *consoleView) fold(on bool) {
	c.folded = on
	label := "▾"
	if on {
		label = "▴"
	}
	c.foldButton.setLabel(label, false)
	objects := []fyne.CanvasObject{c.name, c.effects, c.swell, c.keys.raster, c.stops.raster}
	for _, b := range append(append([]*button{}, c.rotary...), c.layers...) {
		objects = append(objects, b)
	}
	for _, t := range c.labels {
		objects = append(objects, t)
	}
	for _, o := range objects {
		if on {
			o.Hide()
		} else {
			o.Show()
		}
	}
}

// light shows which keys are down; it paints only when they differ.
func (c *consoleView) light(keys []paint.LitKey) {
	if !sameKeys(c.lit, keys) {
		c.lit = keys
		c.keys.invalidate()
	}
}

// relayout places keyboards and drawbars for the size.
func (c *consoleView) relayout() {
	k, ok := project.ConsoleByID(c.w.session.Chart().Console)
	if !ok {
		k, _ = project.ConsoleByID(project.DefaultConsole)
	}
	size := c.keys.raster.Size()
	c.layout = paint.LayoutConsole(float64(size.Width), float64(size.Height), k)
	c.rest = nil
	c.placeStops(c.stops.raster.Size())
	c.keys.invalidate()
	c.stops.invalidate()
}

// placeStops puts the divisions' drawbars under each other, or the manuals
// side by side where the height is short.
func (c *consoleView) placeStops(s fyne.Size) {
	w, h := float64(s.Width), float64(s.Height)
	if w > 220 {
		half := (w - 20) / 2
		pedal := h * 0.24
		c.bars[0] = paint.LayoutDrawbars(paint.Rect{X: 0, Y: 0, W: half, H: h - pedal - 2}, arrange.Upper)
		c.bars[1] = paint.LayoutDrawbars(paint.Rect{X: half + 20, Y: 0, W: half, H: h - pedal - 2}, arrange.Lower)
		c.bars[2] = paint.LayoutDrawbars(paint.Rect{X: 0, Y: h - pedal, W: half, H: pedal}, arrange.Pedal)
		return
	}
	row := (h - 3*18 - 12) / 20
	y := 0.0
	for i, n := range []float64{9, 9, 2} {
		c.bars[i] = paint.LayoutDrawbars(paint.Rect{X: 0, Y: y, W: w, H: 18 + n*row}, arrange.Division(i))
		y += 18 + n*row + 6
	}
}

// paintKeys draws the keyboards from the kept picture at rest, and the lit
// keys over it.
func (c *consoleView) paintKeys(img *image.RGBA, scale float64) {
	if c.layout == nil {
		return
	}
	if c.rest == nil || c.rest.Rect != img.Rect {
		c.rest = image.NewRGBA(img.Rect)
		paint.PaintConsole(paint.NewCanvas(c.rest, scale, 0, 0), c.layout, c.w.look.colours(), c.w.look.colours().Panel)
	}
	copy(img.Pix, c.rest.Pix)
	paint.PaintLit(paint.NewCanvas(img, scale, 0, 0), c.layout, c.w.look.colours(), c.lit)
}

// paintStops draws the drawbars; the one with the keyboard is framed.
func (c *consoleView) paintStops(img *image.RGBA, scale float64) {
	cv := paint.NewCanvas(img, scale, 0, 0)
	th := c.w.look.colours()
	cv.Clear(th.Panel)
	r := c.w.session.Heard().Registration
	if c.dragged.kind == 'd' {
		d, i := session.DrawbarPlace(c.dragged.bar)
		paint.Settings(&r, d)[i] = uint8(c.dragged.value)
	}
	for i, l := range c.bars {
		if l != nil {
			d := arrange.Division(i)
			paint.PaintDrawbars(cv, l, th, strings.ToUpper(d.String()[:1])+d.String()[1:], paint.Settings(&r, d), th.Panel)
		}
	}
	if c.focused {
		d, i := session.DrawbarPlace(c.w.session.Drawbar())
		if l := c.bars[d]; l != nil {
			cv.StrokeRound(paint.Rect{X: l.X + 1, Y: l.Bars[i].CentreY() - l.RowHeight/2, W: l.W - 1, H: l.RowHeight}, 3, 1, th.Accent)
		}
	}
}

// FocusGained shows the ring and the drawbar that has the keyboard.
func (c *consoleView) FocusGained() { c.panel.FocusGained(); c.stops.invalidate() }

// FocusLost hides both.
func (c *consoleView) FocusLost() { c.panel.FocusLost(); c.stops.invalidate() }

// drawbarAt returns the drawbar under a point and the setting meant there.
func (c *consoleView) drawbarAt(p fyne.Position) (place, value int, ok bool) {
	origin := c.stops.raster.Position()
	for d, l := range c.bars {
		if l == nil {
			continue
		}
		if bar, v, hit := l.Hit(float64(p.X-origin.X), float64(p.Y-origin.Y)); hit {
			return 9*d + bar, int(v), true
		}
	}
	return 0, 0, false
}

func (c *consoleView) keyAt(p fyne.Position) (arrange.Division, int, bool) {
	origin := c.keys.raster.Position()
	if c.layout == nil {
		return 0, 0, false
	}
	return c.layout.KeyAt(float64(p.X-origin.X), float64(p.Y-origin.Y))
}

// MouseDown takes hold of a drawbar or presses a key.
func (c *consoleView) MouseDown(e *desktop.MouseEvent) {
	c.w.focusPanel(command.Console)
	if place, value, ok := c.drawbarAt(e.Position); ok {
		c.w.session.PickDrawbar(place)
		c.dragged = dragging{kind: 'd', bar: place, value: value}
		c.stops.invalidate()
	} else if d, key, ok := c.keyAt(e.Position); ok {
		c.press(d, key)
	}
}

// Dragged pulls the drawbar or slides over the keys.
func (c *consoleView) Dragged(e *fyne.DragEvent) {
	switch c.dragged.kind {
	case 'd':
		d, _ := session.DrawbarPlace(c.dragged.bar)
		b := c.bars[d].Bars[0]
		x := float64(e.Position.X-c.stops.raster.Position().X) - b.X
		c.dragged.value = int(clamp(float32(x/b.W*project.MaxDrawbar+0.5), 0, project.MaxDrawbar))
		c.stops.invalidate()
	case 'k':
		if d, key, ok := c.keyAt(e.Position); ok && (d != c.dragged.division || key != c.dragged.key) {
			c.release()
			c.press(d, key)
		}
	}
}

// DragEnd lets go.
func (c *consoleView) DragEnd() { c.letGo() }

// MouseUp lets go.
func (c *consoleView) MouseUp(*desktop.MouseEvent) { c.letGo() }

func (c *consoleView) letGo() {
	held := c.dragged
	c.release()
	c.dragged = dragging{}
	if held.kind == 'd' {
		c.w.grid.say(c.w.session.SetDrawbar(held.bar, held.value))
		c.stops.invalidate()
	}
}

func (c *consoleView) press(d arrange.Division, key int) {
	c.dragged = dragging{kind: 'k', division: d, key: key}
	c.w.session.Hold(d, key, true)
	limb := [...]arrange.Limb{arrange.RightHand, arrange.LeftHand, arrange.LeftFoot}[d]
	c.light([]paint.LitKey{{Division: d, Key: key, Limb: limb}})
}

func (c *consoleView) release() {
	if c.dragged.kind == 'k' {
		c.w.session.Hold(c.dragged.division, c.dragged.key, false)
		c.light(c.w.selectedKeys())
	}
}

// Scrolled pulls the drawbar under the pointer.
func (c *consoleView) Scrolled(e *fyne.ScrollEvent) {
	place, _, ok := c.drawbarAt(e.Position)
	if !ok || e.Scrolled.DY == 0 {
		return
	}
	by := 1
	if e.Scrolled.DY < 0 {
		by = -1
	}
	c.w.grid.say(c.w.session.SetDrawbar(place, c.w.session.DrawbarValue(place)+by))
}

// MouseIn does nothing; desktop.Hoverable asks for it.
func (c *consoleView) MouseIn(*desktop.MouseEvent) {}

// MouseMoved says what is under the pointer.
func (c *consoleView) MouseMoved(e *desktop.MouseEvent) {
	switch place, _, ok := c.drawbarAt(e.Position); {
	case ok:
		d, i := session.DrawbarPlace(place)
		feet := paint.Footages[:]
		if d == arrange.Pedal {
			feet = paint.PedalFootages[:]
		}
		c.w.hint("Drawbar " + feet[i] + " of the " + d.String() + " division: drag or turn the wheel")
	default:
		c.w.hint("")
	}
}

// MouseOut takes the hint away.
func (c *consoleView) MouseOut() { c.w.hint("") }

// CreateRenderer shows the two pictures.
func (c *consoleView) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewWithoutLayout(c.keys.raster, c.stops.raster, c.legend.raster))
}

func (c *consoleView) retint() {
	p := c.w.look.colours()
	c.plate.invalidate()
	c.title.Color, c.name.Color = p.Muted, p.Muted
	c.title.Refresh()
	c.name.Refresh()
	for _, t := range c.labels {
		t.Color = p.Text
		t.Refresh()
	}
	c.drawRing()
	c.rest = nil
	c.keys.invalidate()
	c.stops.invalidate()
	c.legend.invalidate()
}
