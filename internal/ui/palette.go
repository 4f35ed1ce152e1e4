package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
)

// searchEntry is the field of the command list: arrows move through what was
// found, Enter does it, Escape closes.
type searchEntry struct {
	widget.Entry
	key func(fyne.KeyName) bool
}

// TypedKey gives the list its keys.
func (e *searchEntry) TypedKey(k *fyne.KeyEvent) {
	if !e.key(k.Name) {
		e.Entry.TypedKey(k)
	}
}

// commandList is the searchable list of every command.
type commandList struct {
	w     *Window
	found []*command.Command
	at    int
	list  *widget.List
	none  *widget.Label // says that nothing was found
	field *searchEntry
	popup *widget.PopUp
}

// ListCommands opens the searchable list.
func (w *Window) ListCommands() { w.openList() }

// openList opens the list and returns it.
func (w *Window) openList() *commandList {
	l := &commandList{w: w}
	l.found = l.applying(w.commands.All())
	l.field = &searchEntry{key: l.key}
	l.field.ExtendBaseWidget(l.field)
	l.field.SetPlaceHolder(tr("Type what you want to do"))
	l.field.OnChanged = l.search
	l.list = widget.NewList(func() int { return len(l.found) }, l.newRow, l.showRow)
	l.list.OnSelected = func(i widget.ListItemID) { l.at = i }
	l.list.HideSeparators = true
	l.none = widget.NewLabel(tr("No command has these words. One word is often enough."))
	l.none.Wrapping = fyne.TextWrapWord
	l.none.Hide()
	keys := captionLabel(tr("↑ ↓ choose · Enter does it · F5 changes its key"))
	body := container.NewBorder(l.field, keys, nil, nil, container.NewStack(l.list, container.NewVBox(l.none)))
	l.popup = widget.NewModalPopUp(body, w.win.Canvas())
	size := w.win.Canvas().Size()
	l.popup.Resize(fyne.NewSize(min(620, size.Width-80), min(560, size.Height-80)))
	l.popup.Show()
	w.giveDialog(l.field)
	l.list.Select(0)
	return l
}

// search finds commands by the words of English and of the window's language.
func (w *Window) search(query string) []*command.Command {
	if language() == "en" {
		return w.commands.Search(query, nil)
	}
	return w.commands.Search(query, tr)
}

func (l *commandList) search(query string) {
	l.found, l.at = l.applying(l.w.search(query)), 0
	l.list.UnselectAll()
	l.list.Refresh()
	setVisible(len(l.found) == 0, l.none)
	if len(l.found) > 0 {
		l.list.Select(0)
		l.list.ScrollToTop()
	}
}

// applying puts what does not apply now behind what does, which stays in its
// order.
func (l *commandList) applying(found []*command.Command) []*command.Command {
	var does, not []*command.Command
	for _, c := range found {
		if c.Enabled(l.w.session) {
			does = append(does, c)
		} else {
			not = append(not, c)
		}
	}
	return append(does, not...)
}

// key moves, runs and closes; it reports whether the key was the list's.
func (l *commandList) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyDown:
		l.move(1)
	case fyne.KeyUp:
		l.move(-1)
	case fyne.KeyPageDown:
		l.move(10)
	case fyne.KeyPageUp:
		l.move(-10)
	case fyne.KeyReturn, fyne.KeyEnter:
		if l.at < len(l.found) {
			l.run(l.found[l.at])
		}
	case fyne.KeyF5:
		if l.at < len(l.found) {
			l.close()
			l.w.changeKey(l.found[l.at])
		}
	case fyne.KeyEscape:
		l.close()
	default:
		return false
	}
	return true
}

func (l *commandList) move(by int) {
	if len(l.found) > 0 {
		l.list.Select(min(max(l.at+by, 0), len(l.found)-1))
	}
}

func (l *commandList) close() {
	l.popup.Hide()
	l.w.regain()
}

// run closes the list and does the command, unless it does not apply now.
func (l *commandList) run(c *command.Command) {
	l.close()
	if !c.Enabled(l.w.session) {
		l.w.session.Say("“" + c.Title + "” does not apply to what is selected.")
		return
	}
	l.w.do(c)
}

// commandRow is one line: title, menu, key.
type commandRow struct {
	widget.BaseWidget
	l                *commandList
	c                *command.Command
	title, menu, key *canvas.Text
}

func (l *commandList) newRow() fyne.CanvasObject {
	r := &commandRow{l: l, title: text("", sizeText, false, color.White), menu: text("", sizeSmall, false, color.White), key: text("", sizeSmall+1, true, color.White)}
	r.ExtendBaseWidget(r)
	return r
}

func (l *commandList) showRow(i widget.ListItemID, o fyne.CanvasObject) {
	if i < len(l.found) {
		r := o.(*commandRow)
		r.c = l.found[i]
		r.Refresh()
	}
}

// Tapped runs the command.
func (r *commandRow) Tapped(*fyne.PointEvent) { r.l.run(r.c) }

// CreateRenderer draws the line.
func (r *commandRow) CreateRenderer() fyne.WidgetRenderer { return &commandRowRenderer{r} }

type commandRowRenderer struct{ r *commandRow }

// Layout puts the title left, the key right and the menu before it.
func (o *commandRowRenderer) Layout(s fyne.Size) {
	mid := func(t *canvas.Text, x float32) {
		m := t.MinSize()
		put(t, x, (s.Height-m.Height)/2, m.Width, m.Height)
	}
	key := o.r.key.MinSize().Width
	mid(o.r.key, s.Width-key-8)
	o.r.title.Text = fitText(o.title(), o.r.title, s.Width-key-8-8-gap)
	mid(o.r.title, 8)
	menu := s.Width - 150 - o.r.menu.MinSize().Width
	mid(o.r.menu, menu)
	setVisible(8+o.r.title.MinSize().Width+gap <= menu, o.r.menu) // a long title says enough
}

// title is the command's, whole.
func (o *commandRowRenderer) title() string {
	if o.r.c == nil {
		return ""
	}
	return tr(o.r.c.Title)
}

// MinSize is a line.
func (o *commandRowRenderer) MinSize() fyne.Size { return fyne.NewSize(300, 30) }

// Refresh follows the command.
func (o *commandRowRenderer) Refresh() {
	p := o.r.l.w.look.colours()
	if c := o.r.c; c != nil {
		o.r.menu.Text, o.r.key.Text = tr(c.Menu), keyAsWritten(c.Key())
		o.r.title.Color = p.Text
		if !c.Enabled(o.r.l.w.session) {
			o.r.title.Color = p.Muted
		}
	}
	o.r.menu.Color, o.r.key.Color = p.Muted, p.Accent
	o.Layout(o.r.Size())
	canvas.Refresh(o.r)
}

// Objects are drawn in this order.
func (o *commandRowRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{o.r.title, o.r.menu, o.r.key}
}

// Destroy has nothing to free.
func (o *commandRowRenderer) Destroy() {}
