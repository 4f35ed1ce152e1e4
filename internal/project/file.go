package project

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// Extension is the ending of chart files.
const Extension = ".organbook"

// NameOfFile is what a file's path leaves of a name: no folder, no ending.
func NameOfFile(path string) string {
	return strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
}

// FileError says what went wrong with a file, in one sentence that starts with
// its path.
type FileError struct {
	Path string
	// Err is the reason; errors.Is finds the sentinels of Read and those of
	// io/fs in it.
	Err error
}

// Error returns "PATH: REASON".
func (e *FileError) Error() string { return e.Path + ": " + e.Err.Error() }

// Unwrap returns the reason.
func (e *FileError) Unwrap() error { return e.Err }

// Load reads the chart in a file. Its errors are *FileError.
func Load(path string) (*Chart, error) {
	c, err := load(path)
	if err != nil {
		return nil, &FileError{path, plainFile(err)}
	}
	return c, nil
}

func load(path string) (*Chart, error) {
	f, err := openFile(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return Read(f)
}

// errFolder answers a folder where a file was expected.
var errFolder = errors.New("this is a folder, not a chart")

func openFile(path string) (*os.File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return nil, errFolder
	}
	return os.Open(path)
}

// Save writes the chart to a file. The data goes to a new file beside it first
// and is flushed to disk; the version before is kept as NAME.organbook~; a
// rename then puts the new file in its place. Whatever fails, the file at path
// is either the old one or the new one, whole.
//
// It refuses to replace a file that Read would refuse (unless it is empty) or
// that is write-protected. Its errors are *FileError.
func Save(path string, c *Chart) error { return SaveOver(path, nil, c) }

// ErrChanged reports a chart that another program has written since it was
// read or saved here.
var ErrChanged = errors.New("another program has changed the file since it was opened; save under another name to keep both")

// SaveOver is Save for a file whose content is known: where it holds another
// chart than known and than c by now, it is left as it is and the error is
// ErrChanged. A nil known, and a file that is gone, make it Save. What is
// compared is the music, so that a file that was only touched or copied back
// counts as unchanged.
func SaveOver(path string, known, c *Chart) error {
	data, err := encode(c)
	if err == nil {
		err = mayReplace(path, known, c)
	}
	if err == nil {
		err = replaceFile(path, keepPrevious, func(w io.Writer) error {
			_, err := w.Write(data)
			return err
		})
	}
	if err != nil {
		return &FileError{path, plainFile(err)}
	}
	return nil
}

// mayReplace reports why the file at path, which held known, must stay as it is
// rather than become c.
func mayReplace(path string, known, c *Chart) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case info.IsDir():
		return errFolder
	case info.Mode().Perm()&0o200 == 0:
		return errors.New("the file is write-protected; save under another name")
	case info.Size() == 0:
		return nil
	}
	now, err := load(path)
	switch {
	case err != nil:
		return fmt.Errorf("the file is not replaced, because %w; save under another name", err)
	case known != nil && !now.Equal(known) && !now.Equal(c):
		return ErrChanged
	}
	return nil
}

// plainFile puts the common refusals of a file system into words.
func plainFile(err error) error {
	for _, known := range []struct{ is, says error }{
		{fs.ErrNotExist, errors.New("there is no such file or folder")},
		{fs.ErrPermission, errors.New("access is denied; choose another folder, or ask its owner")},
		{syscall.EROFS, errors.New("the folder is read-only; choose another one")},
		{syscall.ENOSPC, errors.New("the disk is full; make room and save again")},
		{syscall.EDQUOT, errors.New("your share of the disk is full; make room and save again")},
		{syscall.ENAMETOOLONG, errors.New("the name is too long")},
		{syscall.ENOTDIR, errors.New("a part of the path is not a folder")},
	} {
		if errors.Is(err, known.is) {
			return &plainError{known.says, err}
		}
	}
	return err
}

// plainError is a refusal in words that still unwraps to its cause.
type plainError struct{ says, cause error }

func (e *plainError) Error() string { return e.says.Error() }

func (e *plainError) Unwrap() error { return e.cause }
