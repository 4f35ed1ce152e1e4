package ui

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"organbook/internal/project"
	"organbook/internal/ui/paint"
)

// topBar shows the chart's title and facts, the transport, the position and
// the level.
type topBar struct {
	w    *Window
	root *fyne.Container

	title, facts            *canvas.Text
	position, positionLabel *canvas.Text
	tempo, tempoLabel       *canvas.Text
	levelLabel              *canvas.Text
	level                   *bar
	meter                   *meter
	menu, commands          *button
	rewind, play            *button
	loop, countIn, click    *button
	line                    *canvas.Rectangle
}

func newTopBar(w *Window) *topBar {
	p := w.look.colours()
	t := &topBar{
		w:     w,
		title: text("", sizeTitle, true, p.Text), facts: text("", sizeSmall, false, p.Muted),
		position: text("1.1", sizeTitle, true, p.Text), positionLabel: text("bar . beat", sizeSmall, false, p.Muted),
		tempo: text("120", sizeTitle, true, p.Text), tempoLabel: text("tempo", sizeSmall, false, p.Muted),
		levelLabel: text("", sizeSmall, false, p.Muted),
		line:       canvas.NewRectangle(p.Hair),
	}
	t.level, t.meter = newLevelBar(w), newMeter(w)
	t.menu = t.button("☰", "Menu", func() { w.showMenu(t.menu) })
	t.rewind = t.command("▏◀", "play.rewind")
	t.play = t.command("▶", "play.toggle")
	t.play.primary, t.play.minWidth = true, 44
	t.loop = t.command("loop", "play.loop")
	t.countIn = t.command("count-in", "play.countin")
	t.click = t.command("click", "play.click")
	t.commands = t.command("Commands", "help.commands")
	t.root = container.New(&topLayout{t}, t.line, t.menu, t.title, t.facts, t.rewind, t.play, t.loop, t.countIn, t.click,
		t.position, t.positionLabel, t.tempo, t.tempoLabel, t.level, t.meter.fill, t.levelLabel, t.commands)
	return t
}

func (t *topBar) button(label, hint string, do func()) *button {
	b := newButton(t.w.look, label, do)
	b.hint, b.onHint, b.w = hint, t.w.hint, t.w
	return b
}

// command makes a button of a command; its hint is the title with the key.
func (t *topBar) command(label, id string) *button {
	c := t.w.commands.Find(id)
	b := t.button(label, "", func() { t.w.do(c) })
	b.command = c
	return b
}

// update shows what the session says now.
func (t *topBar) update() {
	s := t.w.session
	c := s.Chart()
	title := c.Title
	if title == "" {
		title = "Untitled"
	}
	setText(t.title, fitText(title, t.title, t.titleRoom()))
	setText(t.facts, fitText(chartFacts(c), t.facts, t.titleRoom()))
	if s.Playing() {
		t.play.setLabel("■", false)
	} else {
		t.play.setLabel("▶", false)
	}
	from, to, on := s.Loop()
	t.loop.setLabel(loopLabel(c, from, to, on), on)
	t.countIn.setLabel("count-in", s.CountIn())
	t.click.setLabel("click", s.Click())
	setText(t.tempo, fmt.Sprintf("%.0f", c.TempoAt(s.Selection().Caret)*s.TempoScale()))
	setText(t.tempoLabel, fmt.Sprintf("tempo %.0f %%", 100*s.TempoScale()))
	t.showLevel()
	if !s.Playing() {
		t.showPosition(s.Selection().Caret)
	}
	t.root.Layout.Layout(t.root.Objects, t.root.Size())
}

func (t *topBar) titleRoom() float32 { return max(t.rewind.Position().X-t.title.Position().X-16, 80) }

// showPosition writes bar and beat.
func (t *topBar) showPosition(at project.Ticks) {
	c := t.w.session.Chart()
	if at >= c.Length() {
		setText(t.position, "end")
		return
	}
	setText(t.position, fmt.Sprintf("%d.%d", c.BarNumber(c.BarAt(at)), int(c.Beat(at))))
}

