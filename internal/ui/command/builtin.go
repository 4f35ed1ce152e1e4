package command

import (
	"strconv"

	"organbook/internal/ui/session"
)

// Builtin returns the table of every command in Organbook.
func Builtin() *Table {
	var list []*Command
	for _, group := range [][]*Command{
		fileCommands(), editCommands(), moveCommands(), noteCommands(), divideCommands(), lengthCommands(), swingCommands(),
		chordCommands(), barCommands(), signCommands(), passageCommands(), stripCommands(), formCommands(), templateCommands(),
		takeCommands(), treatmentCommands(), benchCommands(), fingerCommands(), filterCommands(), reachCommands(),
		playCommands(), keyboardCommands(), viewCommands(),
	} {
		list = append(list, group...)
	}
	for _, c := range list {
		c.Also = alsoFor(c.ID)
	}
	return NewTable(list)
}

// quiet turns an action that cannot fail into a command's.
func quiet(f func(*session.Session)) func(Env) error {
	return func(e Env) error { f(e.Session); return nil }
}

// front turns a request to the window into a command's action.
func front(f func(Frontend)) func(Env) error {
	return func(e Env) error { f(e.Frontend); return nil }
}

// form opens a form of the window.
func form(name string) func(Env) error { return front(func(f Frontend) { f.Form(name) }) }

func fileCommands() []*Command {
	list := []*Command{
		{ID: "file.new", Title: "New chart", Menu: "File", Keys: []Stroke{"Ctrl+n"}, Do: front(Frontend.NewChart)},
		{ID: "file.open", Title: "Open chart or lead sheet…", Menu: "File", Keys: []Stroke{"Ctrl+o"}, Do: front(Frontend.OpenFile)},
		{ID: "file.recent", Title: "Open recent…", Menu: "File", Keys: []Stroke{"Ctrl+Shift+o"}, Do: form(FormRecent)},
		{ID: "file.demo", Title: "Open the demo chart", Menu: "File", Do: front(Frontend.OpenDemo)},
		{ID: "file.save", Title: "Save", Menu: "File", Keys: []Stroke{"Ctrl+s"}, Do: front(func(f Frontend) { f.SaveFile(false) })},
		{ID: "file.saveas", Title: "Save as…", Menu: "File", Keys: []Stroke{"Ctrl+Shift+s"}, Do: front(func(f Frontend) { f.SaveFile(true) })},
	}
	for _, x := range []struct{ ending, title string }{
		{".musicxml", "Export MusicXML score…"}, {".mid", "Export MIDI file…"},
		{".wav", "Export sound as WAV…"}, {".flac", "Export sound as FLAC…"}, {".png", "Export picture of the grid…"}, {".json", "Export realisation as JSON…"},
	} {
		list = append(list, &Command{ID: "file.export" + x.ending, Title: x.title, Menu: "File",
			Do: front(func(f Frontend) { f.Export(x.ending) })})
	}
	list = append(list,
		&Command{ID: "file.stems.divisions", Title: "Export a sound file for each division…", Menu: "File", Do: front(func(f Frontend) { f.ExportStems(false) })},
		&Command{ID: "file.stems.layers", Title: "Export a sound file for each layer…", Menu: "File", Do: front(func(f Frontend) { f.ExportStems(true) })})
	return append(list, &Command{ID: "file.quit", Title: "Quit", Menu: "File", Keys: []Stroke{"Ctrl+q"}, Do: front(Frontend.Quit)})
}

func editCommands() []*Command {
	return []*Command{
		{ID: "edit.undo", Title: "Undo", Menu: "Edit", Keys: []Stroke{"Ctrl+z"}, Applies: (*session.Session).CanUndo, Do: quiet((*session.Session).Undo)},
		{ID: "edit.redo", Title: "Redo", Menu: "Edit", Keys: []Stroke{"Ctrl+Shift+z", "Ctrl+y"}, Applies: (*session.Session).CanRedo, Do: quiet((*session.Session).Redo)},
		{ID: "edit.cut", Title: "Cut", Menu: "Edit", Keys: []Stroke{"Ctrl+x"}, Applies: (*session.Session).HasNotes, Do: fallible((*session.Session).Cut)},
		{ID: "edit.copy", Title: "Copy", Menu: "Edit", Keys: []Stroke{"Ctrl+c"}, Applies: (*session.Session).HasNotes, Do: quiet((*session.Session).Copy)},
		{ID: "edit.paste", Title: "Paste at the caret", Menu: "Edit", Keys: []Stroke{"Ctrl+v"}, Applies: (*session.Session).CanPaste, Do: fallible((*session.Session).Paste)},
		{ID: "edit.duplicate", Title: "Duplicate after itself", Menu: "Edit", Keys: []Stroke{"Ctrl+d"}, Applies: (*session.Session).HasNotes, Do: fallible((*session.Session).Duplicate)},
		{ID: "edit.selectall", Title: "Select all notes", Menu: "Edit", Keys: []Stroke{"Ctrl+a"}, Do: quiet((*session.Session).SelectAll)},
		{ID: "edit.selectpassage", Title: "Select the passage", Menu: "Edit", Keys: []Stroke{"Ctrl+Shift+a"}, Do: quiet((*session.Session).SelectPassage)},
		{ID: "edit.selectnone", Title: "Select nothing; leave recording, steps or letters", Menu: "Edit", Keys: []Stroke{"Escape"}, Do: leave},
	}
}

