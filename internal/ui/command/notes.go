package command

import (
	"strconv"
	"strings"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/session"
)

func noteCommands() []*Command {
	var list []*Command
	for l := theory.C; l <= theory.B; l++ {
		list = append(list, &Command{ID: "note.place." + l.String(), Title: "Write " + l.String() + " at the caret", Menu: "Note",
			Keys: []Stroke{Stroke(strings.ToLower(l.String()))}, In: Grid,
			Do: fallible(func(s *session.Session) error { return s.PlaceLetter(l) })})
	}
	has := (*session.Session).HasTarget
	in := func(menu string) func(id, title string, key Stroke, do func(*session.Session) error) *Command {
		return func(id, title string, key Stroke, do func(*session.Session) error) *Command {
			return &Command{ID: "note." + id, Title: title, Menu: menu, Keys: []Stroke{key}, In: Grid, Applies: has, Do: fallible(do)}
		}
	}
	move, pitch, timing := in("Note"), in("Pitch"), in("Time")
	return append(list,
		&Command{ID: "note.rest", Title: "Leave a rest", Menu: "Note", Keys: []Stroke{"Space"}, In: Grid, Do: fallible((*session.Session).Rest)},
		move("hold", "Hold the last note on (tie)", "_", (*session.Session).HoldOn),
		pitch("sharper", "Sharpen, same letter", "#", func(s *session.Session) error { return s.Alter(1) }).alias("+"),
		pitch("flatter", "Flatten, same letter", "-", func(s *session.Session) error { return s.Alter(-1) }),
		pitch("up", "Up a scale step", "Alt+Up", func(s *session.Session) error { return s.StepPitch(1) }),
		pitch("down", "Down a scale step", "Alt+Down", func(s *session.Session) error { return s.StepPitch(-1) }),
		pitch("semitoneup", "Up a semitone", "Ctrl+Alt+Up", func(s *session.Session) error { return s.Semitone(1) }),
		pitch("semitonedown", "Down a semitone", "Ctrl+Alt+Down", func(s *session.Session) error { return s.Semitone(-1) }),
		pitch("octaveup", "Up an octave", "Alt+Shift+Up", func(s *session.Session) error { return s.Octave(1) }),
		pitch("octavedown", "Down an octave", "Alt+Shift+Down", func(s *session.Session) error { return s.Octave(-1) }),
		timing("later", "Later in time", "Alt+Right", func(s *session.Session) error { return s.Nudge(1) }),
		timing("earlier", "Earlier in time", "Alt+Left", func(s *session.Session) error { return s.Nudge(-1) }),
		timing("longer", "Longer", "Alt+Shift+Right", func(s *session.Session) error { return s.Lengthen(1) }),
		timing("shorter", "Shorter", "Alt+Shift+Left", func(s *session.Session) error { return s.Lengthen(-1) }),
		&Command{ID: "note.split", Title: "Split in two equal notes", Menu: "Note", Keys: []Stroke{"/"}, In: Grid, Applies: has, Do: fallible((*session.Session).SplitNotes)},
		&Command{ID: "note.join", Title: "Join the selected notes", Menu: "Note", Keys: []Stroke{"j"}, In: Grid, Applies: (*session.Session).HasSeveral, Do: fallible((*session.Session).JoinNotes)},
		&Command{ID: "note.even", Title: "Spread the selected notes evenly, as a tuplet", Menu: "Divide", Keys: []Stroke{"Alt+/"}, In: Grid, Applies: (*session.Session).HasSeveral, Do: fallible((*session.Session).EvenNotes)},
		&Command{ID: "note.delete", Title: "Delete notes", Menu: "Note", Keys: []Stroke{"Delete"}, In: Grid, Applies: (*session.Session).HasNotes, Do: fallible((*session.Session).DeleteNotes)},
		&Command{ID: "note.backspace", Title: "Delete the note before the caret", Menu: "Note", Keys: []Stroke{"Backspace"}, In: Grid, Applies: has, Do: fallible((*session.Session).DeleteBack)},
	)
}

// alias adds a second key.
func (c *Command) alias(k Stroke) *Command {
	c.Keys = append(c.Keys, k)
	return c
}

// lengthKeys maps a note value to the digit that writes it: the last digit of
// the number under the fraction.
var lengthKeys = map[int]Stroke{1: "1", 2: "2", 4: "4", 8: "8", 16: "6", 32: "3"}

func lengthCommands() []*Command {
	var list []*Command
	for _, v := range session.Values {
		name := session.Entry{Value: v}.String()
		list = append(list, &Command{ID: "length." + strconv.Itoa(v), Title: "Length: " + name, Menu: "Length",
			Keys: []Stroke{lengthKeys[v]}, In: Grid, On: func(s *session.Session) bool { return s.Entry().Value == v },
			Do: fallible(func(s *session.Session) error { return s.SetValue(v) })})
	}
	for _, n := range []int{5, 7, 9} {
		list = append(list, tupletCommand(n, Stroke(strconv.Itoa(n))))
	}
	for _, n := range []int{2, 4, 6} {
		list = append(list, tupletCommand(n, Stroke("Alt+"+strconv.Itoa(n))))
	}
	return append(list,
		&Command{ID: "length.dot", Title: "Length: dotted or not", Menu: "Length", Keys: []Stroke{"."}, In: Grid, On: func(s *session.Session) bool { return s.Entry().Dotted }, Do: fallible((*session.Session).ToggleDot)},
		&Command{ID: "length.triplet", Title: "Length: triplet or not", Menu: "Length", Keys: []Stroke{"t"}, In: Grid, On: func(s *session.Session) bool { return s.Entry().Tuplet.N == 3 }, Do: fallible((*session.Session).ToggleTriplet)},
	)
}

