package ui

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
)

// keyNames are the toolkit's names for keys that carry no character, as
// strokes write them.
var keyNames = map[fyne.KeyName]string{
	fyne.KeyLeft: "Left", fyne.KeyRight: "Right", fyne.KeyUp: "Up", fyne.KeyDown: "Down",
	fyne.KeyHome: "Home", fyne.KeyEnd: "End", fyne.KeyPageUp: "PageUp", fyne.KeyPageDown: "PageDown",
	fyne.KeyReturn: "Enter", fyne.KeyEnter: "Enter", fyne.KeyDelete: "Delete", fyne.KeyBackspace: "Backspace",
	fyne.KeyEscape: "Escape", fyne.KeyInsert: "Insert",
	fyne.KeyF1: "F1", fyne.KeyF2: "F2", fyne.KeyF3: "F3", fyne.KeyF4: "F4", fyne.KeyF5: "F5", fyne.KeyF6: "F6",
	fyne.KeyF7: "F7", fyne.KeyF8: "F8", fyne.KeyF9: "F9", fyne.KeyF10: "F10", fyne.KeyF11: "F11", fyne.KeyF12: "F12",
}

// shortcutNames are the keys of shortcuts, which include characters.
func shortcutName(k fyne.KeyName) string {
	if name, ok := keyNames[k]; ok {
		return name
	}
	if k == fyne.KeySpace {
		return "Space"
	}
	if len(k) == 1 {
		return string(unicode.ToLower(rune(k[0])))
	}
	return string(k)
}

// namedKeys are the words in the label of a stroke; the others are characters
// and arrows, which every keyboard writes alike.
var namedKeys = []string{"Ctrl", "Shift", "Alt", "Space", "Page", "Home", "End", "Insert", "Del", "Backspace", "Escape", "Enter"}

// keyAsWritten is the label of a stroke as keyboards in the user's language write it.
// A text that is no such label stays.
func keyAsWritten(label string) string {
	parts := strings.Split(label, " ")
	for i, p := range parts {
		switch {
		case slices.Contains(namedKeys, p):
			if translated.spoken != "en" {
				parts[i] = tr("key: " + p)
			}
		case utf8.RuneCountInString(p) > 1 && (p[0] != 'F' || p[1] > '9'):
			return label
		}
	}
	return strings.Join(parts, " ")
}

// isFunctionKey reports whether a key is one of F1 to F12, which no text needs.
func isFunctionKey(k fyne.KeyName) bool {
	return len(k) > 1 && k[0] == 'F' && k[1] >= '1' && k[1] <= '9'
}

// strokeOfKey returns the stroke of a key without a character; ok is false for
// keys whose character arrives separately.
func strokeOfKey(e *fyne.KeyEvent, m fyne.KeyModifier) (command.Stroke, bool) {
	name, ok := keyNames[e.Name]
	if !ok {
		return "", false
	}
	return command.NewStroke(false, false, m&fyne.KeyModifierShift != 0, name), true
}

// strokeOfRune returns the stroke of a typed character.
func strokeOfRune(r rune) command.Stroke {
	if r == ' ' {
		return "Space"
	}
	return command.Stroke(string(unicode.ToLower(r)))
}

// strokeOfShortcut returns the stroke behind a toolkit shortcut.
func strokeOfShortcut(s fyne.Shortcut) command.Stroke {
	switch t := s.(type) {
	case *fyne.ShortcutUndo:
		return "Ctrl+z"
	case *fyne.ShortcutRedo:
		return "Ctrl+y"
	case *fyne.ShortcutCut:
		return "Ctrl+x"
	case *fyne.ShortcutCopy:
		return "Ctrl+c"
	case *fyne.ShortcutPaste:
		return "Ctrl+v"
	case *fyne.ShortcutSelectAll:
		return "Ctrl+a"
	case *desktop.CustomShortcut:
		ctrl := t.Modifier&(fyne.KeyModifierControl|fyne.KeyModifierSuper) != 0
		return command.NewStroke(ctrl, t.Modifier&fyne.KeyModifierAlt != 0, t.Modifier&fyne.KeyModifierShift != 0, shortcutName(t.KeyName))
	}
	return ""
}

// modifiers returns the modifier keys held now; none where the driver cannot
// tell.
func modifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// stroke does what a key means in a panel and reports whether it means
// anything.
func (w *Window) stroke(p command.Panel, k command.Stroke) bool {
	if w.keyboards.letters.takes(k) {
		return true
	}
	c := w.commands.ForKey(p, k)
	if c == nil {
		return false
	}
	w.do(c)
	return true
}

