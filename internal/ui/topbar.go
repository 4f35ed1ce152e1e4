package ui

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// topBar shows the chart's title and facts, the transport, the position and
// the level.
type topBar struct {
	w    *Window
	root *fyne.Container

	head                    *headView // title and facts
	position, positionLabel *canvas.Text
	tempo, tempoLabel       *canvas.Text
	pace                    *readout // tempo and its label
	levelLabel              *canvas.Text
	level                   *bar
	meter                   *meter
	menu, commands          *button
	rewind, play, record    *button
	how                     *button // how recordings are written
	loop, countIn, click    *button
	line                    *canvas.Rectangle
}

func newTopBar(w *Window) *topBar {
	p := w.look.colours()
	t := &topBar{
		w:        w,
		position: text("1.1", sizeTitle, true, p.Text), positionLabel: text("bar . beat", sizeSmall, false, p.Muted),
		tempo: text("120", sizeTitle, true, p.Text), tempoLabel: text("tempo", sizeSmall, false, p.Muted),
		levelLabel: text("", sizeSmall, false, p.Muted),
		line:       canvas.NewRectangle(p.Hair),
	}
	t.head = newHeadView(w)
	t.level, t.meter = newLevelBar(w), newMeter(w)
	t.pace = newReadout(w, t.tempo, t.tempoLabel, "Tempo: click for the written tempo, slower, faster and the ramp", func() { w.showCommands("Tempo", t.pace, "bar.tempo") })
	t.menu = t.button("☰", "Menu", func() { w.showMenu(t.menu) })
	t.rewind = t.command("▏◀", "play.rewind")
	t.play = t.command("▶", "play.toggle")
	t.play.primary, t.play.minWidth = true, 44
	t.record = t.command("record", "record.toggle")
	t.how = t.button("", "", func() { w.showCommands(command.RecordingMenu, t.how) })
	t.loop = t.command("loop", "play.loop")
	t.countIn = t.command("count-in", "play.countin")
	t.click = t.command("click", "play.click")
	t.commands = t.command("Commands", "help.commands")
	t.root = container.New(&topLayout{t}, t.line, t.menu, t.head, t.rewind, t.play, t.record, t.how, t.loop, t.countIn, t.click,
		t.position, t.positionLabel, t.pace, t.level, t.meter.fill, t.levelLabel, t.commands)
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
	t.fitTitle()
	if s.Playing() {
		t.play.setLabel("■", false)
	} else {
		t.play.setLabel("▶", false)
	}
	t.record.setLabel("record", s.Recording())
	t.how.setLabel(roundingLabel(s.Grid(), s.Adds())+" ▾", false)
	t.how.hint = "How recordings are written: " + session.GridName(s.Grid())
	from, to, on := s.Loop()
	t.loop.setLabel(loopLabel(c, from, to, on), on)
	t.countIn.setLabel(countInLabel(s.CountIn()), s.CountIn() > 0)
	t.click.setLabel("click", s.Click())
	setText(t.tempo, fmt.Sprintf("%.0f", c.TempoAt(s.Selection().Caret)*s.PlayedScale()))
	setText(t.tempoLabel, tr(tempoText(s)))
	t.showLevel()
	if !s.Playing() {
		t.showPosition(s.Selection().Caret)
	}
	t.root.Layout.Layout(t.root.Objects, t.root.Size())
}

// fitTitle writes title and facts into the room left of the buttons.
func (t *topBar) fitTitle() {
	c, title := t.w.session.Chart(), t.title()
	h, room := t.head, t.titleRoom()
	setText(h.title, fitText(title, h.title, room))
	if facts := fitText(fitFacts(chartFacts(c), h.facts, room), h.facts, room); facts != h.facts.Text {
		setText(h.facts, facts)
		away(h.line) // what was under the pointer may stand elsewhere
	}
}

// title is the chart's shown title, which is data unless there is none at all.
func (t *topBar) title() string {
	if title := t.w.session.Title(); title != session.Untitled {
		return title
	}
	return tr(session.Untitled)
}

// fitFacts leaves out whole facts from the end until the rest fits: the half of a
// fact says nothing.
func fitFacts(facts string, t *canvas.Text, room float32) string {
	for textWidth(facts, t) > room {
		i := strings.LastIndex(facts, factsApart)
		if i < 0 {
			break
		}
		facts = facts[:i]
	}
	return facts
}

// wantedTitle is the room in which title and first facts can be read whole, as far
// as titles go. The number of bars is not worth a button where the swing stands
// before it.
func (t *topBar) wantedTitle() float32 {
	c, h := t.w.session.Chart(), t.head
	facts := strings.Split(tr(paint.Facts(c)), factsApart)
	wanted := strings.Join(facts[:min(len(facts), len(factCommands)+1)], factsApart)
	return min(max(textWidth(t.title(), h.title), textWidth(wanted, h.facts)), mostTitle)
}

// mostTitle is what a long title may take from the buttons.
const mostTitle float32 = 260

func (t *topBar) titleRoom() float32 { return max(t.rewind.Position().X-t.head.Position().X-16, 80) }

// showPosition writes bar and beat, in a count-in how many bars are still to come.
func (t *topBar) showPosition(at project.Ticks) {
	c := t.w.session.Chart()
	if bar, beat, ok := t.w.session.Counted(); ok {
		setText(t.position, strings.Replace(fmt.Sprintf("%d.%d", bar, beat), "-", "−", 1))
		return
	}
	if at >= c.Length() {
		setText(t.position, tr("end"))
		return
	}
	setText(t.position, fmt.Sprintf("%d.%d", c.BarNumber(c.BarAt(at)), int(c.Beat(at))))
}

