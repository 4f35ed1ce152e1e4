package command

import (
	"strconv"
	"strings"
	"testing"

	"organbook/assets"
	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// silentFront is a Frontend that remembers what it was asked.
type silentFront struct{ asked []string }

func (f *silentFront) ask(s string)                         { f.asked = append(f.asked, s) }
func (f *silentFront) OpenFile()                            { f.ask("open") }
func (f *silentFront) SaveFile(as bool)                     { f.ask("save") }
func (f *silentFront) NewChart()                            { f.ask("new") }
func (f *silentFront) OpenDemo()                            { f.ask("demo") }
func (f *silentFront) Export(ending string)                 { f.ask("export " + ending) }
func (f *silentFront) Quit()                                { f.ask("quit") }
func (f *silentFront) TypeChord()                           { f.ask("chord") }
func (f *silentFront) Form(name string)                     { f.ask("form " + name) }
func (f *silentFront) ListCommands()                        { f.ask("list") }
func (f *silentFront) Help()                                { f.ask("help") }
func (f *silentFront) FocusPanel(p Panel)                   { f.ask("focus " + p.String()) }
func (f *silentFront) SetTheme(Theme)                       { f.ask("theme") }
func (f *silentFront) SetLanguage(string)                   { f.ask("language") }
func (f *silentFront) ToggleMotion()                        { f.ask("motion") }
func (f *silentFront) SetBuffers(Buffers)                   { f.ask("buffers") }
func (f *silentFront) Fold(p Panel)                         { f.ask("fold " + p.String()) }
func (f *silentFront) TurnForm(by int)                      { f.ask("turn") }
func (f *silentFront) ExportStems(bool)                     { f.ask("stems") }
func (f *silentFront) ToggleEffects()                       { f.ask("effects") }
func (f *silentFront) ToggleCosts()                         { f.ask("costs") }
func (f *silentFront) MoveBySystem(down, page, extend bool) { f.ask("system") }
func (f *silentFront) Zoom(columns, rows int)               { f.ask("zoom") }
func (f *silentFront) Scale(step int)                       { f.ask("scale") }

func (f *silentFront) WalkPorts(by int)  { f.ask("walk ports") }
func (f *silentFront) ChangePort(by int) { f.ask("change port") }
func (f *silentFront) LearnPort()        { f.ask("learn") }
func (f *silentFront) ForgetPort()       { f.ask("forget") }
func (f *silentFront) Silence()          { f.ask("silence") }
func (f *silentFront) ToggleLetters()    { f.ask("letters") }
func (f *silentFront) ShowChoices()      { f.ask("choices") }
func (f *silentFront) LeaveLetters()     { f.ask("letters") }

// example is a session with notes, chords and two passages, a note selected.
func example(t *testing.T) *session.Session {
	t.Helper()
	s := session.New(project.New(), nil)
	for i, text := range []string{"Gm6", "Am7b5", "D7b9", "Gm6"} {
		if err := s.SetChordText(project.Ticks(i)*project.Whole, text); err != nil {
			t.Fatal(err)
		}
	}
	for i := range 16 {
		if err := s.PlaceAt(project.Ticks(i)*project.Quarter, 67+(5*i)%12); err != nil {
			t.Fatal(err)
		}
	}
	s.SetCaret(2 * project.Whole)
	if err := s.SplitPassage(); err != nil {
		t.Fatal(err)
	}
	s.Copy()
	return s
}

// TestEveryCommandUndoes runs each command of the table on an example, checks
// the chart, and takes it back and does it again.
func TestEveryCommandUndoes(t *testing.T) {
	table := Builtin()
	changed := 0
	for _, c := range table.All() {
		if strings.HasPrefix(c.ID, "edit.undo") || c.ID == "edit.redo" {
			continue
		}
		t.Run(c.ID, func(t *testing.T) {
			s, f := example(t), &silentFront{}
			if c.Menu == "Time" {
				s.SelectNothing()
				s.SetValue(8) // by less than the example's notes
			}
			before := s.Chart()
			ran, err := c.Run(Env{s, f})
			if c.ID == "note.longer" && err != nil && s.Chart() == before {
				return // the example's notes are as long as they can be
			}
			if err != nil {
				t.Fatalf("%s: %v", c.Title, err)
			}
			after := s.Chart()
			if err := after.Check(); err != nil {
				t.Fatal(err)
			}
			if before.Equal(after) {
				return
			}
			if !ran {
				t.Fatal("the chart changed though the command did not apply")
			}
			changed++
			s.Undo()
			if !s.Chart().Equal(before) {
				t.Error("undo does not give the chart back")
			}
			s.Redo()
			if !s.Chart().Equal(after) {
				t.Error("redo does not give the change back")
			}
		})
	}
	if changed < 40 {
		t.Errorf("only %d commands changed the example; the test has lost its grip", changed)
	}
}

func TestAppliesTellsTheTruth(t *testing.T) {
	table := Builtin()
	empty := session.New(project.New(), nil)
	for _, id := range []string{"edit.undo", "edit.redo", "edit.paste", "edit.cut", "note.delete", "note.up", "note.join", "chord.remove", "passage.join", "bench.pin", "bench.unpin"} {
		c := table.Find(id)
		if c == nil {
			t.Fatalf("no command %s", id)
		}
		if c.Enabled(empty) {
			t.Errorf("%s applies to an empty chart", id)
		}
		if ran, _ := c.Run(Env{empty, &silentFront{}}); ran {
			t.Errorf("%s ran on an empty chart", id)
		}
	}
	full := example(t)
	for _, id := range []string{"edit.undo", "edit.paste", "edit.cut", "note.delete", "note.up", "passage.join", "bench.pin", "chord.remove"} {
		if !table.Find(id).Enabled(full) {
			t.Errorf("%s does not apply to the example", id)
		}
	}
}

func TestShortcutsFollowThePlatform(t *testing.T) {
	table := Builtin()
	for key, id := range map[Stroke]string{
		"Ctrl+n": "file.new", "Ctrl+o": "file.open", "Ctrl+s": "file.save", "Ctrl+Shift+s": "file.saveas", "Ctrl+q": "file.quit",
		"Ctrl+z": "edit.undo", "Ctrl+Shift+z": "edit.redo", "Ctrl+y": "edit.redo", "Ctrl+x": "edit.cut", "Ctrl+c": "edit.copy", "Ctrl+v": "edit.paste", "Ctrl+a": "edit.selectall",
	} {
		for _, p := range []Panel{Strip, Grid, Bench, Console, Transport} {
			if c := table.ForKey(p, key); c == nil || c.ID != id {
				t.Errorf("%s in the %s is not %s", key, p, id)
			}
		}
	}
}

func TestPanelsHaveTheirOwnKeys(t *testing.T) {
	table := Builtin()
	for _, tc := range []struct {
		p    Panel
		k    Stroke
		want string
	}{
		{Grid, "Delete", "note.delete"}, {Bench, "Delete", "bench.unpin"}, {Bench, "Down", "bench.down"},
		{Console, "Down", "console.next"}, {Grid, "c", "note.place.C"}, {Grid, "p", "play.toggle"}, {Bench, "p", "play.toggle"},
		{Bench, "c", ""}, {Grid, "Enter", "chord.type"}, {Bench, "Enter", "bench.pin"}, {Strip, "Enter", "strip.open"},
	} {
		got := ""
		if c := table.ForKey(tc.p, tc.k); c != nil {
			got = c.ID
		}
		if got != tc.want {
			t.Errorf("%s in the %s is %q, want %q", tc.k, tc.p, got, tc.want)
		}
	}
}

func TestEveryCommandIsReachable(t *testing.T) {
	for _, c := range Builtin().All() {
		if c.Title == "" || c.Menu == "" || c.Do == nil {
			t.Errorf("%s lacks a title, a menu or an action", c.ID)
		}
	}
}

func TestNewTableRefusesTwoMeaningsOfAKey(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("one key for two commands of a panel is accepted")
		}
	}()
	NewTable([]*Command{{ID: "a", Keys: []Stroke{"x"}}, {ID: "b", Keys: []Stroke{"x"}}})
}

