package project

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"syscall"
)

// Extension is the ending of chart files.
const Extension = ".organbook"

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
func Save(path string, c *Chart) error {
	data, err := encode(c)
	if err == nil {
		err = mayReplace(path)
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

// mayReplace reports why the file at path must stay as it is.
func mayReplace(path string) error {
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
	if _, err := load(path); err != nil {
		return fmt.Errorf("the file is not replaced, because %w; save under another name", err)
	}
	return nil
}

// plainFile puts the common refusals of a file system into words.
func plainFile(err error) error {
	for _, known := range []struct {
		is   error
		text string
	}{
		{fs.ErrNotExist, "there is no such file or folder"},
		{fs.ErrPermission, "access is denied; choose another folder, or ask its owner"},
		{syscall.EROFS, "the folder is read-only; choose another one"},
		{syscall.ENOSPC, "the disk is full; make room and save again"},
		{syscall.EDQUOT, "your share of the disk is full; make room and save again"},
		{syscall.ENAMETOOLONG, "the name is too long"},
		{syscall.ENOTDIR, "a part of the path is not a folder"},
	} {
		if errors.Is(err, known.is) {
			return &plainError{known.text, err}
		}
	}
	return err
}

// plainError is a refusal in words that still unwraps to its cause.
type plainError struct {
	text  string
	cause error
}

func (e *plainError) Error() string { return e.text }

func (e *plainError) Unwrap() error { return e.cause }
