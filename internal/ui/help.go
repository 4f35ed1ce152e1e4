package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"organbook/assets"
)

// Help opens the handbook and the table of keys over the window.
func (w *Window) Help() {
	var d *dialog.CustomDialog
	closing := func() { d.Hide(); w.focusPanel(gridPanel) }
	tabs := container.NewAppTabs()
	pages, err := assets.Handbook()
	for _, page := range pages {
		var body *container.Scroll
		if body, err = w.handbookPage(page.Text); err != nil {
			break
		}
		tabs.Append(container.NewTabItem(page.Title, body))
	}
	if err != nil {
		w.showError(err)
		return
	}
	tabs.Append(container.NewTabItem("Keys", newReader(w.keysPage())))
	b := newEscButton("Close", closing, closing)
	b.other = func(k fyne.KeyName) { leaf(tabs, k) }
	d = dialog.NewCustomWithoutButtons("Organbook", tabs, w.win)
	d.SetButtons([]fyne.CanvasObject{b})
	size := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(820, size.Width-80), size.Height-60))
	d.Show()
	w.win.Canvas().Focus(b)
}

// newReader shows Markdown that scrolls.
func newReader(markdown string) *container.Scroll {
	page := widget.NewRichTextFromMarkdown(markdown)
	page.Wrapping = fyne.TextWrapWord
	return container.NewVScroll(container.NewPadded(page))
}

// leaf turns the pages of a tab by keys, and goes from tab to tab.
func leaf(tabs *container.AppTabs, k fyne.KeyName) {
	page := tabs.Selected().Content.(*container.Scroll)
	height := page.Size().Height
	switch k {
	case fyne.KeyDown:
		page.ScrollToOffset(page.Offset.AddXY(0, 48))
	case fyne.KeyUp:
		page.ScrollToOffset(page.Offset.SubtractXY(0, 48))
	case fyne.KeyPageDown:
		page.ScrollToOffset(page.Offset.AddXY(0, height-48))
	case fyne.KeyPageUp:
		page.ScrollToOffset(page.Offset.SubtractXY(0, height-48))
	case fyne.KeyHome:
		page.ScrollToTop()
	case fyne.KeyEnd:
		page.ScrollToBottom()
	case fyne.KeyRight:
		tabs.SelectIndex(min(tabs.SelectedIndex()+1, len(tabs.Items)-1))
	case fyne.KeyLeft:
		tabs.SelectIndex(max(tabs.SelectedIndex()-1, 0))
	}
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
