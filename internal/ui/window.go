package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"organbook/assets"
	"organbook/internal/player/midi"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/rescue"
	"organbook/internal/ui/session"
	"organbook/internal/ui/shelf"
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
	// Problem is why the file at Path could not be opened; the window then opens
	// on an empty chart and says so.
	Problem error
	// Sound makes the session heard; nil is silence.
	Sound session.Sound
	// Keyboards starts the hub of keyboards and organs outside with what the
	// user has chosen; nil is none.
	Keyboards func(midi.Setup) *midi.Hub
	// Journal is the folder where unsaved work is kept; "" keeps none.
	Journal string
	// Own is the file of what the user makes outside charts: registrations,
	// templates, keys, player, MIDI setup; "" forgets them at the end.
	Own string
	// Scale is how large everything is at first, in percent (0: 100), and
	// SetScale has the screen's driver draw it otherwise; nil leaves it.
	Scale    int
	SetScale func(percent int)

	// post does something on the window's goroutine; nil is the toolkit's way.
	// With another the window has no clock of its own: a test is the clock, for
	// the toolkit's test driver knows no goroutine of the window.
	post func(func())
}

// The size a window opens at, the least it can show without cutting off, and what
// the frame that a desktop draws around it may take.
var (
	openSize  = fyne.NewSize(1440, 900)
	frameSize = fyne.NewSize(8, 40)
	leastSize = fyne.NewSize(640, 400)
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
	guide   *guideView
	frame   *frame
	lines   [2]*canvas.Rectangle // over the console and left of the bench
	list    *listForm            // the dialog of a list that is open, nil for none
	modals  modals

	keyboards keyboards

	shelf      *shelf.Shelf
	shelfError error        // what is wrong with the shelf's file, said once
	listed     []listChange // of the registrations of the user's own
	trace      *trace
	garbage    *garbage
	desk       rescue.Desk
	keeper     *keeper // of unsaved work, nil where it is written at once or not at all
	left       []rescue.Found

	scale    int // of everything, in percent
	dots     dots
	pending  session.Change
	flushing bool
	// doing says that a command is being carried out.
	doing   bool
	ticking bool
	heard   int // the passage that the console shows

	soundSaid  string        // the sound's state as it was said last
	soundHeard bool          // there was a sound device
	closing    chan struct{} // closed when the window closes

	// background does work beside the window's goroutine.
	background func(func())
	writer     writer
}

// New builds the main window of an app and fills it; it does not show it.
func New(app fyne.App, opts Options) (*Window, error) {
	chart, demo := opts.Chart, false
	if opts.Problem != nil {
		chart = project.New()
	}
	if chart == nil {
		var err error
		if chart, err = assets.Demo(); err != nil {
			return nil, err
		}
		demo = true
	}
	w := &Window{app: app, opts: opts, prefs: preferences{app.Preferences()}, commands: command.Builtin(), closing: make(chan struct{}), background: func(do func()) { go do() }}
	w.writer.w = w
	w.trace, w.garbage, w.scale = newTrace(), newGarbage(), opts.Scale
	if w.scale == 0 {
		w.scale = scales[0]
	}
	if err := speak(w.prefs.language()); err != nil {
		return nil, err
	}
	w.shelf, w.shelfError = shelf.Open(opts.Own, w.prefs.once)
	if opts.Own != "" && w.shelfError == nil {
		w.prefs.setMoved()
	}
	w.knowOwn()
	w.ownKeys()
	w.look = newLook(w.prefs.theme(), func() fyne.ThemeVariant { return app.Settings().ThemeVariant() })
	app.Settings().SetTheme(w.look)
	w.session = session.New(chart, w.trace.overhear(opts.Sound))
	w.session.KnowRegistrations(w.ownRegistrations)
	if err := w.session.SetPlayer(w.player()); err != nil {
		return nil, err
	}
	w.win = app.NewWindow("Organbook")
	w.build()
	w.session.OnChange(w.changed)
	_ = w.session.SetGrid(w.prefs.grid(w.session.Grid())) // one that cannot be is not taken
	w.session.Prefer(w.prefs.adds(), w.prefs.clickLevel())
	w.keyboards.w = w
	w.keyboards.open(opts.Keyboards)
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
		w.session.Say("Demo chart: p to hear it, F1 for the handbook.")
	case w.opts.Problem != nil:
		w.session.Open(chart, "")
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
	if w.shelfError != nil {
		w.showError(w.shelfError)
	}
	if w.opts.Problem != nil {
		w.showUnopened(w.opts.Path, w.opts.Problem)
	}
	w.offerRecovered()
	if w.opts.post == nil {
		go w.watchSound()
	}
	w.trace.watch(w)
}

