package session

import (
	"path/filepath"

	"organbook/internal/project"
)

// Journal keeps unsaved work for the day the program is cut off. The zero
// value keeps nothing.
type Journal struct {
	keep Keeper
	// failed is set after the first failure, which is said once.
	failed bool
}

// Keeper keeps the latest state of unsaved work, as project.Journal does.
type Keeper interface {
	Write(c *project.Chart, original string) error
	Remove() error
}

// KeepJournal writes unsaved work to k from now on.
func (s *Session) KeepJournal(k Keeper) { s.journal = Journal{keep: k} }

// writeJournal keeps the current chart, or forgets the journal when all is
// saved.
func (s *Session) writeJournal() {
	var err error
	switch {
	case s.journal.keep == nil:
	case s.Worked():
		err = s.journal.keep.Write(s.Chart(), s.path)
	default:
		err = s.journal.keep.Remove()
	}
	if err != nil {
		s.JournalFailed(err)
	}
}

// JournalFailed says, once, that unsaved work cannot be kept.
func (s *Session) JournalFailed(err error) {
	if !s.journal.failed {
		s.journal.failed = true
		s.Say("Unsaved work cannot be kept for a crash: " + err.Error())
	}
}

// ForgetJournal removes the journal: the work was saved or let go.
func (s *Session) ForgetJournal() {
	if s.journal.keep == nil {
		return
	}
	if err := s.journal.keep.Remove(); err != nil {
		s.Say(Sentence(err))
	}
}

// Path returns the chart's own file, "" when it has none.
func (s *Session) Path() string { return s.path }

// Dirty reports whether the chart differs from what is on disk, as one that
// was just imported does.
func (s *Session) Dirty() bool { return s.history.Dirty() }

// Worked reports whether work would be lost: the chart is on no disk, and it
// is not as an import made it, which can be had again.
func (s *Session) Worked() bool { return s.Dirty() && s.Chart() != s.imported }

// OpenImported replaces the chart by one that was made from another kind of
// file.
func (s *Session) OpenImported(c *project.Chart) {
	s.Open(c, "")
	s.imported = s.Chart()
	s.history.MarkUnsaved()
	s.notify(FileChanged)
}

// OpenRecovered replaces the chart by work that a crash left behind.
func (s *Session) OpenRecovered(r project.Recovered) {
	s.Open(r.Chart, r.Original)
	s.onDisk = nil
	s.history.MarkUnsaved()
	s.writeJournal()
	s.notify(FileChanged)
}

// Untitled is the name of a chart in no file and without a title.
const Untitled = "Untitled"

// Title names the chart where its title stands: the title, or while there is none
// the name of its file without the ending, or "Untitled".
func (s *Session) Title() string {
	switch {
	case s.Chart().Title != "":
		return s.Chart().Title
	case s.path != "":
		return project.NameOfFile(s.path)
	}
	return Untitled
}

// FileTitle names the chart in the window's title: the file's name, or the
// chart's title, or "Untitled".
func (s *Session) FileTitle() string {
	switch {
	case s.path != "":
		return filepath.Base(s.path)
	case s.Chart().Title != "":
		return s.Chart().Title
	}
	return Untitled
}

// Saving is a chart on its way into a file. Write may run on any goroutine;
// Saved then tells the session how it went.
type Saving struct {
	path         string
	chart, known *project.Chart
	opened       int
}

// SaveTo begins to save the chart to path. A file that is the chart's own is not
// replaced if another program has changed it; over says to replace it all the
// same.
func (s *Session) SaveTo(path string, over bool) Saving {
	v := Saving{path: path, chart: s.Chart(), opened: s.opened}
	if path == s.path && !over {
		v.known = s.onDisk
	}
	return v
}

// Write writes the chart; see project.SaveOver.
func (v Saving) Write() error { return project.SaveOver(v.path, v.known, v.chart) }

// Saved notes how a saving ended. What was edited meanwhile stays unsaved work.
// It returns err.
func (s *Session) Saved(v Saving, err error) error {
	if err != nil {
		return s.fail(err)
	}
	if v.opened == s.opened {
		s.path, s.onDisk = v.path, v.chart
		s.history.MarkSavedAs(v.chart)
		s.writeJournal()
		s.notify(FileChanged)
	}
	s.Say("Saved to " + Quoted(filepath.Base(v.path)) + ".")
	return nil
}

// Save writes the chart to path, which becomes its own file.
func (s *Session) Save(path string) error {
	v := s.SaveTo(path, false)
	return s.Saved(v, v.Write())
}

// Close stops the sound and forgets the journal.
func (s *Session) Close() {
	s.Stop()
	s.ForgetJournal()
	s.sound.Close()
}
