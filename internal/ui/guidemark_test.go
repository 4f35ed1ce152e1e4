package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// textOf is the text of segments, with what is marked in brackets.
func textOf(segments []widget.RichTextSegment) string {
	var b strings.Builder
	for _, s := range segments {
		switch s := s.(type) {
		case *widget.ParagraphSegment:
			b.WriteString(textOf(s.Texts))
		case *widget.ListSegment:
			b.WriteString(textOf(s.Items))
		case *widget.TextSegment:
			if s.Style.ColorName == theme.ColorNamePrimary {
				b.WriteString("[" + s.Text + "]")
			} else {
				b.WriteString(s.Text)
			}
		case *widget.HyperlinkSegment:
			b.WriteString(s.Text)
		}
	}
	return b.String()
}

func TestFoundWordsAreMarked(t *testing.T) {
	for _, tc := range []struct{ page, word, want string }{
		{"The bench shows the block.", "bench", "The [bench] shows the block."},
		{"The Bench: **the bench** and benches.", "bench", "The [Bench]: the [bench] and [bench]es."},
		{"## The bench\n\nIt helps.", "bench", "[The bench]It helps."},
		{"* a bench\n* a key", "bench", "a [bench]a key"},
		{"Nothing here.", "bench", "Nothing here."},
		{"Nothing here.", "", "Nothing here."},
	} {
		if got := textOf(marked(widget.NewRichTextFromMarkdown(tc.page).Segments, tc.word)); got != tc.want {
			t.Errorf("%q in %q: %q, want %q", tc.word, tc.page, got, tc.want)
		}
	}
}

// TestSearchMarksWhatItFinds searches by the keyboard, and finds the mark gone with
// the text.
func TestSearchMarksWhatItFinds(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("help.guide")
	marks := func() (n int) {
		walk(w.guide.scroll.Content, func(o fyne.CanvasObject) {
			if r, ok := o.(*widget.RichText); ok {
				n += strings.Count(textOf(r.Segments), "[bench]") + strings.Count(textOf(r.Segments), "[Bench]")
			}
		})
		return n
	}
	if marks() != 0 {
		t.Fatal("the page is marked before anything is searched for")
	}
	w.guide.search("Bench")
	if marks() == 0 {
		t.Error("what was found is not marked")
	}
	for _, other := range []string{"", "no such word"} {
		if w.guide.search(other); marks() != 0 {
			t.Errorf("the marks stay when %q is searched for", other)
		}
		w.guide.search("bench")
	}
}

// TestSearchingAgainBeginsAnew searches for two words by the keyboard, the second of
// which is nowhere; that is said within the line.
func TestSearchingAgainBeginsAnew(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("help.guide")
	for _, word := range []string{"bench", "nowhere"} {
		typeRunes(w, "/"+word)
		press(w, fyne.KeyReturn)
		if w.guide.find.Text != word {
			t.Errorf("after %q the line holds %q", word, w.guide.find.Text)
		}
		said := w.guide.said
		if end := said.Position().X + said.MinSize().Width; said.Text == "" || end > w.guide.root.Size().Width {
			t.Errorf("the answer %q to %q ends at %g of %g", said.Text, word, end, w.guide.root.Size().Width)
		}
		press(w, fyne.KeyEscape)
	}
}

// TestPicturesOfTheHandbookStandInItsColumn looks at the edges of the pictures of
// every page and of the buttons beside them.
func TestPicturesOfTheHandbookStandInItsColumn(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("help.guide")
	found := map[string]int{}
	for page := range w.guide.pages {
		w.guide.turn(page, 0)
		for _, o := range w.guide.shown.sections {
			o.Show() // what is hidden stands nowhere
		}
		walk(w.guide.scroll.Content, func(o fyne.CanvasObject) {
			if _, button := o.(*escButton); nameOf(o) != "Image" && !button {
				return
			}
			found[nameOf(o)]++
			at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
			column := fyne.CurrentApp().Driver().AbsolutePositionForObject(w.guide.scroll)
			if left, right := at.X-column.X, column.X+w.guide.scroll.Size().Width-at.X-o.Size().Width; left < 8 || right < 8 {
				t.Errorf("%s: %s stands %g from the left and %g from the right of its column", w.guide.pages[page].Title, nameOf(o), left, right)
			}
		})
	}
	if len(found) < 2 {
		t.Errorf("there are only %v", found)
	}
}

// TestHelpOpensBesideAChordThatIsTyped presses F1 in the field: the handbook comes
// and goes, and the text, readable or not, stays with the keyboard.
func TestHelpOpensBesideAChordThatIsTyped(t *testing.T) {
	for _, text := range []string{"Bbm7", "Bbm7x"} {
		w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
		chart := w.session.Chart()
		w.session.SetCaret(chart.BarStart(2))
		w.TypeChord()
		typeRunes(w, text)
		for _, want := range []bool{true, false, true} {
			press(w, fyne.KeyF1)
			e := w.grid.entry
			if w.guide.root.Visible() != want || w.win.Canvas().Focused() != fyne.Focusable(e) || !e.root.Visible() || e.Text != text {
				t.Fatalf("after F1 in %q: handbook %v, text %q, %T has the keyboard", text, w.guide.root.Visible(), e.Text, w.win.Canvas().Focused())
			}
			if !w.session.Chart().Equal(chart) {
				t.Fatal("F1 writes the chord")
			}
		}
		press(w, fyne.KeyEscape)
		if w.grid.entry.root.Visible() || !w.guide.root.Visible() {
			t.Error("Escape does not end typing alone")
		}
	}
}