// leave does what Escape asks for; when the session has nothing to leave, the
// letters stop playing.
func leave(e Env) error {
	if !e.Session.BackOut() {
		e.Frontend.LeaveLetters()
	}
	return nil
}

// fallible turns an action of the session into a command's.
func fallible(f func(*session.Session) error) func(Env) error {
	return func(e Env) error { return f(e.Session) }
}

func moveCommands() []*Command {
	type move struct {
		id, title string
		key       Stroke
		do        func(s *session.Session, extend bool)
	}
	var list []*Command
	add := func(id, title string, key Stroke, do func(e Env, extend bool)) {
		for _, x := range []struct {
			id, title string
			key       Stroke
			extend    bool
		}{{"move." + id, title, key, false}, {"extend." + id, "Extend: " + title, shifted(key), true}} {
			list = append(list, &Command{ID: x.id, Title: x.title, Menu: "Move", Keys: []Stroke{x.key}, In: Grid,
				Do: func(e Env) error { do(e, x.extend); return nil }})
		}
	}
	for _, m := range []move{
		{"next", "Caret to the next note", "Right", func(s *session.Session, x bool) { s.MoveCaret(true, x) }},
		{"previous", "Caret to the previous note", "Left", func(s *session.Session, x bool) { s.MoveCaret(false, x) }},
		{"nextbar", "Caret to the next bar", "Ctrl+Right", func(s *session.Session, x bool) { s.MoveByBar(true, x) }},
		{"previousbar", "Caret to the previous bar", "Ctrl+Left", func(s *session.Session, x bool) { s.MoveByBar(false, x) }},
		{"first", "Caret to the start", "Home", func(s *session.Session, x bool) { s.MoveToEdge(false, x) }},
		{"last", "Caret to the end", "End", func(s *session.Session, x bool) { s.MoveToEdge(true, x) }},
	} {
		add(m.id, m.title, m.key, func(e Env, x bool) { m.do(e.Session, x) })
	}
	for _, m := range []struct {
		id, title  string
		key        Stroke
		down, page bool
	}{
		{"below", "Caret to the system below", "Down", true, false},
		{"above", "Caret to the system above", "Up", false, false},
		{"pagebelow", "Caret a page down", "PageDown", true, true},
		{"pageabove", "Caret a page up", "PageUp", false, true},
	} {
		add(m.id, m.title, m.key, func(e Env, x bool) { e.Frontend.MoveBySystem(m.down, m.page, x) })
	}
	for _, m := range []struct {
		id, title string
		key       Stroke
		forward   bool
	}{{"nextpassage", "Next passage", "Ctrl+PageDown", true}, {"previouspassage", "Previous passage", "Ctrl+PageUp", false}} {
		list = append(list, &Command{ID: "move." + m.id, Title: m.title, Menu: "Move", Keys: []Stroke{m.key},
			Do: quiet(func(s *session.Session) { s.StepPassage(m.forward) })})
	}
	for i, p := range Panels() {
		if p == Handbook { // the help's command opens it
			continue
		}
		list = append(list, &Command{ID: "focus." + p.String(), Title: "Go to the " + pageOf(p), Menu: "Move",
			Keys: []Stroke{Stroke("Ctrl+" + strconv.Itoa(i+1))}, Do: front(func(f Frontend) { f.FocusPanel(p) })})
	}
	return list
}

// pageOf names a panel where it is gone to.
func pageOf(p Panel) string {
	if p == Reach {
		return "reach page"
	}
	return p.String()
}

// shifted adds Shift to a stroke, in the written order of modifiers.
func shifted(k Stroke) Stroke {
	if len(k) > 5 && k[:5] == "Ctrl+" {
		return "Ctrl+Shift+" + k[5:]
	}
	return "Shift+" + k
}
