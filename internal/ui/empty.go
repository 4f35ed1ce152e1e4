package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// emptyState offers ways to start while the chart has neither notes nor
// chords.
type emptyState struct {
	w     *Window
	root  *fyne.Container
	plate *canvas.Rectangle
	title *canvas.Text
	line  *canvas.Text
}

func newEmptyState(w *Window) *emptyState {
	p := w.look.colours()
	e := &emptyState{w: w, plate: canvas.NewRectangle(p.Panel), title: text("An empty chart", sizeHeading, true, p.Text),
		line: text("Type note letters (a–g) or click a row; Enter types a chord. Or:", sizeText, false, p.Muted)}
	e.plate.CornerRadius = radiusPanel
	e.title.Alignment, e.line.Alignment = fyne.TextAlignCenter, fyne.TextAlignCenter
	buttons := container.New(layout.NewHBoxLayout(), layout.NewSpacer(),
		w.commandButton("Open a lead sheet…", "file.open"), w.commandButton("Open the demo", "file.demo"), w.commandButton("Read the guide", "help.guide"), layout.NewSpacer())
	body := container.New(layout.NewCustomPaddedLayout(14, 14, 20, 20), container.NewVBox(e.title, e.line, buttons))
	e.root = container.NewStack(e.plate, body)
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
