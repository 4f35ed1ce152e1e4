package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// TestAPickerShortensWhatDoesNotFit gives a picker less room than its choice needs.
func TestAPickerShortensWhatDoesNotFit(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	p := newPicker(w, []string{"Passages, takes and the bench"}, nil)
	p.show(0)
	r := test.WidgetRenderer(p).(*pickerRenderer)
	for _, tc := range []struct {
		width float32
		cut   bool
	}{{p.MinSize().Width, false}, {120, true}} {
		p.Resize(fyne.NewSize(tc.width, controlHeight))
		if cut := strings.HasSuffix(r.words.Text, "…"); cut != tc.cut {
			t.Errorf("%g wide it shows %q", tc.width, r.words.Text)
		}
		if end := r.words.Position().X + r.words.MinSize().Width; end > r.mark.Position().X {
			t.Errorf("%g wide, %q ends at %g, under the mark at %g", tc.width, r.words.Text, end, r.mark.Position().X)
		}
	}
}

// TestListsOpenWithTheKeyboardOnTheirFirstRow asks a list that has rows, and one
// that has none.
func TestListsOpenWithTheKeyboardOnTheirFirstRow(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("template.list")
	if now := w.win.Canvas().Focused(); len(w.list.rows) == 0 || now != fyne.Focusable(w.list.rows[0][0]) {
		t.Errorf("of %d templates the keyboard is at %v", len(w.list.rows), now)
	}
	w.list.close()
	w.run("take.list")
	if now := w.win.Canvas().Focused(); len(w.list.rows) != 0 || now != fyne.Focusable(w.list.closer) {
		t.Errorf("without a row the keyboard is at %v", now)
	}
}
