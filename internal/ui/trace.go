package ui

import (
	"fmt"
	"io"
	"os"
	"time"

	"fyne.io/fyne/v2"
)

// traceVariable names the file that a trace of the window is written to, for
// tests and measurements; without it nothing is traced. Its lines are
//
//	ready 412.0                        ms from the start to the first whole picture
//	given 1700000000000000000 note.up  when a command was given, in ns since 1970
//	asked 1700000000000000000 block    when the player had been asked for a block or a key
//	drawn 18.3 note.up command=5.1 …   ms from a command to its finished picture,
//	                                   and the stages it went through
//	state notes=4 changes=2 at=1.1 …   what the window shows, when it changes
//	sound device=true late=0 …         how the sound keeps up, when it changes
const traceVariable = "ORGANBOOK_TRACE"

// started is when the program began, as near as can be told from here.
var started = time.Now()

// trace writes what the window does; a nil trace writes nothing.
type trace struct {
	out io.Writer
	// since is when the command was given whose picture is not finished yet.
	since   time.Time
	command string
	// stages are those that the command has been through, and reached is when
	// the last of them ended.
	stages  string
	reached time.Time
	// waiting says that the grid was painted in a frame that has not ended.
	waiting, ready bool
	// last and lastSound are the states that were written last.
	last, lastSound string
}

func newTrace() *trace {
	path := os.Getenv(traceVariable)
	if path == "" {
		return nil
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
	if err != nil {
		fyne.LogError("tracing", err)
		return nil
	}
	return &trace{out: f}
}

// begin notes the time a command was given.
func (t *trace) begin(id string) {
	if t != nil {
		t.drawn() // commands are given between frames: the last one has ended
		t.since, t.command = time.Now(), id
		t.stages, t.reached = "", t.since
		fmt.Fprintln(t.out, "given", t.since.UnixNano(), id)
	}
}

// passed notes that a stage on the way to the picture has ended.
func (t *trace) passed(stage string) {
	if t == nil || t.since.IsZero() {
		return
	}
	now := time.Now()
	t.stages += fmt.Sprintf(" %s=%.1f", stage, milliseconds(now.Sub(t.reached)))
	t.reached = now
}

// painted is told by the grid's painter, in the middle of a frame. The frame is
// on the screen when what is asked to be done here is done or, if the toolkit
// puts that off, when the next frame begins.
func (t *trace) painted() {
	if t != nil {
		t.waiting = true
		fyne.Do(t.drawn)
	}
}

// frameBegins is told by the window's layout, which is asked for its least size
// before anything is drawn.
func (t *trace) frameBegins() {
	if t != nil {
		t.drawn()
		t.passed("waiting")
	}
}

func (t *trace) drawn() {
	if !t.waiting {
		return
	}
	t.waiting = false
	if !t.ready {
		t.ready = true
		fmt.Fprintf(t.out, "ready %.1f\n", milliseconds(time.Since(started)))
	}
	if !t.since.IsZero() {
		t.passed("frame")
		fmt.Fprintf(t.out, "drawn %.1f %s%s\n", milliseconds(t.reached.Sub(t.since)), t.command, t.stages)
		t.since = time.Time{}
	}
}

func milliseconds(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

// watch writes the state whenever it differs from what was written last, until
// the program ends.
func (t *trace) watch(w *Window) {
	if t == nil {
		return
	}
	if h, ok := w.opts.Sound.(heard); ok {
		go t.hear(h.p)
	}
	go func() {
		for range time.Tick(20 * time.Millisecond) {
			fyne.DoAndWait(func() { t.say(stateLine(w)) })
		}
	}()
}

func (t *trace) say(line string) {
	if line != t.last {
		t.last = line
		fmt.Fprintln(t.out, line)
	}
}

func stateLine(w *Window) string {
	s := w.session
	c := s.Chart()
	p := s.Passage()
	_, _, loop := s.Loop()
	caret := c.PositionText(min(s.Selection().Caret, c.Length()-1))
	dialogs := w.win.Canvas().Overlays().List()
	blocks := 0
	for _, step := range s.Realisation().Steps {
		if len(step.Voices) > 1 { // more than the lead
			blocks++
		}
	}
	return fmt.Sprintf("state notes=%d changes=%d blocks=%d pins=%d at=%s shown=%s plan=%s registration=%q playing=%t loop=%t dirty=%t undo=%t redo=%t focus=%T dialogs=%d file=%q",
		len(c.Melody), len(c.Changes), blocks, len(c.Pins), caret, w.top.position.Text, p.Plan, p.Registration.Name, s.Playing(), loop, s.Dirty(), s.CanUndo(), s.CanRedo(),
		w.win.Canvas().Focused(), len(dialogs), s.Path())
}