// Fit makes the window no larger than a screen of so many pixels shows beside a
// window's frame. It is for a window that has just been shown.
func (w *Window) Fit(width, height int) {
	pixels := 1 / w.win.Canvas().Scale()
	screen := fyne.NewSize(float32(width)*pixels, float32(height)*pixels).Subtract(frameSize)
	if size := w.win.Canvas().Size(); size != size.Min(screen) {
		w.win.Resize(size.Min(screen).Max(leastSize))
	}
}

// Session returns what the window shows.
func (w *Window) Session() *session.Session { return w.session }

// build makes the window's content and what it needs once.
func (w *Window) build() {
	w.makePanels()
	w.win.SetPadded(false)
	w.win.Resize(openSize)
	w.win.SetMaster()
	w.win.SetCloseIntercept(func() { fyne.Do(w.Quit) })
	w.session.ShowEffects(w.prefs.effects())
	w.showFolds()
	w.listen()
	w.app.Settings().AddListener(func(fyne.Settings) { w.refreshAll() })
}

// makePanels makes the panels and lays them out. What they show is the session's,
// so they can be made anew at any time.
func (w *Window) makePanels() {
	w.top = newTopBar(w)
	w.strip = newStripView(w)
	w.grid = newGridView(w)
	w.status = newStatusLine(w)
	w.bench = newBenchView(w)
	w.console = newConsoleView(w)
	w.guide = newGuideView(w)
	w.frame, w.lines = &frame{trace: w.trace}, [2]*canvas.Rectangle{newHair(w.look), newHair(w.look)}
	w.frame.onSmall = w.becomesSmall
	content := container.New(w.frame, w.top.root, w.strip, w.grid.root, w.status.root, w.bench.root, w.console.root, w.lines[0], w.lines[1], w.guide.root)
	w.win.SetContent(content)
}

// env is what commands act on.
func (w *Window) env() command.Env { return command.Env{Session: w.session, Frontend: w} }

// run does a command by its id, as a button or a menu asks for.
func (w *Window) run(id string) {
	if c := w.commands.Find(id); c != nil {
		w.do(c)
	}
}

// do runs a command; an error is shown in the status line. What changed is
// brought up to date before it returns: the toolkit draws after it has handed
// out what keys and mouse did, so that the picture is finished a frame sooner
// than if the event loop had to come round.
func (w *Window) do(c *command.Command) {
	if w.doing { // a command that runs another
		w.carryOut(c)
		return
	}
	w.doing = true
	w.carryOut(c)
	w.doing = false
	w.trace.passed("command")
	w.flush()
	w.trace.passed("panels")
	w.tidyUp()
}

// carryOut runs a command and says what went wrong.
func (w *Window) carryOut(c *command.Command) {
	w.trace.begin(c.ID)
	w.status.nextAction()
	ran, err := c.Run(w.env())
	switch {
	case err != nil:
		w.session.Say(session.Sentence(err))
	case !ran:
		w.session.Say("Nothing to do here: " + strings.TrimSuffix(c.Title, "…") + ".")
	}
}
