package ui

import (
	"image/color"
	"math"
	"time"

	"fyne.io/fyne/v2/canvas"
)

// meter shows how loud the sound is, on the scale of the level's bar above it,
// and for a while that it was held back by the limiter: then the level should
// be lowered.
type meter struct {
	w           *Window
	fill        *canvas.Rectangle
	x, y, width float32
	part        float64   // shown part of the scale
	heard       time.Time // when part was true
	limitedTill time.Time // when the light goes out
	lit         bool
}

// The limiter holds true peaks under 0.95; what comes this near was held.
const limitedPeak = 0.93

// limitedTime is how long the light stays on.
const limitedTime = 2 * time.Second

// meterHalves is how long the shown part of the scale takes to fall to a half.
const meterHalves = 380 * time.Millisecond

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
func (m *meter) hear(peak float64, now time.Time) bool {
	m.part *= math.Exp2(-float64(now.Sub(m.heard)) / float64(meterHalves))
	m.heard = now
	if peak > 0 {
		m.part = max(m.part, min(max(levelPart(20*math.Log10(peak)), 0), 1))
	}
	if m.part < 0.005 {
		m.part = 0
	}
	if peak >= limitedPeak {
		m.limitedTill = now.Add(limitedTime)
	}
	was := m.lit
	m.lit = now.Before(m.limitedTill)
	m.draw()
	return was != m.lit
}

// still empties the meter.
func (m *meter) still() { m.part, m.lit, m.limitedTill = 0, false, time.Time{}; m.draw() }

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
	if m.lit {
		m.fill.FillColor = p.Caution
	}
	m.fill.Refresh()
}

// showPeak follows the sound; the label says when the limiter holds it back.
func (t *topBar) showPeak(peak float64, now time.Time) {
	if peak == 0 && !t.w.session.Playing() {
		t.meter.still()
		t.meter.retint()
		t.showLevel()
		return
	}
	if t.meter.hear(peak, now) {
		t.meter.retint()
		t.showLevel()
	}
}

// showLevel writes the level, or that it is too high.
func (t *topBar) showLevel() {
	s := t.w.session
	p := t.w.look.colours()
	ink, line := p.Muted, levelText(s.Level())
	if t.meter.lit {
		ink, line = p.Caution, "▲ limited: lower it"
	}
	if t.levelLabel.Color != color.Color(ink) {
		t.levelLabel.Color, t.levelLabel.Text = ink, ""
	}
	setText(t.levelLabel, tr(line))
	t.level.show(levelPart(s.Level()))
}
