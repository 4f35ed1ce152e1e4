package command

import (
	"slices"

	"organbook/internal/ui/session"
)

// Panel is a part of the window that can hold the keyboard.
type Panel uint8

// The panels, in the order Tab visits them.
const (
	// Anywhere is no panel: the command's key works in all of them.
	Anywhere Panel = iota
	Strip
	Grid
	Bench
	Console
	Transport
	// Reach is the page of findings; it shares the bench's column.
	Reach
	// MIDI is the page of ports; it shares the bench's column as well.
	MIDI
	// PassageForm is the page of a passage's settings, in the same column.
	PassageForm
	// Handbook is the column the handbook is read in.
	Handbook
)

var panelWords = [...]string{"anywhere", "passages", "bar grid", "bench", "console", "transport", "reach", "MIDI page", "passage form", "handbook"}

// Panels returns every panel, in that order.
func Panels() []Panel {
	list := make([]Panel, len(panelWords)-1)
	for i := range list {
		list[i] = Strip + Panel(i)
	}
	return list
}

// String names the panel as the help does.
func (p Panel) String() string { return panelWords[p] }

// Frontend is what a window does for commands. Every method returns at once;
// what the user answers arrives later through the session.
type Frontend interface {
	Ports
	// OpenFile asks for a chart or a lead sheet and opens it.
	OpenFile()
	// SaveFile writes the chart to its file, asking for a name when it has
	// none or when as is set.
	SaveFile(as bool)
	// NewChart and OpenDemo replace the chart, asking about unsaved work.
	NewChart()
	OpenDemo()
	// Export asks for a name with the ending and writes it.
	Export(ending string)
	// ExportStems asks for a name and writes sound in several files, one for
	// each layer or each division.
	ExportStems(layers bool)
	// Quit closes the window, asking about unsaved work.
	Quit()
	// TypeChord opens the chord entry at the caret.
	TypeChord()
	// Form opens a small form by its name; see the Form constants.
	Form(name string)
	// ListCommands opens the searchable list; Help and About their pages.
	ListCommands()
	Help()
	// FocusPanel gives a panel the keyboard.
	FocusPanel(Panel)
	// SetTheme chooses the colours.
	SetTheme(Theme)
	// SetLanguage chooses the language of the texts by its code, "" for the
	// system's.
	SetLanguage(code string)
	// ToggleMotion lets the cursor jump from beat to beat, or glide again.
	ToggleMotion()
	// SetBuffers chooses how long the sound's buffers are.
	SetBuffers(Buffers)
	// Fold hides the bench or the console, or shows it again.
	Fold(Panel)
	// ToggleEffects shows the effects beside the drawbars, or hides them.
	ToggleEffects()
	// ToggleCosts shows what the alternative is charged for, or hides it.
	ToggleCosts()
	// TurnForm goes to the next or previous part of the passage form.
	TurnForm(by int)
	// Zoom changes the grid's scale: columns widen and rows grow by steps;
	// both zero goes back to the normal scale.
	Zoom(columns, rows int)
	// MoveBySystem moves the caret to the system below or above, or by as many as
	// can be seen at once; with extend it selects up to there.
	MoveBySystem(down, page, extend bool)
	// Scale makes everything in the window bigger or smaller by steps; 0 is
	// the usual size.
	Scale(step int)
}

// Theme is a choice of colours.
type Theme uint8

// The themes.
const (
	ThemeOfSystem Theme = iota
	ThemeDark
	ThemeLight
)

// Buffers is a choice of how soon a key sounds, against how much else the
// machine can have to do.
type Buffers uint8

// The choices: left to the player, or from the shortest on.
const (
	BuffersAutomatic Buffers = iota
	BuffersShortest
	BuffersShort
	BuffersUsual
	BuffersSafe
)

// The forms a Frontend opens.
const (
	FormTitle        = "title"
	FormKey          = "key"
	FormMeter        = "meter"
	FormPickup       = "pickup"
	FormTempo        = "tempo"
	FormSection      = "section"
	FormEnding       = "ending"
	FormTranspose    = "transpose"
	FormPassageName  = "passage name"
	FormTreatment    = "treatment"
	FormTakeName     = "take name"
	FormRegistration = "registration"
	FormRecent       = "recent"
	FormPlayer       = "player"
	FormConsole      = "console"
	FormTakes        = "takes"
	FormSurprise     = "surprise"
	FormRamp         = "tempo ramp"
	FormTemplates    = "templates"
	FormTemplateName = "template name"
	// FormRegistrations lists the registrations of the user's own,
	// FormRegistrationName asks for the name of one.
	FormRegistrations    = "registrations"
	FormRegistrationName = "registration name"
)

