package ui

import (
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// benchView shows the block of the selected note, why it is what it is, and
// its alternatives.
type benchView struct {
	panel
	root   *fyne.Container
	plate  *plate
	scroll *container.Scroll
	body   *fyne.Container

	heading, place      *canvas.Text
	technique           *tag
	sounds              *canvas.Text
	reason              *widget.Label
	staff, keys         *picture
	listTitle, listHint *canvas.Text
	rows                []*alternativeRow
	reach, charges      *widget.Label
	pin, foldButton     *button
	pins, why           *button
	tabs                [2]*button
	findings            *reachPage
	page                command.Panel // Bench or Reach
	weighed             bool          // the costs of the alternative are shown

	block arrange.Block
	lit   []paint.BlockKey
}

var (
	_ fyne.Widget       = (*benchView)(nil)
	_ fyne.Focusable    = (*benchView)(nil)
	_ fyne.Shortcutable = (*benchView)(nil)
	_ fyne.Tappable     = (*benchView)(nil)
)

func newBenchView(w *Window) *benchView {
	b := &benchView{}
	b.panel.init(w, command.Bench)
	p := w.look.colours()
	b.plate = newPlate(w.look)
	b.place, b.page = text("", sizeSmall, false, p.Muted), command.Bench
	b.heading, b.sounds = text("", sizeTitle, true, p.Text), text("", sizeText, true, p.Text)
	b.technique = newTag(w)
	b.reason, b.reach = widget.NewLabel(""), widget.NewLabel("")
	b.reason.Wrapping, b.reach.Wrapping = fyne.TextWrapWord, fyne.TextWrapWord
	b.charges = widget.NewLabel("")
	b.charges.Wrapping = fyne.TextWrapWord
	b.reach.SizeName, b.charges.SizeName = captionSize, captionSize
	b.staff, b.keys = newPainted(b.paintStaff), newPainted(b.paintBlock)
	b.listTitle, b.listHint = text("Alternatives", sizeSmall+1, true, p.Muted), text("↑ ↓ hear · ↵ pin · Del unpin", sizeSmall, false, p.Muted)
	b.pin = w.top.button("pin", "Keep this block through every re-harmonisation (Ctrl P)", b.togglePin)
	b.pin.compact = true
	b.pins = w.top.button("▾", "Pin the block, only its voicing or only its technique", func() { b.w.showCommands("Pin", b.pins) })
	b.why = w.top.command("costs", "bench.costs")
	b.tabs = [2]*button{w.top.command("Bench", "focus.bench"), w.top.command("Reach", "focus.reach")}
	b.pins.compact, b.why.compact, b.tabs[0].compact, b.tabs[1].compact = true, true, true, true
	b.findings = newReachPage(b)
	b.foldButton = w.top.command("▸", "view.bench")
	b.foldButton.compact = true
	b.body = container.New(&benchLayout{b})
	b.scroll = container.NewVScroll(b.body)
	b.ExtendBaseWidget(b)
	b.root = container.New(&benchFrame{}, b.plate.root, b, b.scroll, b.ring)
	return b
}

// benchFrame lays the scrolled body on the panel.
type benchFrame struct{}

// MinSize is left to the frame.
func (*benchFrame) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, 120) }

// Layout fills the panel; the body keeps a margin.
func (*benchFrame) Layout(o []fyne.CanvasObject, s fyne.Size) {
	put(o[0], 0, 0, s.Width, s.Height)
	put(o[1], 0, 0, s.Width, s.Height)
	put(o[2], 4, 6, s.Width-8, s.Height-12)
	put(o[3], 0, 0, s.Width, s.Height)
}

// Tapped takes the keyboard.
func (b *benchView) Tapped(*fyne.PointEvent) { b.w.focusPanel(b.page) }

// CreateRenderer draws nothing: the panel under the body only takes clicks.
func (b *benchView) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}

func (b *benchView) togglePin() {
	if b.w.session.IsPinned() {
		b.w.run("bench.unpinhere")
	} else {
		b.w.run("bench.pinhere")
	}
}

