package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/arrange"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
	"organbook/internal/ui/words"
)

// benchPage shows the block of the selected note, why it is what it is, and its
// alternatives; of several selected notes the ways to play them all.
type benchPage struct {
	b *benchView

	heading, place, function    *canvas.Text
	technique                   *tag
	sounds                      *canvas.Text
	reason, none                *widget.Label
	staff, keys                 *picture
	caption                     *canvas.Text // what staff and keys show, of several notes
	listTitle, listHint, filter *canvas.Text
	rows                        []*alternativeRow
	reach, charges              *widget.Label
	pin, pins, why              *button
	narrow, widen               *button // the filter's menu, and its end
	weighed                     bool    // the costs of the alternative are shown
	fingers                     *fingerRow
	families                    *familyList

	block   arrange.Block
	blocks  []paint.LineBlock // of several notes
	lit     []paint.BlockKey
	listed  int // rows in use
	at      int // the row that was walked to, -1 for none
	several bool
}

func newBenchPage(b *benchView) *benchPage {
	w := b.w
	p := w.look.colours()
	v := &benchPage{b: b}
	v.place, v.function, v.caption = text("", sizeSmall, false, p.Muted), text("", sizeSmall, false, p.Muted), text("", sizeSmall, false, p.Muted)
	v.heading, v.sounds = text("", sizeTitle, true, p.Text), text("", sizeText, true, p.Text)
	v.technique = newTag(w)
	for _, l := range []**widget.Label{&v.reason, &v.none, &v.reach, &v.charges} {
		*l = widget.NewLabel("")
		(*l).Wrapping = fyne.TextWrapWord
	}
	v.reach.SizeName, v.charges.SizeName = captionSize, captionSize
	v.staff, v.keys = newPainted(v.paintStaff), newPainted(v.paintBlock)
	v.listTitle, v.filter = text("", sizeSmall+1, true, p.Muted), text("", sizeSmall, false, p.Text)
	v.listHint = text("↑ ↓ hear · ↵ pin · Del unpin", sizeSmall, false, p.Muted)
	v.pin = w.top.button("pin", "Keep this block through every re-harmonisation (Ctrl P)", v.togglePin)
	v.pins = w.top.button("▾", "Pin the block, only its voicing or only its technique", func() { w.showCommands("Pin", v.pins) })
	v.why = w.top.command("costs", "bench.costs")
	v.narrow = w.top.button("filter ▾", "List only some voicings, families or reaches", func() { w.showCommands("List only", v.narrow) })
	v.widen = w.top.command("all", "filter.none")
	v.fingers, v.families = newFingerRow(v), newFamilyList(v)
	for _, x := range []*button{v.pin, v.pins, v.why, v.narrow, v.widen} {
		x.compact = true
	}
	return v
}

func (v *benchPage) togglePin() {
	if v.b.w.session.IsPinned() {
		v.b.w.run("bench.unpinhere")
	} else {
		v.b.w.run("bench.pinhere")
	}
}

// update shows the note that is current now, or the selected ones.
func (v *benchPage) update() {
	s := v.b.w.session
	v.listed, v.at, v.several = 0, -1, s.InGroup()
	v.families.update()
	v.block, v.lit, v.caption.Text, v.function.Text = arrange.Block{}, nil, "", ""
	v.staff.valid, v.keys.valid = false, false
	v.filter.Text = filterText(s.BenchFilter())
	if v.filter.Text != "" {
		v.filter.Text = tr("only " + v.filter.Text)
	}
	v.why.setLabel("costs", v.weighed)
	v.narrow.setLabel("filter ▾", v.filter.Text != "")
	v.pin.setLabel(pinLabel(s), s.IsPinned())
	step, ok := s.Step()
	switch {
	case v.several:
		v.showSeveral()
	case ok:
		v.showNote(step)
	default:
		v.heading.Text, v.place.Text = tr("No note selected"), ""
		v.reason.SetText(tr("Select a note to see the block under it, why it was chosen, and what else could stand there. Select several to choose for all of them at once."))
	}
}

// showNote fills the page for one note.
func (v *benchPage) showNote(step arrange.Step) {
	s := v.b.w.session
	v.block, _ = s.Shown()
	list, at := s.Alternatives()
	chart := s.Chart()
	note, _ := s.Current()
	v.heading.Text, v.place.Text = headingOf(chart.Melody[note].Pitch, step), placeOf(chart, step.Start)
	v.function.Text = functionOf(s.Realisation(), step)
	v.technique.show(tr(words.Technique(v.block.Technique)), v.block.Technique)
	v.reason.SetText(prose(say(v.block.Reason)))
	v.lit = v.keysOf(step, v.block)
	v.listed, v.at = len(list), at
	v.fingers.update()
	usual := s.Passage().Treatment.Voicing
	for i, a := range list {
		v.row(i).show(rowOfAlternative(a, usual, s.Stretch(a.Block)), i == at)
	}
	v.listTitle.Text = tr(fmt.Sprintf("Alternatives %d", len(list)))
	if v.filter.Text != "" {
		v.none.SetText(fmt.Sprintf("None of the %d blocks passes the filter.", s.Offered()))
	}
	if at >= 0 && at < len(list) {
		v.charges.SetText(chargesText(list[at]))
	}
	v.reach.SetText(v.reachText(step))
}

// row returns row i, made when it is needed first.
func (v *benchPage) row(i int) *alternativeRow {
	for len(v.rows) <= i {
		v.rows = append(v.rows, newAlternativeRow(v, len(v.rows)))
	}
	return v.rows[i]
}

