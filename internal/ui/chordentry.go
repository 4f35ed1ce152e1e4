package ui

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// chordEntry is the field that opens over the chord row: what is typed is read
// at every key, the line below says what it means or, with a mark under the
// character, what is wrong. Under that stand the symbols it may go on to: the arrows
// walk through them, a click takes one. Enter writes what stands in the field, Tab
// goes on to the next bar or change, the blank to the next beat, Escape leaves things
// as they were.
type chordEntry struct {
	widget.Entry
	g    *gridView
	at   project.Ticks
	live bool
	// typed is what the list goes on from while the arrows walk, chosen the line
	// they are at, -1 for what is typed.
	typed   string
	chosen  int
	walking bool
	// suspended says that the keyboard comes back at once.
	suspended bool
	// unread is what was typed and could not be read when something else was clicked.
	unread unreadChord

	root  *fyne.Container
	plate *canvas.Rectangle
	note  *canvas.Text
	mark  *canvas.Rectangle
	lines [mostCompletions]*completion
}

// unreadChord is a text that waits to be mended at a place of a chart.
type unreadChord struct {
	text   string
	at     project.Ticks
	opened int    // which chart, by the session's count
	why    string // it cannot be read, as a message
}

const (
	entryWidth       float32 = 132 // at least
	entryHeight      float32 = 32
	completionHeight float32 = 22
	mostCompletions          = 5
)

func newChordEntry(g *gridView) *chordEntry {
	e := &chordEntry{g: g, plate: canvas.NewRectangle(color.Transparent), note: text("", sizeSmall+1, false, color.White), mark: canvas.NewRectangle(color.Transparent)}
	e.plate.CornerRadius, e.plate.StrokeWidth = radiusControl, 1
	e.ExtendBaseWidget(e)
	e.OnChanged = func(string) {
		if !e.walking {
			e.typed, e.chosen = e.Text, -1
			e.explain()
		}
	}
	e.root = container.NewWithoutLayout(e.plate, e, e.mark, e.note)
	for i := range e.lines {
		e.lines[i] = newCompletion(e)
		e.root.Add(e.lines[i])
	}
	e.root.Hide()
	return e
}

// open shows the field at a position with the symbol that stands there.
func (e *chordEntry) open(t project.Ticks) {
	e.at, e.live = t, true
	if u := e.unread; u.text != "" && u.at == t && u.opened == e.g.w.session.Opened() {
		e.SetText(u.text)
	} else {
		e.SetText(e.g.w.session.ChordText(t))
	}
	e.typed, e.chosen, e.unread = "", -1, unreadChord{} // nothing has been typed yet
	e.root.Show()
	e.explain()
	e.place()
	e.g.w.win.Canvas().Focus(e)
	if e.unselect(); e.Text != "" {
		e.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
}

// unselect puts the cursor behind the text, of which nothing is selected then: the
// toolkit keeps a selection when the text is replaced.
func (e *chordEntry) unselect() { e.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd}) }

// AcceptsTab keeps Tab for going on.
func (e *chordEntry) AcceptsTab() bool { return true }

// TypedKey goes on, ends or cancels; other keys edit the text.
func (e *chordEntry) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		e.commit(func() { e.close() })
	case fyne.KeyTab:
		forward := modifiers()&fyne.KeyModifierShift == 0
		e.commit(func() { e.goOn(true, forward) })
	case fyne.KeyEscape:
		e.close()
	case fyne.KeyDown:
		e.walk(1)
	case fyne.KeyUp:
		e.walk(-1)
	default:
		switch stroke, ok := strokeOfKey(k, modifiers()); {
		case e.asksForHelp(k):
			e.g.w.helpBeside(e)
		case ok && isFunctionKey(k.Name):
			e.leaveFor(stroke)
		default:
			e.Entry.TypedKey(k)
		}
	}
}

// TypedShortcut edits the text. A key with Ctrl or Alt that means nothing in a line
// of text ends typing, as a click elsewhere does, and runs its command.
func (e *chordEntry) TypedShortcut(s fyne.Shortcut) {
	k, other := s.(*desktop.CustomShortcut)
	if !other || editsText[k.KeyName] || k.KeyName == fyne.KeyUp || k.KeyName == fyne.KeyDown {
		e.Entry.TypedShortcut(s)
		return
	}
	e.leaveFor(strokeOfShortcut(s))
}

// leaveFor writes what can be read, gives the grid the keyboard and runs the command
// of a stroke; a stroke without one changes nothing.
func (e *chordEntry) leaveFor(k command.Stroke) {
	if c := e.g.w.commands.ForKey(command.Grid, k); c != nil {
		e.g.w.win.Canvas().Focus(e.g) // the field loses the keyboard, and finishes
		said := ""
		if e.unread.text != "" {
			said = e.g.w.session.Message()
		}
		if e.g.w.do(c); said != "" { // a command takes away what was said before
			e.g.w.session.Say(said)
		}
	}
}

// asksForHelp reports whether a key opens the handbook now and writes nothing.
func (e *chordEntry) asksForHelp(k *fyne.KeyEvent) bool {
	stroke, ok := strokeOfKey(k, modifiers())
	c := e.g.w.commands.ForKey(command.Grid, stroke)
	return ok && len(k.Name) > 1 && c != nil && c.ID == "help.guide"
}

// TypedRune types a character; the blank goes on to the next beat.
func (e *chordEntry) TypedRune(r rune) {
	if r == ' ' {
		e.commit(func() { e.goOn(false, true) })
		return
	}
	e.Entry.TypedRune(r)
}

// FocusLost writes what can be read and closes the field.
func (e *chordEntry) FocusLost() {
	e.Entry.FocusLost()
	e.finish()
}

