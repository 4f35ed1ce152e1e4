package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
)

// emptyState offers ways to start while the chart has neither notes nor
// chords.
type emptyState struct {
	w     *Window
	root  *fyne.Container
	plate *canvas.Rectangle
	title *canvas.Text
	line  *canvas.Text
	ways  []fyne.CanvasObject
	// narrow: the room is too narrow for the whole card, so the title goes, the
	// line is short and the ways share as many rows as they need.
	narrow bool
}

// The line over the ways to start, and what a narrow window says.
const (
	emptyLine  = "Type note letters (a–g) or click a row; Enter types a chord. Or:"
	emptyShort = "Type note letters (a–g), or:"
)

// Padding and gaps of the card.
const (
	emptyPadX, emptyPadY = 20, 14
	emptyGap             = 4
)

func newEmptyState(w *Window) *emptyState {
	p := w.look.colours()
	e := &emptyState{w: w, plate: canvas.NewRectangle(p.Panel), title: text("An empty chart", sizeHeading, true, p.Text),
		line: text(emptyLine, sizeText, false, p.Muted)}
	e.plate.CornerRadius = radiusPanel
	e.title.Alignment, e.line.Alignment = fyne.TextAlignCenter, fyne.TextAlignCenter
	e.ways = []fyne.CanvasObject{w.commandButton("Open a lead sheet…", "file.open"), w.commandButton("Open the demo", "file.demo"), w.commandButton("Read the handbook", "help.guide")}
	e.root = container.New(e, append([]fyne.CanvasObject{e.plate, e.title, e.line}, e.ways...)...)
	e.root.Hide()
	return e
}

// commandButton makes a button of a command with a face of its own.
func (w *Window) commandButton(label, id string) fyne.CanvasObject { return w.top.command(label, id) }

func (e *emptyState) show(on bool) {
	if on {
		e.root.Show()
	} else {
		e.root.Hide()
	}
}

func (e *emptyState) retint() {
	p := e.w.look.colours()
	e.plate.FillColor, e.plate.StrokeColor, e.plate.StrokeWidth = p.Panel, p.Line, 1
	e.title.Color, e.line.Color = p.Text, p.Muted
	e.plate.Refresh()
	e.title.Refresh()
	e.line.Refresh()
}

// fit returns the card's size in a room, and chooses its form.
func (e *emptyState) fit(room fyne.Size) fyne.Size {
	e.line.Text = tr(emptyLine)
	whole := e.rows(1 << 20)[0].width
	wide := max(whole, e.line.MinSize().Width, e.title.MinSize().Width) + 2*emptyPadX
	if e.narrow = wide > room.Width-2*emptyGap; e.narrow {
		e.line.Text = tr(emptyShort)
		wide = room.Width - 2*emptyGap
	}
	setVisible(!e.narrow, e.title)
	return fyne.NewSize(wide, e.height(wide))
}

// MinSize is left to the room: fit tells the size.
func (e *emptyState) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(100, 60) }

// Layout places the texts and the ways below each other.
func (e *emptyState) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	put(e.plate, 0, 0, s.Width, s.Height)
	_, y := e.pad()
	for _, t := range []*canvas.Text{e.title, e.line} {
		if t.Visible() {
			h := t.MinSize().Height
			put(t, 0, y, s.Width, h)
			y += h + emptyGap
		}
	}
	for _, row := range e.rows(e.inside(s.Width)) {
		x := (s.Width - row.width) / 2
		for _, o := range row.ways {
			m := o.MinSize()
			put(o, x, y, m.Width, m.Height)
			x += m.Width + emptyGap
		}
		y += row.height + emptyGap
	}
}

func (e *emptyState) pad() (x, y float32) {
	if e.narrow {
		return emptyGap, emptyGap
	}
	return emptyPadX, emptyPadY
}

func (e *emptyState) inside(width float32) float32 {
	x, _ := e.pad()
	return width - 2*x
}

// height is what the card takes at a width.
func (e *emptyState) height(width float32) float32 {
	_, pad := e.pad()
	h := 2*pad + e.line.MinSize().Height
	if !e.narrow {
		h += e.title.MinSize().Height + emptyGap
	}
	for _, row := range e.rows(e.inside(width)) {
		h += emptyGap + row.height
	}
	return h
}

// wayRow is a row of ways to start.
type wayRow struct {
	ways          []fyne.CanvasObject
	width, height float32
}

// rows shares the ways out to rows of a width.
func (e *emptyState) rows(width float32) (rows []wayRow) {
	for _, o := range e.ways {
		m := o.MinSize()
		if n := len(rows); n > 0 && rows[n-1].width+emptyGap+m.Width <= width {
			r := &rows[n-1]
			r.ways, r.width, r.height = append(r.ways, o), r.width+emptyGap+m.Width, max(r.height, m.Height)
			continue
		}
		rows = append(rows, wayRow{[]fyne.CanvasObject{o}, m.Width, m.Height})
	}
	return rows
}