// Env is what a command acts on.
type Env struct {
	*session.Session
	Frontend
}

// Command is one thing a user can do.
type Command struct {
	// ID is the stable name, such as "note.delete".
	ID string
	// Title is the label, a verb phrase.
	Title string
	// Menu is the menu the command stands in.
	Menu string
	// Also holds further words by which the command is searched for, the most
	// fitting first. Those before a semicolon are what it is known by: who types
	// one of them finds it before what has the word in its title.
	Also string
	// Keys are its shortcuts; the first is shown.
	Keys []Stroke
	// In is the panel that must hold the keyboard for the keys to work.
	In Panel
	// Applies reports whether the command would do something now; nil means
	// always.
	Applies func(*session.Session) bool
	// On reports whether what the command chooses or turns on is in force now;
	// nil where there is no such thing. Menus tick it.
	On func(*session.Session) bool
	// Do does it. An error is a sentence for the user.
	Do func(Env) error
}

// Enabled reports whether the command would do something now.
func (c *Command) Enabled(s *session.Session) bool { return c.Applies == nil || c.Applies(s) }

// InForce reports whether what the command chooses or turns on is in force now.
func (c *Command) InForce(s *session.Session) bool { return c.On != nil && c.On(s) }

// Run does the command if it applies; ran tells whether it did.
func (c *Command) Run(e Env) (ran bool, err error) {
	if !c.Enabled(e.Session) {
		return false, nil
	}
	return true, c.Do(e)
}

// Key returns the shown shortcut, or "".
func (c *Command) Key() string {
	if len(c.Keys) == 0 {
		return ""
	}
	return c.Keys[0].Label()
}

// Table is the list of all commands with its indexes.
type Table struct {
	list  []*Command
	byID  map[string]*Command
	byKey map[Panel]map[Stroke]*Command
	usual map[string][]Stroke
	own   []*Command
}

// NewTable indexes commands; it panics on an id or a stroke given twice in a
// panel, which is a mistake in the program.
func NewTable(list []*Command) *Table {
	t := &Table{list: list, byID: map[string]*Command{}, byKey: map[Panel]map[Stroke]*Command{}, usual: map[string][]Stroke{}}
	for _, c := range list {
		if t.byID[c.ID] != nil {
			panic("command: two commands with the id " + c.ID)
		}
		t.byID[c.ID], t.usual[c.ID] = c, slices.Clone(c.Keys)
		for _, k := range c.Keys {
			t.bind(c, k)
		}
	}
	return t
}

func (t *Table) bind(c *Command, k Stroke) {
	if t.byKey[c.In] == nil {
		t.byKey[c.In] = map[Stroke]*Command{}
	}
	if other := t.byKey[c.In][k]; other != nil {
		panic("command: " + string(k) + " is bound to " + other.ID + " and " + c.ID)
	}
	t.byKey[c.In][k] = c
}

// All returns every command in menu order.
func (t *Table) All() []*Command { return t.list }

// Find returns the command with an id, nil when there is none.
func (t *Table) Find(id string) *Command { return t.byID[id] }

// ForKey returns the command a stroke means in a panel: the panel's own first,
// then the one that works anywhere; nil when there is none.
func (t *Table) ForKey(p Panel, k Stroke) *Command {
	if c := t.byKey[p][k]; c != nil {
		return c
	}
	return t.byKey[Anywhere][k]
}

// Menus returns the menu names in order.
func (t *Table) Menus() []string {
	var names []string
	for _, c := range t.list {
		if !slices.Contains(names, c.Menu) {
			names = append(names, c.Menu)
		}
	}
	return names
}

// InMenu returns a menu's commands in order.
func (t *Table) InMenu(name string) []*Command {
	var out []*Command
	for _, c := range t.list {
		if c.Menu == name {
			out = append(out, c)
		}
	}
	return out
}
