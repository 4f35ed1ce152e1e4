package ui

import (
	"fmt"
	"strings"
)

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
				fmt.Fprintf(&b, "## %s\n\n", tr(menu))
				first = false
			}
			var keys []string
			for _, k := range c.Keys {
				keys = append(keys, "**"+escapeMarkdown(k.Label())+"**")
			}
			where := ""
			if c.In != 0 {
				where = tr(", in the " + c.In.String())
			}
			fmt.Fprintf(&b, "- %s: %s%s\n", strings.Join(keys, tr(" or ")), tr(c.Title), where)
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "\nOrganbook %s\n", w.opts.Version)
	return b.String()
}

func escapeMarkdown(s string) string {
	return strings.NewReplacer("*", `\*`, "_", `\_`, "#", `\#`, "`", "\\`").Replace(s)
}