// update shows the note that is current now.
func (b *benchView) update() {
	b.updateTabs()
	if b.page == command.Reach {
		b.findings.update()
		b.body.Objects = append([]fyne.CanvasObject{b.tabs[0], b.tabs[1], b.foldButton}, b.findings.objects()...)
		b.refresh()
		if i := b.w.session.Finding(); i >= 0 {
			b.revealRow(b.findings.rows[i], i == 0)
		}
		return
	}
	step, ok := b.w.session.Step()
	if !ok {
		b.showNothing()
		return
	}
	shown, _ := b.w.session.Shown()
	b.block = shown
	list, at := b.w.session.Alternatives()
	chart := b.w.session.Chart()
	note, _ := b.w.session.Current()
	b.heading.Text = headingOf(chart.Melody[note].Pitch, step)
	b.place.Text = placeOf(chart, step.Start)
	b.technique.show(techniqueName(shown.Technique), shown.Technique)
	b.reason.SetText(prose(shown.Reason))
	b.lit = b.keysOf(step, shown)
	b.showRows(list, at)
	b.why.setLabel("costs", b.weighed)
	if at < len(list) {
		b.charges.SetText(chargesText(list[at]))
	}
	b.reach.SetText(b.reachText(step))
	label := "pin"
	if step.Pinned {
		label = "pinned"
	}
	b.pin.setLabel(label, step.Pinned)
	b.body.Objects = b.objects(len(list))
	b.refresh()
	if at < len(list) {
		b.reveal(b.rows[at])
	}
}

// updateTabs marks the page that is shown and counts the findings.
func (b *benchView) updateTabs() {
	label := "Reach"
	if n := len(b.w.session.Reach().Findings); n > 0 {
		label = fmt.Sprintf("Reach %d", n)
	}
	b.tabs[0].setLabel("Bench", b.page == command.Bench)
	b.tabs[1].setLabel(label, b.page == command.Reach)
}

// reveal scrolls so that a row of the alternatives can be seen.
func (b *benchView) reveal(r *alternativeRow) { b.revealRow(r, r.index == 0) }

// revealRow scrolls so that a row can be seen; the first one shows the whole
// head of the page.
func (b *benchView) revealRow(r fyne.CanvasObject, first bool) {
	top, bottom := r.Position().Y, r.Position().Y+r.Size().Height
	view, offset := b.scroll.Size().Height, b.scroll.Offset.Y
	switch {
	case first || bottom <= view:
		offset = 0
	case top < offset:
		offset = top
	case bottom > offset+view:
		offset = bottom - view
	}
	if offset != b.scroll.Offset.Y {
		b.scroll.Offset.Y = offset
		b.scroll.Refresh()
	}
}

// showNothing explains the empty bench.
func (b *benchView) showNothing() {
	b.block, b.lit = arrange.Block{}, nil
	b.heading.Text, b.place.Text = "No note selected", ""
	b.reason.SetText("Select a note to see the block under it, why it was chosen, and what else could stand there.")
	b.body.Objects = []fyne.CanvasObject{b.tabs[0], b.tabs[1], b.foldButton, b.heading, b.reason}
	b.refresh()
}

func (b *benchView) refresh() {
	b.staff.valid, b.keys.valid = false, false
	b.body.Refresh()
	b.scroll.Refresh()
}

func (b *benchView) objects(alternatives int) []fyne.CanvasObject {
	o := []fyne.CanvasObject{b.tabs[0], b.tabs[1], b.place, b.foldButton, b.heading, b.technique, b.sounds, b.pin, b.pins, b.why, b.reason, b.staff.raster, b.keys.raster, b.listTitle, b.listHint}
	for _, r := range b.rows[:alternatives] {
		o = append(o, r)
	}
	if b.weighed {
		o = append(o, b.charges)
	}
	return append(o, b.reach)
}

