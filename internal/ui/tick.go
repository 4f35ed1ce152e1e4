package ui

import (
	"time"

	"fyne.io/fyne/v2"
)

// tickTime is how often the cursor moves while the transport runs: every move
// repaints the window, and twenty-five times a second look smooth.
const tickTime = time.Second / 25

// startTicking runs the clock while the transport plays. The clock's goroutine
// only asks the window to look; it ends with the transport.
func (w *Window) startTicking() {
	if w.ticking || !w.session.Playing() {
		return
	}
	w.ticking = true
	stop := make(chan struct{})
	go func() {
		clock := time.NewTicker(tickTime)
		defer clock.Stop()
		for {
			select {
			case <-stop:
				return
			case <-clock.C:
				fyne.Do(func() { w.tick(stop) })
			}
		}
	}()
}

// tick moves the cursor and lights the keys that sound now. When the transport
// has stopped it ends the clock.
func (w *Window) tick(stop chan struct{}) {
	if !w.ticking {
		return
	}
	t, playing := w.session.Cursor()
	if !playing {
		w.ticking = false
		close(stop)
		w.grid.hideCursor()
		w.top.showPeak(0)
		w.showHeard()
		w.console.light(w.selectedKeys())
		w.top.update()
		w.grid.showCaret()
		return
	}
	if w.heard != w.session.HeardPassage() {
		w.showHeard()
	}
	w.console.light(soundingKeys(w.session.Realisation(), t))
	w.top.showPosition(t)
	w.top.showPeak(w.session.Peak())
	w.grid.showCursor(t)
}

// showHeard brings up to date what follows the passage that sounds: the
// console's settings, the raised card and the line over its bars.
func (w *Window) showHeard() {
	w.heard = w.session.HeardPassage()
	w.console.update()
	w.strip.update()
	w.grid.repaint()
}
