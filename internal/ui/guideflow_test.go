package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// TestMarkdownIsMended reads pieces of pages and finds them as they are meant.
func TestMarkdownIsMended(t *testing.T) {
	for page, want := range map[string]string{
		"In the bench (**Ctrl 3**): so": "In the bench (Ctrl 3): so",
		"- **\\_**: Hold":               "_: Hold",
		"- **\\#** or **+**: Sharpen":   "# or +: Sharpen",
		"die „**so**“ heißen":           "die „so“ heißen",
	} {
		if got := strings.TrimSpace(textOf(mended(widget.NewRichTextFromMarkdown(page).Segments))); got != want {
			t.Errorf("%q shows %q, want %q", page, got, want)
		}
	}
}

// TestThePageOfKeysShowsEveryKey looks for each key of the commands as it is written
// elsewhere.
func TestThePageOfKeysShowsEveryKey(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	var shown strings.Builder
	for _, part := range handbookParts(w.keysPage()) {
		shown.WriteString(textOf(mended(widget.NewRichTextFromMarkdown(part.text).Segments)))
	}
	for _, c := range w.commands.All() {
		if k := c.Key(); k != "" && !strings.Contains(shown.String(), k+": "+c.Title) && !strings.Contains(shown.String(), k+" or ") {
			t.Errorf("%q for %q is not on the page", k, c.Title)
		}
	}
	if strings.Contains(shown.String(), `\`) {
		t.Error("the page shows a stroke of Markdown")
	}
}
