package command

import (
	"runtime"
	"strings"
)

// Stroke is one press of a key with its modifiers, written as "Ctrl+Shift+S",
// "Alt+Up", "Space" or "a". Modifiers come in the order Ctrl, Alt, Shift. Ctrl
// stands for the platform's command key. Printable characters stand for
// themselves, in lower case and without Shift.
type Stroke string

// NewStroke puts the modifiers of a key in the order strokes are written in.
func NewStroke(ctrl, alt, shift bool, key string) Stroke {
	var b strings.Builder
	for _, m := range []struct {
		held bool
		name string
	}{{ctrl, "Ctrl+"}, {alt, "Alt+"}, {shift, "Shift+"}} {
		if m.held {
			b.WriteString(m.name)
		}
	}
	b.WriteString(key)
	return Stroke(b.String())
}

// keyLabels are the keys that print as a sign.
var keyLabels = map[string]string{
	"Left": "←", "Right": "→", "Up": "↑", "Down": "↓",
	"PageUp": "Page ↑", "PageDown": "Page ↓", "Enter": "Enter", "Delete": "Del",
}

// Label returns the stroke as menus and help print it.
func (s Stroke) Label() string {
	parts := strings.Split(string(s), "+")
	if strings.HasSuffix(string(s), "+") { // the plus key itself
		parts = append(strings.Split(strings.TrimSuffix(string(s), "+"), "+"), "+")
		parts = dropEmpty(parts)
	}
	for i, p := range parts {
		switch label, ok := keyLabels[p]; {
		case ok:
			parts[i] = label
		case p == "Ctrl" && runtime.GOOS == "darwin":
			parts[i] = "⌘"
		case len(p) == 1:
			parts[i] = strings.ToUpper(p)
		}
	}
	return strings.Join(parts, " ")
}

func dropEmpty(list []string) []string {
	out := list[:0]
	for _, s := range list {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}