func loopLabel(c *project.Chart, from, to int, on bool) string {
	switch {
	case !on:
		return "loop"
	case to-from == 1:
		return fmt.Sprintf("↻ bar %d", c.BarNumber(from))
	}
	return fmt.Sprintf("↻ bars %d–%d", c.BarNumber(from), c.BarNumber(to-1))
}

func levelText(db float64) string {
	return "level " + strings.ReplaceAll(fmt.Sprintf("%+.0f", db), "-", "−") + " dB"
}

// chartFacts is the line under the title: key, meter, tempo and form.
func chartFacts(c *project.Chart) string {
	text := paint.Facts(c)
	var sections []string
	for i, p := range c.Passages {
		if p.Name == "" {
			return text
		}
		first, end := c.PassageBars(i)
		sections = append(sections, fmt.Sprintf("%s %d", p.Name, end-first))
	}
	if len(sections) > 1 && len(sections) <= 4 {
		text += " · " + strings.Join(sections, ", ")
	}
	return text
}

// retint follows the theme.
func (t *topBar) retint() {
	p := t.w.look.colours()
	for _, x := range []*canvas.Text{t.title, t.position, t.tempo} {
		x.Color = p.Text
		x.Refresh()
	}
	for _, x := range []*canvas.Text{t.facts, t.positionLabel, t.tempoLabel, t.levelLabel} {
		x.Color = p.Muted
		x.Refresh()
	}
	t.line.FillColor = p.Hair
	t.line.Refresh()
	t.level.Refresh()
	t.meter.retint()
	for _, b := range []*button{t.menu, t.rewind, t.play, t.loop, t.countIn, t.click, t.commands} {
		b.Refresh()
	}
}

// setText changes a text and repaints it only when it differs.
func setText(t *canvas.Text, s string) {
	if t.Text != s {
		t.Text = s
		t.Refresh()
	}
}

// fitText shortens s to a width in the style of t.
func fitText(s string, t *canvas.Text, width float32) string {
	f := paint.Regular
	if t.TextStyle.Bold {
		f = paint.SemiBold
	}
	return paint.Shorten(s, f, float64(t.TextSize), float64(width))
}

// topLayout places the top bar: title left, transport in the middle, level
// and commands right. What stands in the middle gives way to the right when
// the window is narrow.
type topLayout struct{ t *topBar }

// MinSize is left to the frame.
func (*topLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(600, 48) }

// Layout places everything on two base lines.
func (l *topLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	t := l.t
	side := margin
	if s.Width < 1400 {
		side = 12
	}
	put(t.line, 0, s.Height-1, s.Width, 1)
	h := float32(36)
	y := (s.Height - h) / 2
	put(t.menu, side, y, 40, h)
	width := t.commands.MinSize().Width
	right := s.Width - side - width
	put(t.commands, right, y, width, h)
	right -= 24 + 112
	put(t.level, right, s.Height/2-13, 112, 16)
	t.meter.place(right, s.Height/2, 112)
	move(t.levelLabel, right, s.Height/2+5)
	buttons := []*button{t.rewind, t.play, t.loop, t.countIn, t.click}
	total := float32(2*72 + 16)
	for _, b := range buttons {
		total += b.MinSize().Width + gap
	}
	x := float32(math.Round(float64(min(s.Width/2-total/2+30, right-total-16))))
	for _, b := range buttons {
		w := b.MinSize().Width
		put(b, x, y, w, h)
		x += w + gap
	}
	x += 16
	for _, pair := range [][2]*canvas.Text{{t.position, t.positionLabel}, {t.tempo, t.tempoLabel}} {
		move(pair[0], x, s.Height/2-23)
		move(pair[1], x, s.Height/2+4)
		x += 76
	}
	move(t.title, side+52, s.Height/2-23)
	move(t.facts, side+52, s.Height/2+4)
}

func put(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

func move(o fyne.CanvasObject, x, y float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(o.MinSize())
}
