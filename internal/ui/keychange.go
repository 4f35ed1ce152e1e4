package ui

import (
	"maps"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
	"organbook/internal/ui/shelf"
)

// keyCatcher is a line that takes the next stroke, whatever it is, except
// Escape.
type keyCatcher struct {
	widget.Label
	caught func(command.Stroke)
	escape func()
}

var (
	_ fyne.Focusable    = (*keyCatcher)(nil)
	_ fyne.Shortcutable = (*keyCatcher)(nil)
)

// FocusGained does nothing: the line is all there is to see.
func (*keyCatcher) FocusGained() {}

// FocusLost does nothing.
func (*keyCatcher) FocusLost() {}

// TypedRune takes a character.
func (k *keyCatcher) TypedRune(r rune) { k.caught(strokeOfRune(r)) }

// TypedKey takes a key without a character; Escape gives up.
func (k *keyCatcher) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		k.escape()
	} else if s, ok := strokeOfKey(e, modifiers()); ok {
		k.caught(s)
	}
}

// TypedShortcut takes a key with Ctrl or Alt.
func (k *keyCatcher) TypedShortcut(s fyne.Shortcut) {
	if stroke := strokeOfShortcut(s); stroke != "" {
		k.caught(stroke)
	}
}

// changeKey asks for the new key of a command.
func (w *Window) changeKey(c *command.Command) {
	var d *dialog.CustomDialog
	closing := func() { d.Hide(); w.regain() }
	problem := widget.NewLabel("")
	problem.Importance = widget.DangerImportance
	line := &keyCatcher{escape: closing}
	line.ExtendBaseWidget(line)
	line.SetText(tr("Press the new key for “" + c.Title + "”. Escape keeps " + keysText(c.Keys) + "."))
	line.caught = func(k command.Stroke) {
		if err := w.rebind(c.ID, []command.Stroke{k}); err != nil {
			problem.SetText(strings.Replace(sentence(err), k.Label(), keyAsWritten(k.Label()), 1))
			return
		}
		closing()
		w.session.Say("“" + c.Title + "” is " + keyAsWritten(k.Label()) + " from now on.")
	}
	usual := newEscButton("Usual key", func() {
		closing()
		if err := w.rebind(c.ID, w.commands.Usual(c.ID)); err != nil {
			w.showError(err)
		}
	}, closing)
	cancel := newEscButton("Cancel", closing, closing)
	d = dialog.NewCustomWithoutButtons(tr("Change a key"), container.NewVBox(line, problem), w.win)
	d.SetButtons([]fyne.CanvasObject{usual, cancel})
	d.Show()
	w.giveDialog(line)
}

func keysText(keys []command.Stroke) string {
	if len(keys) == 0 {
		return "it without one"
	}
	return keyAsWritten(keys[0].Label())
}

// rebind changes a command's keys and remembers it.
func (w *Window) rebind(id string, keys []command.Stroke) error {
	if err := w.commands.Rebind(id, keys); err != nil {
		return err
	}
	w.listenTo(keys)
	usual, line := slices.Equal(keys, w.commands.Usual(id)), command.WriteStrokes(keys)
	w.keepLater(func(c *shelf.Content) error {
		if delete(c.Keys, id); !usual {
			c.Keys[id] = line
		}
		return nil
	})
	return nil
}

// ownKeys gives commands the keys that were chosen in earlier runs; one that
// does not fit any more is left as it is.
func (w *Window) ownKeys() {
	keys := w.shelf.Now().Keys
	for _, id := range slices.Sorted(maps.Keys(keys)) {
		_ = w.commands.Rebind(id, command.ReadStrokes(keys[id]))
	}
}