// tupletCommand makes the next note one of a tuplet of n.
func tupletCommand(n int, k Stroke) *Command {
	return &Command{ID: "length.tuplet" + strconv.Itoa(n), Title: "Length: " + project.Tuplet{N: n}.String() + " or not", Menu: "Length",
		Keys: []Stroke{k}, In: Grid, Applies: func(s *session.Session) bool { return s.TakesTuplet(n) },
		On: func(s *session.Session) bool { return s.Entry().Tuplet.N == n },
		Do: fallible(func(s *session.Session) error { return s.ToggleTuplet(n) })}
}

// divideCommands divide notes into equal parts: what the tuplets do to notes
// that are there.
func divideCommands() []*Command {
	var list []*Command
	for _, n := range []int{3, 5, 7, 9} {
		list = append(list, &Command{ID: "note.divide" + strconv.Itoa(n), Title: "Divide into " + strconv.Itoa(n) + " equal notes", Menu: "Divide",
			Keys: []Stroke{Stroke("Alt+" + strconv.Itoa(n))}, In: Grid, Applies: (*session.Session).HasTarget,
			Do: fallible(func(s *session.Session) error { return s.DivideNotes(n) })})
	}
	return list
}

// swings are how late the off-beat eighth can come by command: the part of the
// beat before it.
var swings = []struct {
	id, name string
	value    float64
}{{"straight", "straight", 0.5}, {"light", "light, 56 %", 0.56}, {"medium", "medium, 62 %", 0.62}, {"triplet", "as a triplet, 67 %", 2.0 / 3}, {"hard", "hard, 72 %", 0.72}}

// swingCommands set how the eighths of the chart are played.
func swingCommands() []*Command {
	var list []*Command
	for _, w := range swings {
		list = append(list, choose("Eighths", "swing."+w.id, w.name, func(s *session.Session) error { return s.ChooseSwing(w.value) },
			func(s *session.Session) bool { return s.Chart().Swing != w.value }))
	}
	step := func(id, title string, key Stroke, by int) *Command {
		return &Command{ID: "swing." + id, Title: title, Menu: "Eighths", Keys: []Stroke{key},
			Applies: func(s *session.Session) bool { return s.CanStepSwing(by) },
			Do:      fallible(func(s *session.Session) error { return s.StepSwing(by) })}
	}
	return append(list, step("more", "Swing more, by 1 %", "Alt+w", 1), step("less", "Swing less, by 1 %", "Alt+Shift+w", -1))
}

func chordCommands() []*Command {
	return []*Command{
		{ID: "chord.type", Title: "Type a chord at the caret", Menu: "Chord", Keys: []Stroke{"Enter"}, In: Grid, Do: front(Frontend.TypeChord)},
		{ID: "chord.remove", Title: "Remove the chord at the caret", Menu: "Chord", Keys: []Stroke{"Ctrl+Delete"}, In: Grid, Applies: (*session.Session).ChordAtCaret, Do: fallible((*session.Session).RemoveChord)},
		{ID: "chart.transpose", Title: "Transpose the whole chart…", Menu: "Chord", Keys: []Stroke{"Ctrl+t"}, Do: form(FormTranspose)},
	}
}

func barCommands() []*Command {
	return []*Command{
		{ID: "bar.insert", Title: "Insert bars before", Menu: "Bar", Keys: []Stroke{"Ctrl+b"}, Do: fallible((*session.Session).InsertBars)},
		{ID: "bar.append", Title: "Add four bars at the end", Menu: "Bar", Keys: []Stroke{"Ctrl+Shift+b"}, Do: fallible((*session.Session).AppendBars)},
		{ID: "bar.remove", Title: "Remove bars", Menu: "Bar", Keys: []Stroke{"Ctrl+Backspace"}, In: Grid, Applies: (*session.Session).CanRemoveBars, Do: fallible((*session.Session).RemoveBars)},
		{ID: "bar.repeatstart", Title: "Repeat starts here", Menu: "Bar", Do: fallible((*session.Session).ToggleRepeatStart)},
		{ID: "bar.repeatend", Title: "Repeat ends here", Menu: "Bar", Do: fallible((*session.Session).ToggleRepeatEnd)},
		{ID: "bar.ending", Title: "Ending over the bars…", Menu: "Bar", Do: form(FormEnding)},
		{ID: "bar.section", Title: "Section label…", Menu: "Bar", Do: form(FormSection)},
		{ID: "bar.meter", Title: "Meter from here…", Menu: "Bar", Do: form(FormMeter)},
		{ID: "bar.pickup", Title: "Pick-up (upbeat) before bar 1…", Menu: "Bar", Do: form(FormPickup)},
		{ID: "bar.key", Title: "Key from here…", Menu: "Bar", Do: form(FormKey)},
		{ID: "bar.tempo", Title: "Tempo and swing…", Menu: "Bar", Do: form(FormTempo)},
		{ID: "chart.title", Title: "Title, composer and console…", Menu: "Bar", Do: form(FormTitle)},
	}
}
