// Package chartfile opens whatever a chart can come from, told apart by
// content and not by ending: a native chart or a MusicXML score.
package chartfile

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"organbook/internal/exchange/musicxml"
	"organbook/internal/project"
)

// Endings are the file name endings a chooser should show.
var Endings = []string{".organbook", ".musicxml", ".xml", ".mxl"}

// File is an opened file.
type File struct {
	Chart *project.Chart
	// Warnings are what an import had to leave out or guess, a sentence each.
	Warnings []string
	// Native reports that the file is a chart, which saving may replace; a
	// score it was imported from must not be.
	Native bool
}

// Open reads the file at path. An error is one sentence that starts with the
// path.
func Open(path string) (File, error) {
	f, err := open(path)
	return f, withWayOut(path, located(path, err))
}

// located puts the path in front of an error that lacks it, or only the folder
// where the error begins with the file's name.
func located(path string, err error) error {
	name := filepath.Base(path)
	switch {
	case err == nil || strings.HasPrefix(err.Error(), path):
		return err
	case strings.HasPrefix(err.Error(), name+": "):
		return fmt.Errorf("%s%w", strings.TrimSuffix(path, name), err)
	}
	return fmt.Errorf("%s: %w", path, err)
}

// errEmpty answers a file without a byte, as a full disk may leave one.
var errEmpty = errors.New("the file is empty")

// withWayOut tells who finds a chart damaged or empty that the version before it
// is beside it, if it is and can be read.
func withWayOut(path string, err error) error {
	if !errors.Is(err, project.ErrDamaged) && !errors.Is(err, errEmpty) {
		return err
	}
	before := path + "~"
	if _, loadErr := project.Load(before); loadErr != nil {
		return err
	}
	return fmt.Errorf("%w; the version before can be opened as %s", err, filepath.Base(before))
}

func open(path string) (File, error) {
	native, err := isNative(path)
	if err != nil {
		return File{}, err
	}
	if native {
		c, err := project.Load(path)
		return File{Chart: c, Native: true}, err
	}
	c, notes, err := musicxml.ReadFile(path)
	f := File{Chart: c}
	for _, n := range notes {
		f.Warnings = append(f.Warnings, n.String())
	}
	return f, err
}

// headSize is enough to see past a byte order mark and blank lines.
const headSize = 512

// isNative reports whether the file's first visible character opens a JSON
// object, as a chart's does and no score's can. A chart's ending counts too,
// so that a damaged chart is called one.
func isNative(path string) (bool, error) {
	f, err := os.Open(path)
	if err != nil {
		return false, plain(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return false, plain(err)
	}
	if info.IsDir() {
		return false, errors.New("this is a folder; name a file in it")
	}
	head := make([]byte, headSize)
	n, err := io.ReadFull(f, head)
	if errors.Is(err, io.EOF) {
		return false, errEmpty
	}
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return false, plain(err)
	}
	text := strings.TrimLeft(strings.TrimPrefix(string(head[:n]), "\ufeff"), " \t\r\n")
	return strings.HasPrefix(text, "{") || strings.EqualFold(filepath.Ext(path), ".organbook"), nil
}

// plain says in plain words why a file could not be read.
func plain(err error) error {
	switch {
	case errors.Is(err, os.ErrNotExist):
		return errors.New("there is no such file")
	case errors.Is(err, os.ErrPermission):
		return errors.New("the file cannot be read; check its permissions")
	}
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
