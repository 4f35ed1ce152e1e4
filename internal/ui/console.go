package ui

import (
	"fmt"
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// consoleView draws the instrument: drawbars, keyboards with the keys that
// sound or would sound, and the settings of speaker, swell and layers.
type consoleView struct {
	panel
	root  *fyne.Container
	title *canvas.Text
	name  *canvas.Text

	registration  *button
	effectsButton *button
	effects       *effectsView
	foldButton    *button
	folded        bool
	effectsShown  bool    // they are asked for; showsEffects tells whether they are in sight
	inSight       bool    // they were in sight when the console was laid out
	cramped       bool    // there is no room for them beside the drawbars
	manuals       float32 // the height of the manuals under the effects, 0 for none
	letters       bool    // the legend has room for the letters alone
	rotary        []*button
	swell         *bar
	layers        []*button
	labels        []*canvas.Text

	keys    *picture
	rest    *image.RGBA // the keyboards without lit keys
	layout  *paint.ConsoleLayout
	lit     []paint.LitKey
	legend  *picture
	stops   *picture
	bars    [3]*paint.DrawbarLayout
	dragged dragging
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
	c.title, c.name = text("Console", sizeSmall+1, true, p.Muted), text("", sizeSmall, false, p.Muted)
	c.registration = w.top.button("", "Registration of the passage: a section of the band", func() { w.showUnder(w.registrationsMenu(), c.registration) })
	c.registration.compact = true
	c.effectsButton = w.top.command("effects", "console.effects")
	c.effectsButton.compact = true
	c.effects = newEffectsView(w)
	c.foldButton = w.top.command("▾", "view.console")
	c.foldButton.compact = true
	c.addControls()
	c.keys, c.stops, c.legend = newPicture(c.paintKeys), newPicture(c.paintStops), newPainted(c.paintLegend)
	c.ExtendBaseWidget(c)
	objects := []fyne.CanvasObject{c.ring, c, c.title, c.name, c.registration, c.foldButton, c.effectsButton, c.swell}
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
	hundredths := func(v float64) float64 { return float64(int(v*100+0.5)) / 100 }
	c.swell = newBar(c.w, 0.05, "Expression pedal of the passage  (right click: where it glides to until its end)", func(v float64) { c.w.grid.say(c.w.session.SetSwell(hundredths(v))) })
	c.swell.second = func(v float64) { c.w.grid.say(c.w.session.SetSwellAtEnd(hundredths(v))) }
	c.swell.late = true
	for _, l := range mutable {
		b := c.w.top.command(l.String(), "mute."+l.String())
		alone := c.w.commands.Find("alone." + l.String())
		b.second, b.aside = func() { c.w.do(alone) }, "  (right click: alone)"
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
	c.registration.setLabel(s.Heard().Registration.Name+" ▾", false)
	c.showLive()
	if k, ok := project.ConsoleByID(s.Chart().Console); ok {
		setText(c.name, tr(k.Name))
		if c.layout != nil && c.layout.Console.ID != k.ID {
			c.layout = nil
			c.root.Layout.Layout(c.root.Objects, c.root.Size())
			c.legend.invalidate()
		}
	}
	c.updateLayers()
	c.stops.invalidate()
	c.effects.picture.invalidate()
	c.effectsShown = s.EffectsShown()
	if shown := c.showsEffects(); shown != c.inSight {
		c.inSight = shown
		c.root.Layout.Layout(c.root.Objects, c.root.Size())
	}
	c.effectsButton.setLabel("effects", c.showsEffects())
	if !s.Playing() {
		c.light(c.w.selectedKeys())
	}
}

// showLive shows speaker, swell and drawbars as they are under the player's
// hands.
func (c *consoleView) showLive() {
	r := c.w.session.LiveRegistration()
	for i, speed := range project.RotarySpeeds {
		c.rotary[i].setLabel(speed.String(), r.Rotary == speed)
	}
	c.swell.show(r.Swell)
	c.swell.showEnd(r.SwellAt(1), r.Glide != 0)
	c.nameSwell(r.Swell, r)
	c.stops.invalidate()
}

// nameSwell says beside its name where the swell stands and, if it glides, where to.
func (c *consoleView) nameSwell(now float64, r project.Registration) {
	figure := fmt.Sprintf("%.0f %%", math.Round(100*now))
	if r.Glide != 0 {
		figure = fmt.Sprintf("%.0f → %.0f %%", math.Round(100*now), math.Round(100*r.SwellAt(1)))
	}
	setText(c.labels[1], tr("Swell")+"  "+figure)
	c.labels[1].Resize(c.labels[1].MinSize())
}

// showGlide shows where the chart has the swell, at a position that sounds.
func (c *consoleView) showGlide(t project.Ticks) {
	if r := c.w.session.Heard().Registration; r.Glide != 0 && !c.swell.held {
		now := c.w.session.SwellAt(t)
		c.swell.show(now)
		c.nameSwell(now, r)
	}
}

func (c *consoleView) updateLayers() {
	for i, l := range mutable {
		muted := c.w.session.Muted(l)
		if b := c.layers[i]; b.struck != muted || b.on == muted {
			b.struck, b.on = muted, !muted
			b.Refresh()
		}
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
	setVisible(!on, append(c.controls(), c.name, c.effectsButton, c.keys.raster, c.stops.raster)...)
}

// light shows which keys are down; it paints only when they differ.
func (c *consoleView) light(keys []paint.LitKey) {
	if !sameKeys(c.lit, keys) {
		c.lit = keys
		c.keys.invalidate()
	}
}

// FocusGained shows the ring and the drawbar that has the keyboard.
func (c *consoleView) FocusGained() {
	c.panel.FocusGained()
	c.stops.invalidate()
	c.effects.picture.invalidate()
}

// FocusLost hides both.
func (c *consoleView) FocusLost() {
	c.panel.FocusLost()
	c.stops.invalidate()
	c.effects.picture.invalidate()
}

// CreateRenderer shows the pictures.
func (c *consoleView) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewWithoutLayout(c.keys.raster, c.stops.raster, c.effects.picture.raster, c.legend.raster))
}

func (c *consoleView) retint() {
	p := c.w.look.colours()
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
	c.effects.picture.invalidate()
	c.legend.invalidate()
}
