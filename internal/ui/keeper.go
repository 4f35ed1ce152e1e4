package ui

import (
	"sync"

	"organbook/internal/project"
)

// keeper writes the journal beside the window's goroutine: encoding a long chart
// and having it on the disk takes as long as working an edit out, and a disk may
// be slow at any time. Its rules:
//
//  1. What was given last is written last; what a newer state overtakes may be
//     left out.
//  2. settle and Remove return when nothing is left to write.
//  3. An error is told once it is known, on the writing goroutine.
type keeper struct {
	journal project.Journal
	failed  func(error)

	mu    sync.Mutex
	idle  sync.Cond
	next  *unsaved // what to write when the writing goroutine is done; nil for nothing
	works bool
}

// unsaved is a state of unsaved work.
type unsaved struct {
	chart    *project.Chart
	original string
}

func newKeeper(j project.Journal, failed func(error)) *keeper {
	k := &keeper{journal: j, failed: failed}
	k.idle.L = &k.mu
	return k
}

// Write has a state written and returns at once.
func (k *keeper) Write(c *project.Chart, original string) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.next = &unsaved{c, original}
	if !k.works {
		k.works = true
		go k.work()
	}
	return nil
}

func (k *keeper) work() {
	for u := k.take(); u != nil; u = k.take() {
		if err := k.journal.Write(u.chart, u.original); err != nil {
			k.failed(err)
		}
	}
}

// take returns what is to be written next; with nothing left the work ends.
func (k *keeper) take() *unsaved {
	k.mu.Lock()
	defer k.mu.Unlock()
	u := k.next
	k.next = nil
	if u == nil {
		k.works = false
		k.idle.Broadcast()
	}
	return u
}

// Remove forgets the journal.
func (k *keeper) Remove() error {
	k.mu.Lock()
	k.next = nil
	k.mu.Unlock()
	k.settle()
	return k.journal.Remove()
}

// settle waits until all that was given is written.
func (k *keeper) settle() {
	k.mu.Lock()
	defer k.mu.Unlock()
	for k.works {
		k.idle.Wait()
	}
}
