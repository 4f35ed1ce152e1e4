package ui

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2/canvas"
)

// meter shows how loud the sound is, on the scale of the level's bar above it,
// and for a while that it was held back by the limiter: then the level should
// be lowered.
type meter struct {
	w           *Window
	fill        *canvas.Rectangle
	x, y, width float32
	part        float64 // shown part of the scale
	limitedFor  int     // ticks until the light goes out
}

// The limiter holds true peaks under 0.95; what comes this near was held.
const limitedPeak = 0.93

// limitedTicks is how long the light stays on: two seconds.
const limitedTicks = 50

// meterFall is what is left of the shown part of the scale a tick later.
const meterFall = 0.93

func newMeter(w *Window) *meter {
	m := &meter{w: w, fill: canvas.NewRectangle(color.Transparent)}
	m.fill.CornerRadius = 1
	m.retint()
	return m
}

func (m *meter) place(x, y, width float32) {
	m.x, m.y, m.width = x, y, width
	m.draw()
}

// hear takes a peak in, 0 to 1, and reports whether the light changed.
func (m *meter) hear(peak float64) bool {
	m.part *= meterFall
	if peak > 0 {
		m.part = max(m.part, min(max(levelPart(20*math.Log10(peak)), 0), 1))
	}
	if m.part < 0.005 {
		m.part = 0
	}
	was := m.limited()
	m.limitedFor = max(m.limitedFor-1, 0)
	if peak >= limitedPeak {
		m.limitedFor = limitedTicks
	}
	m.draw()
	return was != m.limited()
}

// still empties the meter.
func (m *meter) still() { m.part, m.limitedFor = 0, 0; m.draw() }

func (m *meter) limited() bool { return m.limitedFor > 0 }

// draw moves the mark; an empty one is out of sight.
func (m *meter) draw() {
	if m.part == 0 {
		away(m.fill)
		return
	}
	put(m.fill, m.x, m.y, float32(math.Round(m.part*float64(m.width))), 3)
}

func (m *meter) retint() {
	p := m.w.look.colours()
	m.fill.FillColor = p.Text
	if m.limited() {
		m.fill.FillColor = p.Caution
	}
	m.fill.Refresh()
}

// showPeak follows the sound; the label says when the limiter holds it back.
func (t *topBar) showPeak(peak float64) {
	if peak == 0 && !t.w.session.Playing() {
		t.meter.still()
		t.meter.retint()
		t.showLevel()
		return
	}
	if t.meter.hear(peak) {
		t.meter.retint()
		t.showLevel()
	}
}

// showLevel writes the level, or that it is too high.
func (t *topBar) showLevel() {
	s := t.w.session
	p := t.w.look.colours()
	ink, line := p.Muted, levelText(s.Level())
	if t.meter.limited() {
		ink, line = p.Caution, "▲ limited: lower it"
	}
	if t.levelLabel.Color != color.Color(ink) {
		t.levelLabel.Color, t.levelLabel.Text = ink, ""
	}
	setText(t.levelLabel, line)
	t.level.show(levelPart(s.Level()))
}
