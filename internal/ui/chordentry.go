package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// chordEntry is the field that opens over the chord row: what is typed is read
// at every key, the line below says what it means or, with a mark under the
// character, what is wrong. Enter writes it, Tab goes on to the next bar or
// change, the blank to the next beat, Escape leaves things as they were.
type chordEntry struct {
	widget.Entry
	g    *gridView
	at   project.Ticks
	live bool
	// suspended says that the keyboard comes back at once.
	suspended bool

	root  *fyne.Container
	plate *canvas.Rectangle
	note  *canvas.Text
	mark  *canvas.Rectangle
}

const (
	entryWidth  float32 = 132
	entryHeight float32 = 32
)

func newChordEntry(g *gridView) *chordEntry {
	e := &chordEntry{g: g, plate: canvas.NewRectangle(color.Transparent), note: text("", sizeSmall+1, false, color.White), mark: canvas.NewRectangle(color.Transparent)}
	e.plate.CornerRadius, e.plate.StrokeWidth = radiusControl, 1
	e.ExtendBaseWidget(e)
	e.OnChanged = func(string) { e.explain() }
	e.root = container.NewWithoutLayout(e.plate, e, e.mark, e.note)
	e.root.Hide()
	return e
}

// open shows the field at a position with the symbol that stands there.
func (e *chordEntry) open(t project.Ticks) {
	e.at, e.live = t, true
	e.SetText(e.g.w.session.ChordText(t))
	e.root.Show()
	e.explain()
	e.place()
	e.g.w.win.Canvas().Focus(e)
	e.TypedShortcut(&fyne.ShortcutSelectAll{})
}

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
	default:
		if e.asksForHelp(k) {
			e.g.w.helpBeside(e)
			return
		}
		e.Entry.TypedKey(k)
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
// is written, other text is let go with a word about it.
func (e *chordEntry) finish() {
	if !e.live || e.suspended {
		return
	}
	e.live = false
	e.root.Hide()
	if err := e.g.w.session.SetChordText(e.at, e.Text); err != nil {
		e.g.w.session.Say("The chord “" + e.Text + "” was not kept: " + session.Sentence(err))
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
	e.mark.FillColor = color.Transparent
	if r.Error != "" {
		e.note.Text, e.note.Color = "✗ "+tr(r.Error), p.Unplayable
		e.mark.FillColor = p.Unplayable
		e.markAt(r.At)
	}
	e.note.Refresh()
	e.mark.Refresh()
	e.place()
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
	width := max(entryWidth, noteSize.Width+4*unit)
	left := clamp(float32(x)-2, 4, max(room-width, 4))
	top := float32(s.Chords.Y) + 2
	put(e, left, top, entryWidth, entryHeight)
	put(e.plate, left-2, top-2, width+4, entryHeight+noteSize.Height+10)
	e.note.Move(fyne.NewPos(left+2*unit, top+entryHeight+3))
	e.note.Resize(noteSize)
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
