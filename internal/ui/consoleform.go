package ui

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// consoleFields are the fields of the form that describes an instrument.
type consoleFields struct {
	known        []project.Console
	base         *escSelect
	compass      [3]*escEntry
	split        *escCheck
	offset       *escEntry
	free         [4]*escCheck
	shown        project.Console
	limbsInOrder []project.Limbs
}

// consoleForm asks for the instrument the chart is played on: one of the
// customary ones, or one's own by its compasses.
func (w *Window) consoleForm() {
	now, ok := project.ConsoleByID(w.session.Chart().Console)
	if !ok {
		now, _ = project.ConsoleByID(project.DefaultConsole)
	}
	f := newConsoleFields(now)
	free := container.NewGridWithColumns(2)
	for _, c := range f.free {
		free.Add(c)
	}
	items := []*widget.FormItem{
		hinted("Console", f.base, "fills the fields in; change any of them for one of your own"),
		hinted("Upper manual", f.compass[0], "lowest and highest key, such as C2–C7"),
		widget.NewFormItem("Lower manual", f.compass[1]),
		hinted("Pedalboard", f.compass[2], "empty where there is none"),
		widget.NewFormItem("", f.split),
		hinted("Lower stands", f.offset, "mm to the right of the upper manual; 0 where pitches are aligned"),
		widget.NewFormItem("Free limbs", free),
	}
	w.form("Console", items, f.base, func() error {
		k, err := f.read()
		if err != nil {
			return err
		}
		return w.session.SetConsole(k.ID)
	})
}

func newConsoleFields(now project.Console) *consoleFields {
	f := &consoleFields{known: project.ConsolesWith(now.ID)}
	f.base = choice(f.known, func(k project.Console) string { return k.Name }, now)
	for i := range f.compass {
		f.compass[i] = newEscEntry("", nil)
	}
	f.offset = newEscEntry("", nil)
	f.split = newEscCheck("one manual, split between both divisions")
	f.limbsInOrder = []project.Limbs{project.BusyRightHand, project.BusyLeftHand, project.BusyLeftFoot, project.BusyRightFoot}
	for i, name := range []string{"right hand", "left hand", "left foot", "right foot"} {
		f.free[i] = newEscCheck(name)
	}
	f.show(now)
	f.base.OnChanged = func(string) { f.show(f.known[f.base.SelectedIndex()]) }
	return f
}

// show fills the fields in.
func (f *consoleFields) show(k project.Console) {
	f.shown = k
	for i, c := range []project.Compass{k.Upper, k.Lower, k.Pedal} {
		f.compass[i].SetText(compassText(c))
	}
	f.split.SetChecked(k.Split > 0)
	f.offset.SetText(strconv.Itoa(k.LowerOffset))
	for i, limb := range f.limbsInOrder {
		f.free[i].SetChecked(k.Busy&limb == 0)
	}
}

// read returns the console of the form: a customary one where nothing was
// changed, or one of the user's own.
func (f *consoleFields) read() (project.Console, error) {
	var k project.Console
	for i, to := range []*project.Compass{&k.Upper, &k.Lower, &k.Pedal} {
		var err error
		if *to, err = readCompass(f.compass[i].Text, i == 2); err != nil {
			return k, fmt.Errorf("%s: %w", [...]string{"upper manual", "lower manual", "pedalboard"}[i], err)
		}
	}
	if f.split.Checked {
		k.Split = k.Upper.Lowest
	}
	var err error
	if k.LowerOffset, err = strconv.Atoi(strings.TrimSpace(f.offset.Text)); err != nil {
		return k, fmt.Errorf("%q is no number of millimetres", f.offset.Text)
	}
	for i, limb := range f.limbsInOrder {
		if !f.free[i].Checked {
			k.Busy |= limb
		}
	}
	for _, known := range f.known {
		k.ID, k.Name = known.ID, known.Name
		if k == known {
			return k, nil
		}
	}
	return project.OwnConsole(k)
}

// compassText writes a compass as the form does, such as "C2–C7".
func compassText(k project.Compass) string {
	if k.Keys() == 0 {
		return ""
	}
	return keyText(k.Lowest) + "–" + keyText(k.Highest)
}

func keyText(key int) string {
	names := [12]string{"C", "C♯", "D", "E♭", "E", "F", "F♯", "G", "A♭", "A", "B♭", "B"}
	return names[key%12] + strconv.Itoa(key/12-1)
}

// readCompass reads two keys, by name or as MIDI numbers; may says that
// nothing stands for a keyboard that is not there.
func readCompass(text string, may bool) (k project.Compass, err error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" –-,;/", r) })
	if len(words) == 0 && may {
		return project.Compass{Lowest: 0, Highest: -1}, nil
	}
	if len(words) != 2 {
		return k, fmt.Errorf("%q: write the lowest and the highest key, such as C2–C7", text)
	}
	if k.Lowest, err = readKey(words[0]); err != nil {
		return k, err
	}
	k.Highest, err = readKey(words[1])
	return k, err
}

func readKey(word string) (int, error) {
	if n, err := strconv.Atoi(word); err == nil {
		return n, nil
	}
	p, err := theory.ParsePitch(word)
	if err != nil {
		return 0, fmt.Errorf("%q is no key; write one such as C2", word)
	}
	return p.Key(), nil
}