// listen catches keys while no widget has the keyboard, as if the grid had it.
// Under a dialog or a menu they mean nothing.
func (w *Window) listen() {
	c := w.win.Canvas()
	loose := w.loose
	c.SetOnTypedKey(func(e *fyne.KeyEvent) {
		if dialog := w.wake(); dialog != nil {
			dialog.TypedKey(e)
		} else if k, ok := strokeOfKey(e, modifiers()); ok {
			loose(k)
		}
	})
	if keys, ok := c.(desktop.Canvas); ok {
		keys.SetOnKeyDown(func(e *fyne.KeyEvent) { w.keyboards.letters.press(w, e) })
		keys.SetOnKeyUp(func(e *fyne.KeyEvent) { w.keyboards.letters.release(w, e) })
	}
	c.SetOnTypedRune(func(r rune) {
		if dialog := w.wake(); dialog != nil {
			dialog.TypedRune(r)
		} else {
			loose(strokeOfRune(r))
		}
	})
	for _, s := range w.shortcuts() {
		c.AddShortcut(s, func(s fyne.Shortcut) { loose(strokeOfShortcut(s)) })
	}
}

// loose does what a stroke means that no widget took.
func (w *Window) loose(k command.Stroke) {
	if w.win.Canvas().Overlays().Top() == nil {
		w.stroke(command.Grid, k)
	}
}

// listenTo catches further strokes with Ctrl or Alt.
func (w *Window) listenTo(keys []command.Stroke) {
	for _, k := range keys {
		if s := customShortcut(k); s != nil {
			w.win.Canvas().AddShortcut(s, func(s fyne.Shortcut) { w.loose(strokeOfShortcut(s)) })
		}
	}
}

// shortcuts returns the toolkit's form of every stroke with Ctrl or Alt.
func (w *Window) shortcuts() []fyne.Shortcut {
	out := []fyne.Shortcut{&fyne.ShortcutUndo{}, &fyne.ShortcutRedo{}, &fyne.ShortcutCut{}, &fyne.ShortcutCopy{}, &fyne.ShortcutPaste{}, &fyne.ShortcutSelectAll{}}
	for _, c := range w.commands.All() {
		for _, k := range c.Keys {
			if s := customShortcut(k); s != nil {
				out = append(out, s)
			}
		}
	}
	return out
}

// customShortcut turns a stroke with Ctrl or Alt into the toolkit's form; nil
// for other strokes.
func customShortcut(k command.Stroke) *desktop.CustomShortcut {
	var m fyne.KeyModifier
	key := string(k)
	for _, p := range []struct {
		prefix string
		m      fyne.KeyModifier
	}{{"Ctrl+", fyne.KeyModifierShortcutDefault}, {"Alt+", fyne.KeyModifierAlt}, {"Shift+", fyne.KeyModifierShift}} {
		if len(key) > len(p.prefix) && key[:len(p.prefix)] == p.prefix {
			m |= p.m
			key = key[len(p.prefix):]
		}
	}
	if m&^fyne.KeyModifierShift == 0 {
		return nil
	}
	for name, ours := range keyNames {
		if ours == key && name != fyne.KeyEnter {
			return &desktop.CustomShortcut{KeyName: name, Modifier: m}
		}
	}
	if len(key) == 1 {
		return &desktop.CustomShortcut{KeyName: fyne.KeyName(string(unicode.ToUpper(rune(key[0])))), Modifier: m}
	}
	return &desktop.CustomShortcut{KeyName: fyne.KeyName(key), Modifier: m}
}

// panel is what the parts of the window that can hold the keyboard have in
// common: they show a ring when they hold it and hand keys to the commands.
type panel struct {
	widget.BaseWidget
	w       *Window
	id      command.Panel
	ring    *fyne.Container
	focused bool
}

func (p *panel) init(w *Window, id command.Panel) {
	p.w, p.id = w, id
	p.ring = newRing()
	p.drawRing()
}

// drawRing shows or hides the ring.
func (p *panel) drawRing() {
	for _, o := range p.ring.Objects {
		line := o.(*canvas.Rectangle)
		line.FillColor = p.w.look.colours().Accent
	}
	if p.focused {
		p.ring.Show()
	} else {
		p.ring.Hide()
	}
	p.ring.Refresh()
}

// FocusGained shows the ring.
func (p *panel) FocusGained() { p.focused = true; p.drawRing() }

// FocusLost hides the ring, and lets up what letters hold.
func (p *panel) FocusLost() {
	p.focused = false
	p.drawRing()
	p.w.keyboards.letters.lift(p.w)
}

// TypedRune runs the command of a character.
func (p *panel) TypedRune(r rune) { p.w.stroke(p.id, strokeOfRune(r)) }

// TypedKey runs the command of a key without a character.
func (p *panel) TypedKey(e *fyne.KeyEvent) {
	if k, ok := strokeOfKey(e, modifiers()); ok {
		p.w.stroke(p.id, k)
	}
}

// TypedShortcut runs the command of a key with Ctrl or Alt.
func (p *panel) TypedShortcut(s fyne.Shortcut) { p.w.stroke(p.id, strokeOfShortcut(s)) }