// headingOf is "B♭ over D7♭9".
func headingOf(p theory.Pitch, step arrange.Step) string {
	switch {
	case !step.Chord.IsValid():
		return p.Name().Pretty()
	case step.Chord.IsNone():
		return p.Name().Pretty() + ", no chord"
	}
	return p.Name().Pretty() + " over " + step.Chord.Pretty()
}

func placeOf(c *project.Chart, t project.Ticks) string {
	bar, beat, _ := strings.Cut(c.PositionText(t), ".")
	return "bar " + bar + ", beat " + beat
}

var techniqueNames = map[theory.Technique]string{
	theory.Home: "home", theory.Away: "away", theory.Borrowed: "borrowed note",
	theory.Approach: "approach", theory.Diatonic: "from the scale", theory.Alone: "lead alone",
}

func techniqueName(t theory.Technique) string { return techniqueNames[t] }

// soundsAs names the block as a chord; where there is little room the name
// stands alone.
func soundsAs(b arrange.Block, room float32, t *canvas.Text) string {
	if b.Name == "" {
		return session.VoicingName(b.Voicing)
	}
	name := theory.Pretty(b.Name)
	if long := "sounds as " + name; fitText(long, t, room) == long {
		return long
	}
	return "= " + name
}

// keysOf returns the keys for the small keyboard: with limbs and fingers for
// the block that is played, plain for an alternative.
func (b *benchView) keysOf(step arrange.Step, shown arrange.Block) []paint.BlockKey {
	if !samePitches(shown, step.Block) {
		return paint.BlockKeysOf(shown.Voices, arrange.RightHand)
	}
	i, _ := b.w.session.Current()
	var out []paint.BlockKey
	for _, n := range b.w.session.Realisation().Notes {
		if n.Step == i && n.Start <= step.Start && n.Division != arrange.Pedal {
			out = append(out, paint.BlockKey{Key: n.Key, Limb: n.Limb, Finger: n.Finger})
		}
	}
	if len(out) == 0 {
		return paint.BlockKeysOf(shown.Voices, arrange.RightHand)
	}
	return out
}

func (b *benchView) paintStaff(c *paint.Canvas) {
	c.Clear(b.w.look.colours().Panel)
	paint.PaintBlockStaff(c, c.Visible(), b.block.Voices, b.w.look.colours())
}

func (b *benchView) paintBlock(c *paint.Canvas) {
	c.Clear(b.w.look.colours().Panel)
	paint.PaintBlockKeys(c, c.Visible(), b.lit, b.w.look.colours())
}

func (b *benchView) showRows(list []arrange.Alternative, at int) {
	for len(b.rows) < len(list) {
		b.rows = append(b.rows, newAlternativeRow(b, len(b.rows)))
	}
	for i, a := range list {
		b.rows[i].show(a, i == at)
	}
}

// reachText says what a player should know about this note.
func (b *benchView) reachText(step arrange.Step) string {
	parts := b.w.session.Stretches()
	for _, f := range b.w.session.Realisation().Findings {
		if f.Start == step.Start {
			parts = append(parts, findingText(b.w.session.Chart(), f))
		}
	}
	if len(parts) > 0 {
		return prose(strings.Join(parts, " "))
	}
	if n := len(b.block.Voices); n > 1 {
		span := b.block.Voices[0].Key() - b.block.Voices[n-1].Key()
		return fmt.Sprintf("The block spans %d semitones.", span)
	}
	return ""
}

// findingText is a finding with its place, sign and remedies in one line.
func findingText(c *project.Chart, f arrange.Finding) string {
	sign := [...]string{"▲", "◆", "⯃"}[f.Severity]
	text := fmt.Sprintf("%s %s: %s", sign, placeOf(c, f.Start), f.Text)
	if len(f.Remedies) > 0 {
		text += " Ways out: " + strings.Join(f.Remedies, "; ") + "."
	}
	return text
}

func (b *benchView) retint() {
	p := b.w.look.colours()
	b.plate.invalidate()
	for _, t := range []*canvas.Text{b.place, b.listTitle, b.listHint} {
		t.Color = p.Muted
	}
	b.heading.Color, b.sounds.Color = p.Text, p.Text
	b.drawRing()
	b.findings.retint()
	b.update()
}

