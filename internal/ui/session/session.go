// Package session is everything the window does, without a window: the chart
// with its history, the realisation that follows from it, the selection, the
// length of the next note, the bench, the transport and the file. Widgets show
// a session and call its methods; nothing here imports a toolkit, so every
// action is tested as plain code.
//
// A Session belongs to one goroutine, the window's.
package session

import (
	"time"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
)

// Session is one chart being worked on.
type Session struct {
	history   *project.History
	real      *arrange.Realisation
	sel       Selection
	entry     Entry
	nudged    nudged
	path      string
	onDisk    *project.Chart // as the file at path held it last, nil where that is not known
	message   phrase.Phrase
	clip      clip
	listeners []func(Change)
	opened    int
	clock     func() time.Time

	alternatives *walk
	grouped      *group // ways to play the selected notes, nil until asked for
	filter       BenchFilter
	stop         int // of the console, see StepStop
	effectsShown bool
	transport    transport
	sound        Sound
	played       played
	record       *record // nil while nothing is recorded
	grid         perform.Grid
	adds         bool // recordings leave what they do not touch
	recording    recording
	hand         hand
	ready        *project.Registration // drawn last by ReadyStops, nil after playing
	faders       map[int]int           // drawbars moved outside, by place
	journal      Journal
	imported     *project.Chart // as an import made it, nil otherwise
	// ownRegistrations lists those that the user keeps; nil for none.
	ownRegistrations func() []project.Registration

	player    reach.Profile
	finding   int   // the finding that was walked to, -1 for none
	ways      *ways // the ways out known so far, nil for none
	fingering fingerPlace
}

// New opens a session on a chart. sound may be nil: then nothing is heard.
func New(c *project.Chart, sound Sound) *Session {
	if sound == nil {
		sound = silence{}
	}
	s := &Session{entry: firstEntry, sound: sound, transport: newTransport(), player: reach.DefaultProfile(), finding: -1, clock: time.Now,
		grid: perform.Grid{Value: 8, Triplets: perform.SomeTriplets}}
	s.reset(c, "")
	return s
}

// SetClock has the session read another clock than the system's.
func (s *Session) SetClock(clock func() time.Time) { s.clock = clock }

// Now is the time on the session's clock.
func (s *Session) Now() time.Time { return s.clock() }

// reset starts over with another chart.
func (s *Session) reset(c *project.Chart, path string) {
	s.Stop()
	s.history = project.NewHistory(c)
	s.real = arrange.Realise(c, s.options())
	s.sel = Selection{}
	if len(c.Melody) > 0 {
		s.sel = Selection{Caret: c.Melody[0].Start, Notes: []project.Ticks{c.Melody[0].Start}}
	}
	s.opened++
	s.path, s.alternatives, s.grouped, s.message = path, nil, nil, phrase.Phrase{}
	s.finding, s.ways, s.onDisk = -1, nil, nil
	s.faders, s.hand, s.recording = nil, hand{}, recording{}
	s.transport.loop, s.imported = [2]int{}, nil
	// A practice tempo, silent layers and a tuplet were for the chart before.
	s.transport.scale, s.transport.ramp, s.transport.pass, s.transport.passed = 1, usualRamp, 0, 0
	s.transport.mute, s.transport.beforeAlone, s.entry = 0, 0, firstEntry
	s.sound.SetTone(c.Sounding())
}

// Open replaces the chart and its history. path is the chart's own file, ""
// for a chart that has none (new, imported, demo).
func (s *Session) Open(c *project.Chart, path string) {
	s.reset(c, path)
	if path != "" {
		s.onDisk = c
	}
	s.notify(ChartChanged | SelectionChanged | FileChanged | TransportChanged | MessageChanged)
}

// Opened counts the charts that were opened: as long as it stays, what changes
// is an edit.
func (s *Session) Opened() int { return s.opened }

// Chart returns the current chart.
func (s *Session) Chart() *project.Chart { return s.history.Chart() }

// Realisation returns what follows from the current chart.
func (s *Session) Realisation() *arrange.Realisation { return s.real }

// Do applies an edit and remembers it. On an error nothing changed.
func (s *Session) Do(e project.Edit) error { return s.doThen(e, nil) }

// unchanged answers an edit that leaves everything as it is.
const unchanged = "Nothing to change: it is so already."

// doThen applies an edit and then, when it took, sets the selection.
func (s *Session) doThen(e project.Edit, then func()) error {
	s.finishRecording()
	before := s.Chart()
	if _, err := s.history.Do(e, s.sel.project()); err != nil {
		return s.fail(err)
	}
	if s.Chart() == before {
		if s.Say(unchanged); then != nil {
			then()
		}
		return nil
	}
	s.sel = s.sel.In(s.Chart())
	if then != nil {
		then()
	}
	s.chartChanged()
	return nil
}

// chartChanged brings everything that follows from the chart up to date.
func (s *Session) chartChanged() {
	o := s.options()
	o.After = s.real
	s.real = arrange.Realise(s.Chart(), o)
	s.sound.SetTone(s.Chart().Sounding())
	s.transport.compare = nil
	s.alternatives, s.grouped, s.ways = nil, nil, nil
	s.message = phrase.Phrase{}
	s.refreshSound()
	s.writeJournal()
	s.notify(ChartChanged | SelectionChanged | FileChanged | MessageChanged)
}

// CanUndo and CanRedo report whether there is something to take back or to do
// again.
func (s *Session) CanUndo() bool {
	_, ok := s.history.CanUndo()
	return ok
}

// CanRedo reports whether something undone can be done again.
func (s *Session) CanRedo() bool {
	_, ok := s.history.CanRedo()
	return ok
}

// Undo takes the last edit back.
func (s *Session) Undo() {
	s.finishRecording()
	name, _ := s.history.CanUndo()
	if sel, ok := s.history.Undo(); ok {
		s.restored(sel, "Undone: "+name)
	}
}

// Redo does the last undone edit again.
func (s *Session) Redo() {
	s.finishRecording()
	name, _ := s.history.CanRedo()
	if sel, ok := s.history.Redo(); ok {
		s.restored(sel, "Done again: "+name)
	}
}

func (s *Session) restored(sel project.Selection, message string) {
	before := s.Reach()
	s.sel = fromProject(sel, s.sel, s.Chart())
	s.chartChanged()
	s.followFinding(before)
	s.Say(message)
}

// sequence is several edits undone as one.
type sequence struct {
	name  string
	edits []project.Edit
}

// Name is what a menu shows after "Undo".
func (q sequence) Name() string { return q.name }

// Apply applies the edits in order and stops at the first that fails.
func (q sequence) Apply(c *project.Chart) (*project.Chart, error) {
	for _, e := range q.edits {
		next, err := e.Apply(c)
		if err != nil {
			return nil, err
		}
		c = next
	}
	return c, nil
}
