package ui

import (
	"errors"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"organbook/assets"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/rescue"
	"organbook/internal/ui/session"
)

// Options say what a window opens with.
type Options struct {
	// Version is shown in the help.
	Version string
	// Chart is what to open; nil opens the demo chart.
	Chart *project.Chart
	// Path is the file Chart came from.
	Path string
	// Warnings are what an import had to say, one sentence each.
	Warnings []string
	// Sound makes the session heard; nil is silence.
	Sound session.Sound
	// Journal is the folder where unsaved work is kept; "" keeps none.
	Journal string
}

// The size a window opens at and the least it can show without cutting off.
var (
	openSize  = fyne.NewSize(1440, 900)
	leastSize = fyne.NewSize(1180, 660)
)

// Window is the main window.
type Window struct {
	app   fyne.App
	win   fyne.Window
	opts  Options
	look  *look
	prefs preferences

	session  *session.Session
	commands *command.Table

	top     *topBar
	strip   *stripView
	grid    *gridView
	status  *statusLine
	bench   *benchView
	console *consoleView
	frame   *frame

	desk rescue.Desk
	left []rescue.Found

	pending  session.Change
	flushing bool
	ticking  bool
	heard    int // the passage that the console shows

	// background does work beside the window's goroutine.
	background func(func())
}

// New builds the main window of an app and fills it; it does not show it.
func New(app fyne.App, opts Options) (*Window, error) {
	chart, demo := opts.Chart, false
	if chart == nil {
		var err error
		if chart, err = assets.Demo(); err != nil {
			return nil, err
		}
		demo = true
	}
	w := &Window{app: app, opts: opts, prefs: preferences{app.Preferences()}, commands: command.Builtin(), background: func(do func()) { go do() }}
	w.ownKeys()
	w.look = newLook(w.prefs.theme(), func() fyne.ThemeVariant { return app.Settings().ThemeVariant() })
	app.Settings().SetTheme(w.look)
	w.session = session.New(chart, opts.Sound)
	if err := w.session.SetPlayer(w.prefs.player()); err != nil {
		return nil, err
	}
	w.win = app.NewWindow("Organbook")
	w.build()
	w.session.OnChange(w.changed)
	deskError := w.openDesk()
	w.openFirst(chart, demo)
	if deskError != nil {
		w.session.Say("Unsaved work cannot be kept for a crash: " + session.Sentence(deskError))
	}
	return w, nil
}

// openFirst notes where the first chart came from.
func (w *Window) openFirst(chart *project.Chart, demo bool) {
	switch {
	case demo:
		w.session.Open(chart, "")
		w.session.Say("This is the demo chart. Press p to hear it, F1 for the guide.")
	case isChartPath(w.opts.Path):
		w.session.Open(chart, w.opts.Path)
		w.prefs.addRecent(w.opts.Path)
	default:
		w.session.OpenImported(chart)
	}
}

// Show opens the window on the screen and then says what the import had to
// say.
func (w *Window) Show() {
	w.win.Show()
	w.focusPanel(command.Grid)
	if len(w.opts.Warnings) > 0 {
		w.showWarnings(w.opts.Path, w.opts.Warnings)
	}
	w.offerRecovered()
	w.watchSound()
}

// soundPatience is how long the search for a sound device may take before the
// window says that there is none.
const soundPatience = 1500 * time.Millisecond

// watchSound says once, in the status line, when there is no sound device.
func (w *Window) watchSound() {
	time.AfterFunc(soundPatience, func() {
		fyne.Do(func() {
			if status := w.session.SoundStatus(); status != "" {
				w.session.Say(session.Sentence(errors.New(status)) + " Everything else works.")
			}
		})
	})
}

// Session returns what the window shows.
func (w *Window) Session() *session.Session { return w.session }

// build makes the panels and lays them out.
func (w *Window) build() {
	w.top = newTopBar(w)
	w.strip = newStripView(w)
	w.grid = newGridView(w)
	w.status = newStatusLine(w)
	w.bench = newBenchView(w)
	w.console = newConsoleView(w)
	w.frame = &frame{}
	content := container.New(w.frame, w.top.root, w.strip, w.grid.root, w.status.root, w.bench.root, w.console.root)
	w.win.SetContent(content)
	w.win.SetPadded(false)
	w.win.Resize(openSize)
	w.win.SetMaster()
	w.win.SetCloseIntercept(func() { fyne.Do(w.Quit) })
	w.showFolds()
	w.listen()
	w.app.Settings().AddListener(func(fyne.Settings) { w.refreshAll() })
}

// env is what commands act on.
func (w *Window) env() command.Env { return command.Env{Session: w.session, Frontend: w} }

// run does a command by its id, as a button or a menu asks for.
func (w *Window) run(id string) {
	if c := w.commands.Find(id); c != nil {
		w.do(c)
	}
}

// do runs a command; an error is shown in the status line.
func (w *Window) do(c *command.Command) {
	if _, err := c.Run(w.env()); err != nil {
		w.session.Say(session.Sentence(err))
	}
}
