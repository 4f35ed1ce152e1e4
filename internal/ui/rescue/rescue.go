// Package rescue keeps the unsaved work of several windows apart. Each window
// owns one journal in a shared folder, and for as long as it lives a lock
// beside it that the system lets go when its process ends, however it ends. A
// journal whose lock can be had was therefore left behind by a crash; one
// whose lock is held belongs to a window that is still at work.
//
// The rules, which the tests hold it to:
//
//  1. A journal is offered only when its owner is gone.
//  2. While one window asks about a journal no other window offers it.
//  3. A journal that was offered is removed only on Found.LetGo; Found.Keep,
//     or dying before the answer, leaves it for the next start.
package rescue

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"organbook/internal/project"
	"organbook/internal/ui/filelock"
)

const (
	journalEnding = ".journal"
	lockEnding    = ".lock"
)

// Desk is one window's place in the folder. The zero value keeps nothing.
type Desk struct {
	own  string // path of the own journal
	lock *filelock.Lock
}

// Open takes a place in a folder, which is made if need be.
func Open(dir string) (Desk, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return Desk{}, err
	}
	const mostWindows = 1000
	for i := range mostWindows {
		own := filepath.Join(dir, fmt.Sprintf("unsaved-%d-%d%s", os.Getpid(), i, journalEnding))
		if _, err := os.Stat(own); err == nil {
			continue // left behind by an earlier process of the same number
		}
		l, err := filelock.Take(lockOf(own))
		if errors.Is(err, filelock.ErrHeld) {
			continue
		}
		if err != nil {
			return Desk{}, err
		}
		return Desk{own, l}, nil
	}
	return Desk{}, fmt.Errorf("%s: too many journals of unsaved work", dir)
}

// Journal returns the window's own journal.
func (d Desk) Journal() project.Journal { return project.NewJournal(d.own) }

// Close gives the place back. The journal is the session's to remove.
func (d Desk) Close() {
	if d.lock != nil {
		d.lock.Remove()
	}
}

// Found is work that a crash left behind. It is held for the window that found
// it until LetGo or Keep is called.
type Found struct {
	project.Recovered
	// Err says why the journal cannot be read; then there is no chart.
	Err error
	// When is the time of the last edit.
	When time.Time
	path string
	lock *filelock.Lock
}

// LetGo removes the journal: the work was taken over or is not wanted.
func (f Found) LetGo() error {
	err := project.NewJournal(f.path).Remove()
	f.lock.Remove()
	return err
}

// Keep leaves the journal for the next start.
func (f Found) Keep() { f.lock.Release() }

// Left returns what crashes left behind in the folder, latest first, and
// clears away the locks of windows that left nothing.
func (d Desk) Left() []Found {
	if d.own == "" {
		return nil
	}
	dir := filepath.Dir(d.own)
	d.clearLocks(dir)
	names, _ := filepath.Glob(filepath.Join(dir, "*"+journalEnding))
	var out []Found
	for _, path := range names {
		if f, ok := d.find(path); ok {
			out = append(out, f)
		}
	}
	slices.SortFunc(out, func(a, b Found) int { return b.When.Compare(a.When) })
	return out
}

// find reads one journal whose owner is gone.
func (d Desk) find(path string) (Found, bool) {
	if path == d.own {
		return Found{}, false
	}
	l, err := filelock.Take(lockOf(path))
	if err != nil {
		return Found{}, false
	}
	f := Found{path: path, lock: l}
	if info, err := os.Stat(path); err == nil {
		f.When = info.ModTime()
	}
	f.Recovered, f.Err = project.RecoverJournal(path)
	if errors.Is(f.Err, project.ErrNoJournal) { // its owner ended well just now
		l.Remove()
		return Found{}, false
	}
	return f, true
}

// clearLocks removes locks without a journal that nobody holds.
func (d Desk) clearLocks(dir string) {
	names, _ := filepath.Glob(filepath.Join(dir, "*"+lockEnding))
	for _, path := range names {
		if _, err := os.Stat(journalOf(path)); err == nil || path == lockOf(d.own) {
			continue
		}
		if l, err := filelock.Take(path); err == nil {
			l.Remove()
		}
	}
}

func lockOf(journal string) string { return strings.TrimSuffix(journal, journalEnding) + lockEnding }

func journalOf(lock string) string { return strings.TrimSuffix(lock, lockEnding) + journalEnding }
