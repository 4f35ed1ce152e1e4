package ui

import (
	_ "embed"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

//go:embed guide.md
var guide string

// Help opens the guide and the table of keys in a window of their own.
func (w *Window) Help() {
	page := widget.NewRichTextFromMarkdown(guide)
	page.Wrapping = fyne.TextWrapWord
	keys := widget.NewRichTextFromMarkdown(w.keysPage())
	keys.Wrapping = fyne.TextWrapWord
	tabs := container.NewAppTabs(
		container.NewTabItem("Guide", container.NewVScroll(container.NewPadded(page))),
		container.NewTabItem("Keys", container.NewVScroll(container.NewPadded(keys))),
	)
	help := w.app.NewWindow("Organbook: guide")
	help.SetContent(tabs)
	help.Resize(fyne.NewSize(760, 720))
	help.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) {
		if e.Name == fyne.KeyEscape {
			help.Close()
		}
	})
	help.Show()
}

// keysPage lists every command that has a key, menu by menu, from the command
// table.
func (w *Window) keysPage() string {
	var b strings.Builder
	for _, menu := range w.commands.Menus() {
		first := true
		for _, c := range w.commands.InMenu(menu) {
			if len(c.Keys) == 0 {
				continue
			}
			if first {
				fmt.Fprintf(&b, "## %s\n\n", menu)
				first = false
			}
			var keys []string
			for _, k := range c.Keys {
				keys = append(keys, "**"+escapeMarkdown(k.Label())+"**")
			}
			where := ""
			if c.In != 0 {
				where = ", in the " + c.In.String()
			}
			fmt.Fprintf(&b, "- %s: %s%s\n", strings.Join(keys, " or "), c.Title, where)
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "\nOrganbook %s\n", w.opts.Version)
	return b.String()
}

func escapeMarkdown(s string) string {
	return strings.NewReplacer("*", `\*`, "_", `\_`, "#", `\#`, "`", "\\`").Replace(s)
}