// commit writes the text and then goes on; text that cannot be read stays.
func (e *chordEntry) commit(then func()) {
	if err := e.g.w.session.SetChordText(e.at, e.Text); err != nil {
		e.explain()
		return
	}
	then()
}

// goOn opens the field at the next place.
func (e *chordEntry) goOn(byBar, forward bool) {
	next, ok := e.g.w.session.NextChordPlace(e.at, byBar, forward)
	if !ok {
		e.close()
		return
	}
	e.g.w.session.SetCaret(next)
	e.open(next)
	e.g.reveal(next, false)
}

// finish ends typing because something else was clicked: text that can be read
// is written, other text is in the field again when it opens at the same place.
func (e *chordEntry) finish() {
	if !e.live || e.suspended {
		return
	}
	e.live = false
	e.root.Hide()
	if err := e.g.w.session.SetChordText(e.at, e.Text); err != nil {
		why := "The chord “" + e.Text + "” waits here to be mended: " + session.Sentence(err)
		e.unread = unreadChord{e.Text, e.at, e.g.w.session.Opened(), why}
		e.g.w.session.Say(why)
	}
}

// remind says again what waits to be mended: what the chart is written to does not
// have it.
func (e *chordEntry) remind() {
	if u := e.unread; u.text != "" && u.opened == e.g.w.session.Opened() {
		e.g.w.session.Say(u.why)
	}
}

// suspend keeps what is typed while something else has the keyboard for a moment.
func (e *chordEntry) suspend(do func()) {
	e.suspended = true
	do()
	e.g.w.win.Canvas().Focus(e)
	e.suspended = false
	e.place()
}

// close ends typing without writing and gives the grid the keyboard.
func (e *chordEntry) close() {
	e.live = false
	e.root.Hide()
	e.g.w.win.Canvas().Focus(e.g)
}

// explain says under the field what the text means.
func (e *chordEntry) explain() {
	if !e.live {
		return
	}
	r := session.ReadChord(e.Text)
	p := e.g.w.look.colours()
	e.note.Text, e.note.Color = tr(r.Means), p.Text
	if strings.TrimSpace(e.Text) == "" && e.g.w.session.ChordText(e.at) == "" {
		e.note.Text = tr("a chord, such as Gm7 or D7b9")
	}
	e.mark.FillColor = color.Transparent
	if r.Error != "" {
		e.note.Text, e.note.Color = "✗ "+tr(r.Error), p.Unplayable
		e.mark.FillColor = p.Unplayable
		e.markAt(r.At)
	}
	e.note.Refresh()
	e.mark.Refresh()
	found := e.completions()
	for i, l := range e.lines {
		l.show(found, i)
	}
	e.place()
}

// completions returns the symbols that what is typed may go on to.
func (e *chordEntry) completions() []session.Reading {
	return e.g.w.session.Completions(e.typed, mostCompletions)
}

// walk writes the next or previous completion into the field; before the first
// stands what was typed. From a symbol that was there it goes on to others of its root.
func (e *chordEntry) walk(by int) {
	if e.typed == "" {
		e.typed = session.Root(e.Text)
	}
	found := e.completions()
	e.chosen = min(max(e.chosen+by, -1), len(found)-1)
	text := e.typed
	if e.chosen >= 0 {
		text = found[e.chosen].Chord.String()
	} else if by > 0 || text == "" {
		return // nothing to walk through
	}
	e.walking = true
	e.SetText(text)
	e.unselect()
	e.walking = false
	e.explain()
}

// markAt underlines the character the error is about.
func (e *chordEntry) markAt(at int) {
	runes := []rune(e.Text)
	at = min(max(at, 0), len(runes))
	before := paint.TextWidth(string(runes[:at]), paint.Regular, float64(sizeText))
	width := 7.0
	if at < len(runes) {
		width = paint.TextWidth(string(runes[at]), paint.Regular, float64(sizeText))
	}
	origin := e.Position()
	put(e.mark, origin.X+2*unit+float32(before), origin.Y+entryHeight-5, float32(width), 2)
}

// place puts the field over its chord and the line below it, inside the grid.
func (e *chordEntry) place() {
	if !e.live || e.g.layout == nil {
		return
	}
	system, x := e.g.layout.X(min(e.at, e.g.w.session.Chart().Length()-1))
	s := e.g.layout.Systems[system]
	room := e.g.Size().Width - 16
	noteSize := e.note.MinSize()
	field := max(entryWidth, float32(paint.TextWidth(e.Text, paint.Regular, float64(sizeText)))+5*unit)
	width := max(field, noteSize.Width+4*unit)
	for _, l := range e.lines {
		if l.Visible() {
			width = max(width, l.MinSize().Width)
		}
	}
	width = min(width, room-4)
	left := clamp(float32(x)-2, 4, max(room-width, 4))
	top := float32(s.Chords.Y) + 2
	put(e, left, top, min(field, width), entryHeight)
	e.note.Move(fyne.NewPos(left+2*unit, top+entryHeight+3))
	e.note.Resize(noteSize)
	bottom := top + entryHeight + noteSize.Height + 6
	for _, l := range e.lines {
		if l.Visible() {
			put(l, left, bottom, width, completionHeight)
			bottom += completionHeight
		}
	}
	put(e.plate, left-2, top-2, width+4, bottom-top+4)
	if r := session.ReadChord(e.Text); r.Error != "" {
		e.markAt(r.At)
	}
}

func (e *chordEntry) retint() {
	p := e.g.w.look.colours()
	e.plate.FillColor, e.plate.StrokeColor = p.Panel, p.Accent
	e.plate.Refresh()
	e.explain()
}
