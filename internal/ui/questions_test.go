package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// TestQuestionsFitTheWindow asks about a file deep in folders, in a small window and
// in a large one.
func TestQuestionsFitTheWindow(t *testing.T) {
	for _, size := range []fyne.Size{{Width: 700, Height: 500}, {Width: 1600, Height: 1000}} {
		w := open(t, Options{}, alwaysDark, size)
		w.ask(question{title: "Replace the file?", text: "“tune.organbook” exists in “" + strings.Repeat("/music of the church", 8) + "”. Replace it?",
			answers: []answer{{"Cancel", func() {}}, {"Replace", func() {}}}})
		content := w.win.Canvas().Overlays().Top().(*widget.PopUp).Content
		if content.Size().Width > size.Width-20 {
			t.Errorf("in a window of %v the question is %v", size, content.Size())
		}
		walk(content, func(o fyne.CanvasObject) {
			if l, ok := o.(*widget.Label); ok && strings.HasPrefix(l.Text, "“tune") && (l.MinSize().Width > l.Size().Width || l.MinSize().Height > l.Size().Height) {
				t.Errorf("in a window of %v, %q needs %v and has %v", size, l.Text, l.MinSize(), l.Size())
			}
		})
	}
}
