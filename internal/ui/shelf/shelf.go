// Package shelf keeps what a user has made outside charts, registrations,
// templates, keys, the player and the MIDI setup, in one readable file.
//
// The rules, which the tests hold it to:
//
//  1. The file is replaced whole, by a rename, after the new one is on the disk;
//     the version before is kept beside it, with a ~ after its name.
//  2. A change is made to what is in the file at that moment, under a lock, so
//     that of two windows none drops what the other kept.
//  3. A file that cannot be understood is put aside under another name and never
//     written over; the version before takes its place if it can be read. One
//     that a newer program wrote, or that cannot be opened, is left as it is:
//     then changes last until the window closes, and Change says so.
package shelf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"sync"
	"time"

	"organbook/internal/exchange/atomicfile"
	"organbook/internal/ui/filelock"
)

// Shelf is the file and what was in it last. It may be used from any goroutine;
// Now never waits for the disk.
type Shelf struct {
	path string

	work    sync.Mutex // held while the file is read or written
	now     Content
	stamp   stamp
	refused error // why the file is not written

	show    sync.Mutex // held for a moment, also under work
	shown   Content    // now, and what waits to be written
	waiting []*waiting
}

// waiting is a change that is shown but not yet written.
type waiting struct{ do func(*Content) error }

// stamp tells whether a file has been replaced since it was read.
type stamp struct {
	when time.Time
	size int64
}

const (
	// patience is how long a change waits for another window's.
	patience = 2 * time.Second
	// maxSize bounds the file, far above what the limits of its lists allow.
	maxSize = 8 << 20
)

// Open reads the file at path; "" keeps everything in memory. first is asked for
// what to begin with where there is no file. The shelf can always be used; an
// error says what is wrong with the file, in a sentence for the user.
func Open(path string, first func() Content) (*Shelf, error) {
	s, err := open(path, first)
	s.publish(nil)
	return s, err
}

func open(path string, first func() Content) (*Shelf, error) {
	s := &Shelf{path: path}
	if path == "" {
		s.now = first().clone()
		return s, nil
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return s.refuse(first(), fmt.Errorf("%s: what you keep is forgotten at the end: %w", path, plain(err)))
	}
	lock, err := s.lock()
	if err != nil {
		return s.refuse(first(), fmt.Errorf("%s: what you keep is forgotten at the end: %w", path, plain(err)))
	}
	defer lock.Release()
	return s, s.fill(first)
}

func (s *Shelf) refuse(c Content, err error) (*Shelf, error) {
	s.now, s.refused = c.clone(), err
	return s, err
}

func (s *Shelf) lock() (*filelock.Lock, error) { return filelock.Wait(s.path+".lock", patience) }

// fill reads the file for the first time.
func (s *Shelf) fill(first func() Content) error {
	c, _, err := s.read()
	switch {
	case err == nil:
		s.now = c.clone()
		return nil
	case errors.Is(err, fs.ErrNotExist):
		s.now = first().clone()
		if reflect.DeepEqual(s.now, Content{}.clone()) {
			return nil // nothing to keep yet
		}
		return s.write(nil)
	case unreadable(err):
		s.now, s.refused = Content{}.clone(), fmt.Errorf("%s: %w", s.path, plain(err))
		return s.refused
	}
	return s.replaceDamaged(err)
}

// replaceDamaged puts a file aside that cannot be understood, and the version
// before in its place.
func (s *Shelf) replaceDamaged(why error) error {
	aside, err := putAside(s.path)
	if err != nil {
		s.now, s.refused = Content{}.clone(), fmt.Errorf("%s: %w; it could not be put aside and is not written to: %w", s.path, why, plain(err))
		return s.refused
	}
	said := fmt.Errorf("what you keep outside charts (%s) cannot be read: %w; the file is now called %s", s.path, why, filepath.Base(aside))
	before, _, err := readFile(s.path + "~")
	if err != nil {
		s.now = Content{}.clone()
		return fmt.Errorf("%w, and there is no version before it that can be read", said)
	}
	s.now = before.clone()
	if err := s.write(nil); err != nil {
		return errors.Join(said, err)
	}
	return fmt.Errorf("%w, and the version before it is in use", said)
}

// putAside renames a file to a name that is free.
func putAside(path string) (string, error) {
	for i := 1; ; i++ {
		aside := fmt.Sprintf("%s.damaged-%d", path, i)
		if _, err := os.Lstat(aside); errors.Is(err, fs.ErrNotExist) {
			return aside, os.Rename(path, aside)
		} else if err != nil {
			return aside, err
		}
	}
}

// Now returns what is kept, as far as this window knows, with what is about to be
// written.
func (s *Shelf) Now() Content {
	s.show.Lock()
	defer s.show.Unlock()
	return s.shown
}

