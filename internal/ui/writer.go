package ui

import (
	"fyne.io/fyne/v2"

	"organbook/internal/ui/shelf"
)

// writer writes files beside the window's goroutine, for a disk may take a second
// to flush one. The rules:
//
//  1. One file is written at a time, in the order in which they were asked for,
//     so that an older state never replaces a newer one.
//  2. What follows a writing is done on the window's goroutine, success or not.
//  3. Leaving a chart and closing the window wait until all is written.
type writer struct {
	w       *Window
	waiting []writing
	busy    bool
	idle    func() // what waits for the end of all writing, nil for nothing
}

// writing is one file to write and what follows. begin takes from the window what
// is to be written, on the window's goroutine, and returns what writes it.
type writing struct {
	begin func() func() error
	then  func(error)
}

// add writes after what was asked for before.
func (q *writer) add(begin func() func() error, then func(error)) {
	q.waiting = append(q.waiting, writing{begin, then})
	if !q.busy {
		q.next()
	}
}

// next begins the first writing that waits.
func (q *writer) next() {
	if len(q.waiting) == 0 {
		q.busy = false
		if then := q.idle; then != nil {
			q.idle = nil
			then()
		}
		return
	}
	q.busy = true
	now := q.waiting[0]
	q.waiting = q.waiting[1:]
	do := now.begin()
	q.w.background(func() {
		err := do()
		fyne.Do(func() {
			q.busy = false
			if now.then(err); !q.busy {
				q.next()
			}
		})
	})
}

// whenIdle does something when all is written: at once, or later and then only the
// last of what was asked.
func (q *writer) whenIdle(then func()) {
	if !q.busy {
		then()
		return
	}
	q.w.session.Say("A file is still being written.")
	q.idle = then
}

// keepLater keeps something of the user's own on the shelf: it holds at once and is
// written beside the window; what goes wrong is said.
func (w *Window) keepLater(do func(*shelf.Content) error) {
	write, err := w.shelf.Later(do)
	if err != nil {
		w.sayError(err)
		return
	}
	w.writer.add(func() func() error { return write }, w.sayError)
}
