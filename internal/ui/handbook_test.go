package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"organbook/assets"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
)

func TestHandbookPagesAreWhole(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	english, err := assets.Handbook()
	if err != nil || len(english) < 3 {
		t.Fatalf("%d pages: %v", len(english), err)
	}
	for _, code := range []string{"en", "de"} {
		pages, err := assets.HandbookIn(code)
		if err != nil || len(pages) != len(english) {
			t.Fatalf("%s: %d pages: %v", code, len(pages), err)
		}
		checkHandbook(t, w, pages)
	}
	for _, wrong := range []string{"![x](picture:none)", "![x](view:none)", "![x](block:C major/F#4)", "![x](block:H major/C4)", "![x](block:C wobbly/C4)"} {
		if _, err := w.handbookPage(wrong, 380, ""); err == nil {
			t.Errorf("%s is accepted", wrong)
		}
	}
}

// checkHandbook makes every page of a handbook and finds all its pictures.
func checkHandbook(t *testing.T, w *Window, pages []assets.Page) {
	t.Helper()
	pictures, marks := 0, 0
	for _, p := range pages {
		marks += strings.Count(p.Text, "![")
		if _, err := w.handbookPage(p.Text, 380, ""); err != nil {
			t.Errorf("%s: %v", p.Title, err)
		}
		for _, part := range handbookParts(p.Text) {
			if part.target != "" {
				pictures++
			}
		}
		for _, r := range p.Text {
			if strings.ContainsRune("\t", r) {
				t.Errorf("%s: a tab", p.Title)
			}
		}
	}
	if pictures != marks || pictures < 12 {
		t.Errorf("%d pictures found", pictures)
	}
}

// TestTheHandbookTellsTheTruthAboutItsBlocks checks what the theory page says
// next to its blocks.
func TestTheHandbookTellsTheTruthAboutItsBlocks(t *testing.T) {
	for what, want := range map[string]theory.Technique{"C major/G4": theory.Home, "C major/Ab4": theory.Away, "C major/A4": theory.Home, "C dominant/Bb4": theory.Home} {
		family, lead, err := readFamilyNote(what)
		if err != nil {
			t.Fatal(err)
		}
		if _, got, ok := family.Block(lead); !ok || got != want {
			t.Errorf("%s is %v, the handbook says %v", what, got, want)
		}
	}
}

// TestTheHandbookNamesKeysThatWork checks the keys that the text mentions.
func TestTheHandbookNamesKeysThatWork(t *testing.T) {
	table := command.Builtin()
	for stroke, id := range map[command.Stroke]string{"F3": "view.bench", "F4": "view.console", "Ctrl+n": "file.new", "Ctrl+e": "passage.treatment", "Ctrl+g": "passage.registration", "Ctrl+p": "bench.pinhere", "Ctrl+Enter": "passage.split", "Ctrl+Shift+Enter": "passage.make", "Ctrl+j": "passage.join", "Alt+Shift+e": "template.list", "Alt+m": "take.make", "Alt+t": "take.next", "Alt+c": "take.compare", "Alt+x": "take.changeover", "Alt+s": "take.surprise", "Alt+Shift+s": "take.proposals", "Alt+Shift+m": "take.list", "h": "bench.hear", "l": "play.loop", "i": "play.countin", "k": "play.click"} {
		if c := table.ForKey(command.Grid, stroke); c == nil || c.ID != id {
			t.Errorf("%s does not mean %s", stroke, id)
		}
	}
}

func TestBlocksOfTheHandbookAreHeard(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	part, err := w.handbookPicture(handbookPart{caption: "x", target: "block:C major/G4"}, 380)
	if err != nil {
		t.Fatal(err)
	}
	walk(part, func(o fyne.CanvasObject) {
		if b, ok := o.(fyne.Tappable); ok {
			test.Tap(b)
		}
	})
	if sound.heard != 4 {
		t.Errorf("%d voices are heard", sound.heard)
	}
}

// TestTheHandbookBreaksNoWords looks for lines that the toolkit would have to break
// once more, in the columns there are.
func TestTheHandbookBreaksNoWords(t *testing.T) {
	open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	bold := widget.RichTextStyleInline
	bold.TextStyle.Bold = true
	for _, width := range []float32{280, 300, 380} {
		var segments []widget.RichTextSegment
		for i := range 40 {
			segments = append(segments, &widget.TextSegment{Style: bold, Text: strings.Repeat("R", 1+i%7)},
				&widget.TextSegment{Style: widget.RichTextStyleInline, Text: " is a hand and" + strings.Repeat(" so", i%5) + " on "})
		}
		x, lines := float32(0), 1
		for _, s := range brokenLines(segments, width) {
			s := s.(*widget.TextSegment)
			for i, line := range strings.Split(s.Text, "\n") {
				if i > 0 {
					x, lines = 0, lines+1
				}
				if x += fyne.MeasureText(line, theme.TextSize(), s.Style.TextStyle).Width; x > width {
					t.Errorf("width %v: line %d is %v wide at %q", width, lines, x, line)
				}
			}
		}
		if lines < 10 {
			t.Errorf("width %v: %d lines", width, lines)
		}
	}
}
