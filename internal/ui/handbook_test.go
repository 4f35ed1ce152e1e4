package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"organbook/assets"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
)

func TestHandbookPagesAreWhole(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	pages, err := assets.Handbook()
	if err != nil || len(pages) < 3 {
		t.Fatalf("%d pages: %v", len(pages), err)
	}
	pictures := 0
	for _, p := range pages {
		if _, err := w.handbookPage(p.Text); err != nil {
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
	if pictures != strings.Count(pages[0].Text+pages[1].Text+pages[2].Text, "![") || pictures < 8 {
		t.Errorf("%d pictures found", pictures)
	}
	for _, wrong := range []string{"![x](picture:none)", "![x](block:C major/F#4)", "![x](block:H major/C4)", "![x](block:C wobbly/C4)"} {
		if _, err := w.handbookPage(wrong); err == nil {
			t.Errorf("%s is accepted", wrong)
		}
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
	for stroke, id := range map[command.Stroke]string{"F3": "view.bench", "F4": "view.console", "Ctrl+n": "file.new", "Ctrl+e": "passage.treatment", "Ctrl+g": "passage.registration", "Ctrl+p": "bench.pinhere", "Ctrl+Enter": "passage.split", "l": "play.loop", "i": "play.countin", "k": "play.click"} {
		if c := table.ForKey(command.Grid, stroke); c == nil || c.ID != id {
			t.Errorf("%s does not mean %s", stroke, id)
		}
	}
}

func TestBlocksOfTheHandbookAreHeard(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	part, err := w.handbookPicture(handbookPart{caption: "x", target: "block:C major/G4"})
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