// roundingLabel is what recordings are rounded to: the shortest note, a 3 where
// it is one of a triplet, in brackets where it may be, and a plus where a
// recording adds to what is there.
func roundingLabel(g perform.Grid, adds bool) string {
	label := valueLabels[g.Value]
	switch g.Triplets {
	case perform.SomeTriplets:
		label += " (3)"
	case perform.AllTriplets:
		label += " 3"
	}
	if adds {
		label = "+ " + label
	}
	return label
}

// countInLabel says how many bars are counted when it is more than one.
func countInLabel(bars int) string {
	if bars > 1 {
		return fmt.Sprintf("count-in %d", bars)
	}
	return "count-in"
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

// tempoText is the part of the written tempo that is played, with an arrow
// while a ramp raises it.
func tempoText(s *session.Session) string {
	text := fmt.Sprintf("tempo %.0f %%", 100*s.PlayedScale())
	if s.Ramp().On {
		text += " ↗"
	}
	return text
}

func levelText(db float64) string {
	if math.Round(db) == 0 { // neither louder nor softer
		return "level 0 dB"
	}
	return "level " + strings.ReplaceAll(fmt.Sprintf("%+.0f", db), "-", "−") + " dB"
}

// chartFacts is the line under the title: key, meter, tempo and form.
func chartFacts(c *project.Chart) string {
	text := tr(paint.Facts(c))
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
	for _, x := range []*canvas.Text{t.head.title, t.position, t.tempo} {
		x.Color = p.Text
		x.Refresh()
	}
	for _, x := range []*canvas.Text{t.head.facts, t.positionLabel, t.tempoLabel, t.levelLabel} {
		x.Color = p.Muted
		x.Refresh()
	}
	t.line.FillColor = p.Hair
	t.line.Refresh()
	t.level.Refresh()
	t.meter.retint()
	for _, b := range []*button{t.menu, t.rewind, t.play, t.record, t.how, t.loop, t.countIn, t.click, t.commands} {
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
	return paint.Shorten(s, fontOf(t), float64(t.TextSize), float64(width))
}

// textWidth measures s in the style of t.
func textWidth(s string, t *canvas.Text) float32 {
	return float32(paint.TextWidth(s, fontOf(t), float64(t.TextSize)))
}

func fontOf(t *canvas.Text) paint.Font {
	if t.TextStyle.Bold {
		return paint.SemiBold
	}
	return paint.Regular
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
	l.leaveOut(s.Width - 2*side - width)
	if t.level.Visible() {
		right -= 24 + 112
		put(t.level, right, s.Height/2-13, 112, 16)
		move(t.levelLabel, right, s.Height/2+5)
		t.meter.place(right, s.Height/2, 112)
	}
	total := l.middle()
	x := max(s.Width/2-total/2+30, side+besideTitle-16+t.wantedTitle())
	x = float32(math.Round(float64(min(x, right-total-16))))
	for _, b := range t.transport() {
		if !b.Visible() {
			continue
		}
		w := b.MinSize().Width
		put(b, x, y, w, h)
		x += w + gap
	}
	x += 16
	move(t.position, x, s.Height/2-23)
	move(t.positionLabel, x, s.Height/2+4)
	put(t.pace, x+76, 0, 76, s.Height-1)
	t.pace.Refresh()
	t.head.Move(fyne.NewPos(side+52, 0))
	t.fitTitle()
	t.head.Resize(fyne.NewSize(t.titleRoom(), s.Height-1))
	t.head.Refresh()
}

func (t *topBar) transport() []*button {
	return []*button{t.rewind, t.play, t.record, t.how, t.loop, t.countIn, t.click}
}

// middle is the width of what stands in the middle.
func (l *topLayout) middle() float32 {
	total := float32(16)
	for _, b := range l.t.transport() {
		if b.Visible() {
			total += b.MinSize().Width + gap
		}
	}
	for _, o := range []fyne.CanvasObject{l.t.position, l.t.pace} {
		if o.Visible() {
			total += 72
		}
	}
	return total
}

// leastTitle is what is left for the chart's title in a narrow window, the
// menu button included; besideTitle is that button with the gaps.
const leastTitle, besideTitle float32 = 180, 52 + 16 + 16

// leaveOut hides what has no room in a width, the least needed first; each of
// them is a command or can be seen elsewhere. The first three go before the facts
// of the chart are cut, the next two before its title is, the others only for the
// least title.
func (l *topLayout) leaveOut(width float32) {
	t := l.t
	groups := [][]fyne.CanvasObject{{t.how}, {t.click}, {t.countIn}, {t.pace}, {t.level, t.levelLabel, t.meter.fill}, {t.record}, {t.loop}}
	for _, g := range groups {
		setVisible(true, g...)
	}
	for i, g := range groups {
		level, title := float32(0), leastTitle
		if t.level.Visible() {
			level = 24 + 112 + 16
		}
		switch {
		case i < 3:
			title = max(title, t.wantedTitle()+besideTitle)
		case i < 5:
			title = max(title, min(textWidth(t.w.session.Chart().Title, t.head.title), mostTitle)+besideTitle)
		}
		if title+l.middle()+level <= width {
			return
		}
		setVisible(false, g...)
	}
}

// setVisible shows or hides objects; those that are so already stay untouched.
func setVisible(on bool, objects ...fyne.CanvasObject) {
	for _, o := range objects {
		switch {
		case on && !o.Visible():
			o.Show()
		case !on && o.Visible():
			o.Hide()
		}
	}
}

func put(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

func move(o fyne.CanvasObject, x, y float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(o.MinSize())
}
