package musicxml

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"organbook/internal/project"
)

// The reasons a file cannot be imported. The error that wraps one of them is
// a whole sentence: the file, the place, what is wrong and what to do.
var (
	// ErrNotMusicXML is a file that is no MusicXML score at all: empty, of
	// another format, or XML of another kind.
	ErrNotMusicXML = errors.New("not a MusicXML score")
	// ErrDamaged is a compressed score whose archive cannot be opened.
	ErrDamaged = errors.New("damaged file")
	// ErrTooLarge is a file beyond what a score needs; see MaxSize.
	ErrTooLarge = errors.New("too large")
	// ErrUnsafe is a file that declares XML entities which refer to other
	// files or to one another.
	ErrUnsafe = errors.New("unsafe XML")
	// ErrNoNotes is a score without a single pitched note.
	ErrNoNotes = errors.New("no pitched notes")
)

// MaxSize is the most bytes of score text that are read, after decompression.
// A lead sheet has a hundredth of it; a symphony still fits.
const MaxSize = 64 << 20

// Warning is one thing the import left out, changed or guessed.
type Warning struct {
	// Bar is the bar number as the file prints it, or several ("3, 7, 9
	// and 2 more"); empty when the warning concerns the whole file.
	Bar string
	// Text is a sentence without a final full stop.
	Text string
}

// String writes the warning as "bar 3: grace notes are left out".
func (w Warning) String() string {
	switch {
	case w.Bar == "":
		return w.Text
	case strings.Contains(w.Bar, " and "):
		return "bars " + w.Bar + ": " + w.Text
	}
	return "bar " + w.Bar + ": " + w.Text
}

// ReadFile imports the score in the file at path; see Read.
func ReadFile(path string) (*project.Chart, []Warning, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: cannot be opened: %w", path, errors.Unwrap(err))
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, nil, fmt.Errorf("%s: cannot be read: %w", path, err)
	}
	if info.IsDir() {
		return nil, nil, fmt.Errorf("%s: %w: it is a folder; name a file in it", path, ErrNotMusicXML)
	}
	if !info.Mode().IsRegular() {
		return nil, nil, fmt.Errorf("%s: %w: it is not an ordinary file; copy the score into one", path, ErrNotMusicXML)
	}
	return Read(f, info.Size(), filepath.Base(path))
}

// Read imports a score of MusicXML 1.0 to 4.0, plain or compressed, by its
// first size bytes. The format is told from the content; name appears in
// errors and, without its ending, as the title of a score that has none.
//
// The melody is the first voice with notes in the first part with notes: the
// top notes of chords, ties merged, grace and cue notes
// left out. A part for a transposing instrument is brought to the key in which it
// sounds, in the octave nearest to the written one. Chord symbols come from that part, or from the first part that
// has any. A bar lasts as long as its content.
//
// Sloppy files import with warnings as long as some part has a pitched note;
// the chart passes Check in every case. Errors wrap one of the sentinels
// above or the reader's own error.
func Read(r io.ReaderAt, size int64, name string) (*project.Chart, []Warning, error) {
	notes := newNotices()
	s, err := readScore(r, size, notes)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	c, err := buildChart(s, name, notes)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	return c, notes.list(), nil
}
