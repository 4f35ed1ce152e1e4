package ui

import (
	"runtime"
	"strings"

	"fyne.io/fyne/v2"

	"organbook/internal/arrange"
	"organbook/internal/ui/command"
)

// letters plays the upper manual on the computer's keyboard. The two upper
// rows are an octave and a half from middle C on, the two lower ones the
// octave under it: the letters are the white keys, what stands above and
// between them the black ones.
type letters struct {
	on   bool
	down map[fyne.KeyName]int // the keys that letters hold
}

// lowRow and highRow name the keys upwards by semitone; a blank is a black key
// that does not exist.
const (
	lowRow, lowFirst   = "ZSXDCVGBHNJM,L.;/", 48
	highRow, highFirst = "Q2W3ER5T6Y7UI9O0P", 60
)

// placeOfY is the scan code of the place between T and U, by system; elsewhere
// the codes are those of the window system that Linux has. Keyboards for German
// and its neighbours have Z there and Y at the lower left.
var placeOfY = map[string]int{"windows": 21, "darwin": 16}

// placed names a letter by its place where Y and Z have changed theirs, so that
// the rows of keys go upwards there as well.
func placed(e *fyne.KeyEvent) fyne.KeyName {
	y, known := placeOfY[runtime.GOOS]
	if !known {
		y = 29
	}
	switch at := e.Physical.ScanCode; {
	case e.Name == fyne.KeyZ && at == y:
		return fyne.KeyY
	case e.Name == fyne.KeyY && at != 0 && at != y:
		return fyne.KeyZ
	}
	return e.Name
}

// keyOfLetter returns the key that a letter plays.
func keyOfLetter(name fyne.KeyName) (key int, ok bool) {
	if len(name) != 1 {
		return 0, false
	}
	if i := strings.Index(highRow, string(name)); i >= 0 {
		return highFirst + i, true
	}
	if i := strings.Index(lowRow, string(name)); i >= 0 {
		return lowFirst + i, true
	}
	return 0, false
}

// takes reports whether a stroke is a letter that plays instead of meaning a
// command.
func (l *letters) takes(k command.Stroke) bool {
	_, ok := keyOfLetter(fyne.KeyName(strings.ToUpper(string(k))))
	return l.on && ok
}

// press plays a letter; a key that is held repeats nothing.
func (l *letters) press(w *Window, e *fyne.KeyEvent) {
	key, ok := keyOfLetter(placed(e))
	const others = fyne.KeyModifierControl | fyne.KeyModifierAlt | fyne.KeyModifierSuper
	if _, held := l.down[e.Name]; !ok || !l.on || held || modifiers()&others != 0 {
		return
	}
	l.down[e.Name] = key
	w.session.Hold(arrange.Upper, key, true)
}

// release lets a letter's key up.
func (l *letters) release(w *Window, e *fyne.KeyEvent) {
	if key, held := l.down[e.Name]; held {
		delete(l.down, e.Name)
		w.session.Hold(arrange.Upper, key, false)
	}
}

// lift lets every letter's key up.
func (l *letters) lift(w *Window) {
	for name, key := range l.down {
		delete(l.down, name)
		w.session.Hold(arrange.Upper, key, false)
	}
}

// ToggleLetters lets the letters of the computer's keyboard play the upper
// manual, or mean commands again.
func (w *Window) ToggleLetters() {
	l := &w.keyboards.letters
	l.lift(w)
	l.on = !l.on
	if l.on {
		w.session.Say("Letters play the upper manual, Q from middle C on, the lowest row an octave lower. " + w.commands.Find("keys.letters").Key() + " ends it.")
	} else {
		w.session.Say("Letters write notes again.")
	}
	w.status.update()
}

// LeaveLetters lets letters mean commands again if they play.
func (w *Window) LeaveLetters() {
	if w.keyboards.letters.on {
		w.ToggleLetters()
	}
}

// KeyDown plays the manual when letters do.
func (p *panel) KeyDown(e *fyne.KeyEvent) { p.w.keyboards.letters.press(p.w, e) }

// KeyUp ends what KeyDown began.
func (p *panel) KeyUp(e *fyne.KeyEvent) { p.w.keyboards.letters.release(p.w, e) }

// KeyDown plays the manual when letters do.
func (b *button) KeyDown(e *fyne.KeyEvent) {
	if b.w != nil {
		b.w.keyboards.letters.press(b.w, e)
	}
}

// KeyUp ends what KeyDown began.
func (b *button) KeyUp(e *fyne.KeyEvent) {
	if b.w != nil {
		b.w.keyboards.letters.release(b.w, e)
	}
}
