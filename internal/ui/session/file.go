package session

import (
	"path/filepath"

	"organbook/internal/project"
)

// Journal keeps unsaved work for the day the program is cut off. The zero
// value keeps nothing.
type Journal struct {
	keep project.Journal
	// failed is set after the first failure, which is said once.
	failed bool
}

// KeepJournal writes unsaved work to j from now on.
func (s *Session) KeepJournal(j project.Journal) { s.journal = Journal{keep: j} }

// writeJournal keeps the current chart, or forgets the journal when all is
// saved.
func (s *Session) writeJournal() {
	var err error
	if s.Worked() {
		err = s.journal.keep.Write(s.Chart(), s.path)
	} else {
		err = s.journal.keep.Remove()
	}
	if err != nil && !s.journal.failed {
		s.journal.failed = true
		s.Say("Unsaved work cannot be kept for a crash: " + err.Error())
	}
}

// ForgetJournal removes the journal: the work was saved or let go.
func (s *Session) ForgetJournal() {
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
	s.history.MarkUnsaved()
	s.writeJournal()
	s.notify(FileChanged)
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
	return "Untitled"
}

// Save writes the chart to path, which becomes its own file.
func (s *Session) Save(path string) error {
	if err := project.Save(path, s.Chart()); err != nil {
		return s.fail(err)
	}
	s.path = path
	s.history.MarkSaved()
	s.writeJournal()
	s.notify(FileChanged)
	s.Say("Saved to " + filepath.Base(path) + ".")
	return nil
}

// Close stops the sound and forgets the journal.
func (s *Session) Close() {
	s.Stop()
	s.ForgetJournal()
	s.sound.Close()
}
