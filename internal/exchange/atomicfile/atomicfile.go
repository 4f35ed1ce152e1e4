// Package atomicfile writes files that appear whole or not at all.
package atomicfile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// Write creates or replaces the file at path with what fill writes. The text
// goes to a new file in the same folder, is flushed to the disk and then takes
// the name; when anything fails before, what was at path stays and nothing is
// left behind. A replaced file keeps its permissions, a symbolic link keeps
// pointing. Devices and pipes are written to directly.
//
// Errors of fill come back as they are; others start with the path.
func Write(path string, fill func(io.Writer) error) error {
	return write(path, true, func(f io.WriteSeeker) error {
		b := bufio.NewWriterSize(f, 1<<16)
		if err := fill(b); err != nil {
			return err
		}
		return b.Flush()
	})
}

// WriteSeek is Write for formats that go back to complete their header; what it
// writes is not buffered. It is for large files that can be made again: one that
// replaces nothing is left to the system to bring to the disk, since waiting for
// that would take long and nothing is lost with the file.
func WriteSeek(path string, fill func(io.WriteSeeker) error) error {
	return write(path, false, fill)
}

// write is Write; always says to flush also what replaces nothing.
func write(path string, always bool, fill func(io.WriteSeeker) error) error {
	target, mode, err := resolve(path)
	if err != nil {
		return err
	}
	if mode&fs.ModeType != 0 {
		return writeDirectly(target, fill)
	}
	f, err := create(target, mode)
	if err != nil {
		return err
	}
	done := false
	defer func() {
		if !done {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	flushed := always || mode != 0
	var to io.WriteSeeker = f
	if flushed {
		to = &early{File: f}
	}
	if err := fill(to); err != nil {
		return err
	}
	if err := finish(f, target, flushed); err != nil {
		return err
	}
	done = true
	return nil
}

// resolve follows links and returns where to write and the mode of what is
// there; 0 when nothing is.
func resolve(path string) (target string, mode fs.FileMode, err error) {
	target = path
	if real, err := filepath.EvalSymlinks(path); err == nil {
		target = real
	}
	info, err := os.Stat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return target, 0, nil
	case err != nil:
		return "", 0, fmt.Errorf("%s: cannot be written: %w", path, cause(err))
	case info.IsDir():
		return "", 0, fmt.Errorf("%s: cannot be written: this is a folder", path)
	}
	return target, info.Mode(), nil
}

// create opens a new file beside target, with the permissions it shall have.
func create(target string, mode fs.FileMode) (*os.File, error) {
	dir, base := filepath.Split(target)
	for range 100 {
		name := fmt.Sprintf("%s.%s.%08x~", dir, base, rand.Uint32())
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("%s: cannot be written: %w", target, cause(err))
		}
		if mode != 0 {
			// Best effort: some file systems have no permissions to set.
			_ = f.Chmod(mode.Perm())
		}
		return f, nil
	}
	return nil, fmt.Errorf("%s: cannot be written: no free name for a temporary file", target)
}

// finish flushes the file to the disk, if it is to, and gives it its name.
func finish(f *os.File, target string, flush bool) error {
	var err error
	if flush {
		err = f.Sync()
	}
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	if err == nil {
		err = os.Rename(f.Name(), target)
	}
	if err != nil {
		return fmt.Errorf("%s: cannot be written: %w", target, cause(err))
	}
	return nil
}

func writeDirectly(target string, fill func(io.WriteSeeker) error) error {
	f, err := os.OpenFile(target, os.O_WRONLY, 0)
	if err != nil {
		return fmt.Errorf("%s: cannot be written: %w", target, cause(err))
	}
	err = fill(f)
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	return err
}

// cause strips the operation and the name, often a temporary one, from an
// error of the operating system.
func cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	return err
}