func TestStrokeLabels(t *testing.T) {
	for k, want := range map[Stroke]string{"Ctrl+Shift+s": "Ctrl Shift S", "Alt+Up": "Alt ↑", "+": "+", "Ctrl+-": "Ctrl -", "a": "A", "Space": "Space"} {
		if got := k.Label(); got != want {
			t.Errorf("%s is shown as %q, want %q", k, got, want)
		}
	}
}

// TestWhatACommandChoosesIsInForce: whatever menus tick comes into force by its
// command, and a choice that is made is the only one of its menu.
func TestWhatACommandChoosesIsInForce(t *testing.T) {
	chart, err := assets.Demo()
	if err != nil {
		t.Fatal(err)
	}
	s := session.New(chart, nil)
	e := Env{s, &silentFront{}}
	tried, several := 0, map[string]bool{"Families": true, "List only": true, "Treatment": true, "Play": true, "Accent": true, "Length": true, RecordingMenu: true}
	for _, c := range Builtin().All() {
		if c.On == nil {
			continue
		}
		_, notValue := strconv.Atoi(strings.TrimPrefix(c.ID, "length."))
		if c.InForce(s) && c.Applies == nil && c.Menu != "Registration" && notValue != nil { // a switch: off first
			if _, err := c.Run(e); err != nil || c.InForce(s) {
				t.Errorf("%s does not turn off: %v", c.ID, err)
			}
		}
		if !c.InForce(s) {
			if !c.Enabled(s) {
				continue // the level of an accent that is not struck
			}
			if _, err := c.Run(e); err != nil || !c.InForce(s) {
				t.Errorf("%s does not come into force: %v", c.ID, err)
			}
			tried++
		}
		for _, other := range Builtin().InMenu(c.Menu) {
			if other.ID != c.ID && !several[c.Menu] && other.InForce(s) {
				t.Errorf("%s and %s are both in force", c.ID, other.ID)
			}
		}
	}
	if tried < 60 {
		t.Errorf("only %d commands came into force", tried)
	}
}

// TestTheMenuTicksTheRegistrationThatTheConsoleNames, also where a chart's own
// differs from the stored one of that name, as the demo's with its rotary speaker.
func TestTheMenuTicksTheRegistrationThatTheConsoleNames(t *testing.T) {
	chart, err := assets.Demo()
	if err != nil {
		t.Fatal(err)
	}
	differ := 0
	for _, p := range chart.Passages {
		s := session.New(chart, nil)
		s.SetCaret(chart.BarStart(p.First))
		for _, c := range Builtin().InMenu("Registration") {
			if want := c.ID == "registration."+p.Registration.Name; c.InForce(s) != want {
				t.Errorf("with %s, %s is in force: %v", p.Registration.Name, c.ID, !want)
			}
		}
		for _, r := range project.Registrations() {
			if r.Name == p.Registration.Name && r != p.Registration {
				differ++
			}
		}
	}
	if differ == 0 {
		t.Error("no registration of the demo differs from the stored one")
	}
}