// objects are what the page shows, in the order that Tab visits.
func (v *benchPage) objects() []fyne.CanvasObject {
	o := []fyne.CanvasObject{v.heading, v.place, v.function, v.reason}
	if len(v.block.Voices) == 0 && !v.several {
		return o
	}
	o = append(o, v.sounds, v.pin, v.pins, v.staff.raster, v.listTitle, v.narrow)
	if v.fingers.shown() {
		o = append(o, v.fingers.objects()...)
	}
	if v.several {
		o = append(o, v.caption)
	} else {
		o = append(o, v.technique, v.keys.raster, v.why)
	}
	if v.filter.Text != "" {
		o = append(o, v.filter, v.widen)
	}
	o = append(o, v.listHint)
	for _, r := range v.rows[:v.listed] {
		o = append(o, r)
	}
	if v.listed == 0 {
		o = append(o, v.none)
	}
	if v.showsCosts() {
		o = append(o, v.charges)
	}
	return append(append(o, v.reach), v.families.objects()...)
}

func (v *benchPage) showsCosts() bool { return v.weighed && !v.several && v.at >= 0 }

// chosen is the row that was walked to.
func (v *benchPage) chosen() (fyne.CanvasObject, bool) {
	if v.at < 0 || v.at >= v.listed {
		return nil, false
	}
	return v.rows[v.at], v.at == 0
}

// keysOf returns the keys for the small keyboard: with limbs and fingers for
// the block that is played, plain for an alternative.
func (v *benchPage) keysOf(step arrange.Step, shown arrange.Block) []paint.BlockKey {
	if !samePitches(shown, step.Block) {
		return paint.BlockKeysOf(shown.Voices, arrange.RightHand)
	}
	i, _ := v.b.w.session.Current()
	var out []paint.BlockKey
	for _, n := range v.b.w.session.Realisation().Notes {
		if n.Step == i && n.Start <= step.Start && n.Division != arrange.Pedal {
			out = append(out, paint.BlockKey{Key: n.Key, Limb: n.Limb, Finger: n.Finger, Then: n.Then, Glide: n.Glide})
		}
	}
	if len(out) == 0 {
		return paint.BlockKeysOf(shown.Voices, arrange.RightHand)
	}
	return out
}

func (v *benchPage) paintStaff(c *paint.Canvas) {
	th := v.b.w.look.colours()
	c.Clear(th.Panel)
	if v.several {
		paint.PaintBlockLine(c, c.Visible(), v.blocks, th)
		return
	}
	paint.PaintBlockStaff(c, c.Visible(), v.block.Voices, th)
}

func (v *benchPage) paintBlock(c *paint.Canvas) {
	c.Clear(v.b.w.look.colours().Panel)
	paint.PaintBlockKeys(c, c.Visible(), v.lit, v.b.w.look.colours())
}

// reachText says what a player should know about this note.
func (v *benchPage) reachText(step arrange.Step) string {
	s := v.b.w.session
	var parts []string
	for _, p := range append(s.Stretches(), s.Touches()...) {
		parts = append(parts, capital(say(p)))
	}
	for _, f := range s.Realisation().Findings {
		if f.Start == step.Start {
			parts = append(parts, findingText(s.Chart(), f))
		}
	}
	if len(parts) > 0 {
		return prose(strings.Join(parts, " "))
	}
	if n := len(v.block.Voices); n > 1 {
		span := v.block.Voices[0].Key() - v.block.Voices[n-1].Key()
		return tr(fmt.Sprintf("The block spans %d semitones.", span))
	}
	return ""
}

func (v *benchPage) retint() {
	p := v.b.w.look.colours()
	for _, t := range []*canvas.Text{v.place, v.function, v.caption, v.listTitle, v.listHint} {
		t.Color = p.Muted
	}
	v.heading.Color, v.sounds.Color, v.filter.Color = p.Text, p.Text, p.Text
	v.families.retint()
	for _, r := range v.rows {
		r.keys.valid = false
		r.Refresh()
	}
}

// showSeveral fills the page for the selected notes.
func (v *benchPage) showSeveral() {
	s := v.b.w.session
	steps, list, at := s.Group()
	v.heading.Text, v.place.Text = tr(fmt.Sprintf("%d notes", len(steps))), barsText(s)
	v.charges.SetText("")
	v.reach.SetText("")
	v.listTitle.Text = tr("For all of them")
	v.none.SetText(fmt.Sprintf("The bench compares at most %d notes at once. Select fewer, or change the passage's treatment.", session.MaxGroup))
	v.reason.SetText("")
	v.sounds.Text = ""
	if len(list) == 0 {
		return
	}
	m := list[at]
	v.reason.SetText(mannerText(m, at))
	v.sounds.Text = tr(m.Name)
	v.listed, v.at = len(list), at
	if b, k, ok := s.First(m); ok {
		v.block, v.blocks = b, lineOf(s, m, k)
		step := s.Realisation().Steps[steps[k]]
		which := "first note: "
		if m.Differ > 0 {
			which = "first change: "
		}
		v.caption.Text = tr(which) + headingOf(step.Lead, step) + ", " + placeOf(s.Chart(), step.Start)
	}
	for i, m := range list {
		b, _, _ := s.First(m)
		v.row(i).show(rowOfManner(m, b, i), i == at)
	}
}

// lineOf are the blocks of a way to play several notes, from the one before
// block first on; those that stay as they are stand back.
func lineOf(s *session.Session, m session.Manner, first int) (line []paint.LineBlock) {
	steps, _, _ := s.Group()
	for k := max(0, first-1); k < len(steps); k++ {
		now := s.Realisation().Steps[steps[k]].Block
		b := paint.LineBlock{Voices: now.Voices, Faint: m.Differ > 0}
		if m.Blocks[k] != nil && !samePitches(*m.Blocks[k], now) {
			b = paint.LineBlock{Voices: m.Blocks[k].Voices}
		}
		line = append(line, b)
	}
	return line
}