// publish shows what is known now with the changes that wait on top of it, except
// one that has been written or given up.
func (s *Shelf) publish(done *waiting) {
	s.show.Lock()
	defer s.show.Unlock()
	s.waiting = slices.DeleteFunc(s.waiting, func(c *waiting) bool { return c == done })
	s.shown = s.now
	for _, c := range s.waiting {
		if next := s.shown.clone(); c.do(&next) == nil {
			s.shown = next
		}
	}
}

// Later makes a change that Now shows at once, and returns what writes it as Change
// does, on any goroutine. An error of do leaves everything as it is; where
// writing fails, the change is taken back. do may be called several times.
func (s *Shelf) Later(do func(*Content) error) (write func() error, err error) {
	s.show.Lock()
	defer s.show.Unlock()
	next := s.shown.clone()
	if err := do(&next); err != nil {
		return nil, err
	}
	c := &waiting{do}
	s.shown, s.waiting = next, append(s.waiting, c)
	return func() error {
		s.work.Lock()
		defer s.work.Unlock()
		defer s.publish(c)
		return s.change(do)
	}, nil
}

// Look brings in what other windows have kept in the meantime. A file that
// cannot be read is left for the next change to deal with.
func (s *Shelf) Look() {
	if !s.work.TryLock() {
		return // what is being written began with reading
	}
	defer s.work.Unlock()
	if s.path == "" || s.refused != nil || stampOf(s.path) == s.stamp {
		return
	}
	if c, _, err := s.read(); err == nil {
		s.now = c.clone()
		s.publish(nil)
	}
}

// Change changes what is kept, starting from what is in the file now. On an error
// of do, and where the file cannot be locked or written, nothing changes; where
// it is left as it is, the change holds until the window closes and the error
// says so.
func (s *Shelf) Change(do func(*Content) error) error {
	s.work.Lock()
	defer s.work.Unlock()
	defer s.publish(nil)
	return s.change(do)
}

func (s *Shelf) change(do func(*Content) error) error {
	if s.path == "" || s.refused != nil {
		return s.inMemory(do)
	}
	lock, err := s.lock()
	if err != nil {
		return fmt.Errorf("%s: nothing was kept: %w", s.path, plain(err))
	}
	defer lock.Release()
	c, data, err := s.read()
	switch {
	case err == nil:
		s.now = c.clone()
	case errors.Is(err, fs.ErrNotExist): // somebody took it away; it comes back
	case unreadable(err):
		s.refused = fmt.Errorf("%s: %w", s.path, plain(err))
		return s.inMemory(do)
	default:
		aside, err := putAside(s.path)
		if err != nil {
			return fmt.Errorf("%s: %w", s.path, plain(err))
		}
		said := fmt.Errorf("%s could not be read any more and is now called %s; what this window knew is in its place", s.path, filepath.Base(aside))
		return errors.Join(s.changeFrom(nil, do), said)
	}
	return s.changeFrom(data, do)
}

func (s *Shelf) inMemory(do func(*Content) error) error {
	next := s.now.clone()
	if err := do(&next); err != nil {
		return err
	}
	s.now = next
	return s.refused
}

// changeFrom changes what is known and writes it; the file held data, nil where
// there is none.
func (s *Shelf) changeFrom(data []byte, do func(*Content) error) error {
	before, next := s.now, s.now.clone()
	if err := do(&next); err != nil {
		return err
	}
	if reflect.DeepEqual(before, next) && data != nil {
		return nil
	}
	s.now = next
	if err := s.write(data); err != nil {
		s.now = before
		return fmt.Errorf("nothing was kept: %w", err)
	}
	return nil
}

// read reads the file and remembers which it was.
func (s *Shelf) read() (Content, []byte, error) {
	s.stamp = stampOf(s.path)
	return readFile(s.path)
}

func readFile(path string) (Content, []byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return Content{}, nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxSize+1))
	if err != nil {
		return Content{}, nil, err
	}
	if len(data) > maxSize {
		return Content{}, nil, errForeign
	}
	c, err := decode(data)
	return c, data, err
}

// write keeps the version before and puts the content in its place.
func (s *Shelf) write(before []byte) error {
	data, err := encode(s.now)
	if err != nil {
		return err
	}
	if before != nil {
		if err := atomicfile.Write(s.path+"~", bytesOf(before)); err != nil {
			return err
		}
	}
	if err := atomicfile.Write(s.path, bytesOf(data)); err != nil {
		return err
	}
	s.stamp = stampOf(s.path)
	return nil
}

func bytesOf(data []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.Copy(w, bytes.NewReader(data))
		return err
	}
}

func stampOf(path string) stamp {
	info, err := os.Stat(path)
	if err != nil {
		return stamp{}
	}
	return stamp{info.ModTime(), info.Size()}
}

// unreadable reports an error after which the file must be left as it is.
func unreadable(err error) bool {
	var path *fs.PathError
	return errors.Is(err, errNewer) || errors.As(err, &path)
}

// plain strips what the system did and the path, which is said already.
func plain(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