// benchLayout places the body from the top down.
type benchLayout struct{ b *benchView }

// measures of the bench
const (
	benchPad   float32 = 14
	rowHeight  float32 = 44
	staffRoom  float32 = 78
	captionGap float32 = 6
)

// MinSize is as high as what is shown.
func (l *benchLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(240, l.arrange(max(l.b.scroll.Size().Width, 240), false))
}

// Layout places what is shown.
func (l *benchLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) { l.arrange(s.Width, true) }

// arrange walks down the body and returns its height; with move it places the
// objects as well.
func (l *benchLayout) arrange(width float32, moving bool) float32 {
	b := l.b
	inner := width - 2*benchPad
	y := float32(6)
	set := func(o fyne.CanvasObject, x, y, w, h float32) {
		if moving {
			put(o, x, y, w, h)
		}
	}
	x := benchPad
	for _, tab := range b.tabs {
		set(tab, x, y-1, tab.MinSize().Width, 22)
		x += tab.MinSize().Width + unit
	}
	place := b.place.MinSize()
	fold := b.foldButton.MinSize().Width
	set(b.foldButton, benchPad+inner-fold, y-1, fold, 22)
	set(b.place, benchPad+inner-place.Width-fold-8, y+3, place.Width, place.Height)
	y += 26
	if b.page == command.Reach {
		return b.findings.arrange(y, inner, set)
	}
	b.heading.TextSize = sizeTitle
	if b.heading.MinSize().Width > inner {
		b.heading.TextSize = sizeHeading
	}
	set(b.heading, benchPad, y, inner, 26)
	y += 32
	if len(b.block.Voices) > 0 {
		size := b.technique.MinSize()
		set(b.technique, benchPad, y, size.Width, 26)
		pin := b.pin.MinSize().Width
		room := inner - size.Width - pin - 20 - 26
		b.sounds.Text = fitText(soundsAs(b.block, room, b.sounds), b.sounds, room)
		set(b.sounds, benchPad+size.Width+10, y+5, room, 16)
		set(b.pin, benchPad+inner-pin-26, y+1, pin, 24)
		set(b.pins, benchPad+inner-24, y+1, 24, 24)
		y += 30
	}
	reason := wrappedHeight(b.reason, inner+16)
	set(b.reason, benchPad-8, y, inner+16, reason)
	y += reason
	if len(b.block.Voices) == 0 {
		return y + 8
	}
	half := float32(int((inner - 12) * 0.44))
	if moving {
		b.staff.place(benchPad, float32(int(y)), half, staffRoom)
		b.keys.place(float32(int(benchPad+half+12)), float32(int(y+8)), float32(int(inner-half-12)), staffRoom-18)
	}
	y += staffRoom + 8
	set(b.listTitle, benchPad, y, inner, 16)
	hint := b.listHint.MinSize()
	why := b.why.MinSize().Width
	set(b.why, benchPad+inner-why, y-4, why, 22)
	set(b.listHint, benchPad+inner-hint.Width-why-8, y+1, hint.Width, hint.Height)
	y += 24
	list, at := b.w.session.Alternatives()
	for i := range min(len(list), len(b.rows)) {
		set(b.rows[i], benchPad, y, inner, rowHeight)
		y += rowHeight + 5
		if b.weighed && i == at {
			h := wrappedHeight(b.charges, inner+8)
			set(b.charges, benchPad, y-6, inner+8, h)
			y += h - 6
		}
	}
	reach := wrappedHeight(b.reach, inner+16)
	set(b.reach, benchPad-8, y, inner+16, reach)
	return y + reach + 4
}

// wrappedHeight is the height a wrapped label needs in a width.
func wrappedHeight(l *widget.Label, width float32) float32 {
	l.Resize(fyne.NewSize(width, l.Size().Height))
	return l.MinSize().Height
}
