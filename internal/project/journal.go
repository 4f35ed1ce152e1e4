package project

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// A journal is one file that holds the latest state of unsaved work: the whole
// chart, and the path of the file it belongs to. Charts are small, so writing
// all of it each time is simpler than a log of edits and cannot fall out of
// step. The file is replaced atomically; it is removed on a clean close, so
// finding one at start means that work was left unsaved.

const (
	journalFormat  = "organbook-journal"
	journalVersion = 1
)

// ErrNoJournal reports that no unsaved work was left behind.
var ErrNoJournal = errors.New("there is no unsaved work to recover")

// Journal keeps unsaved work in a file. The zero value keeps nothing.
type Journal struct{ path string }

// NewJournal returns a journal that writes to path; nothing is written yet.
func NewJournal(path string) Journal { return Journal{path} }

// Path returns the journal's file.
func (j Journal) Path() string { return j.path }

// Write replaces the journal's content by the chart and the path of the file
// it will be saved to, empty for one without a name. Its errors are
// *FileError.
func (j Journal) Write(c *Chart, original string) error {
	if j.path == "" {
		return nil
	}
	if err := j.write(c, original); err != nil {
		return &FileError{j.path, plainFile(err)}
	}
	return nil
}

func (j Journal) write(c *Chart, original string) error {
	chart, err := encode(c)
	if err != nil {
		return err
	}
	data, err := json.Marshal(wireJournal{wireHeader{journalFormat, journalVersion}, original, chart})
	if err != nil {
		return err
	}
	return replaceFile(j.path, keepNothing, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// Remove forgets the unsaved work: it was saved, or the user let it go.
func (j Journal) Remove() error {
	if j.path == "" {
		return nil
	}
	if err := os.Remove(j.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return &FileError{j.path, plainFile(err)}
	}
	return nil
}

type wireJournal struct {
	wireHeader
	Path  string          `json:"path"`
	Chart json.RawMessage `json:"chart"`
}

// Recovered is the work a crash left behind.
type Recovered struct {
	Chart *Chart
	// Original is the path of the file the chart belongs to, empty when it had
	// no name yet.
	Original string
}

// RecoverJournal reads a journal. Without one the error is ErrNoJournal; other
// errors are *FileError and leave the journal where it is.
func RecoverJournal(path string) (Recovered, error) {
	r, err := recoverJournal(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return r, ErrNoJournal
	case err != nil:
		return r, &FileError{path, plainFile(err)}
	}
	return r, nil
}

func recoverJournal(path string) (Recovered, error) {
	f, err := openFile(path)
	if err != nil {
		return Recovered{}, err
	}
	defer f.Close()
	data, err := readObject(f, 2*MaxFileSize)
	if err != nil {
		return Recovered{}, err
	}
	if err := identify(data, journalFormat, journalVersion); err != nil {
		return Recovered{}, err
	}
	var w wireJournal
	if err := strict(data, &w); err != nil {
		return Recovered{}, damaged("%v", err)
	}
	c, err := decode(w.Chart)
	if err != nil {
		return Recovered{}, fmt.Errorf("unsaved work: %w", err)
	}
	return Recovered{c, w.Path}, nil
}
