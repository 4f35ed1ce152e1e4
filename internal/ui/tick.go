package ui

import (
	"time"

	"fyne.io/fyne/v2"

	"organbook/internal/project"
)

// startTicking runs the clock while the transport plays. The clock's goroutine
// only asks the window to look, and waits until it has; it ends with the
// transport.
func (w *Window) startTicking() {
	if w.ticking || !w.session.Playing() || w.opts.post != nil {
		return
	}
	w.ticking = true
	stop := make(chan struct{})
	go func() {
		p := newPace()
		used, at := processorTime(), time.Now()
		for {
			select {
			case <-stop:
				return
			case <-time.After(p.between):
				fyne.DoAndWait(func() { w.tick(stop) })
			}
			u, now := processorTime(), time.Now()
			p.count(u-used, now.Sub(at))
			used, at = u, now
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
		w.grid.showRecorded()
		w.top.showPeak(0, time.Now())
		w.showHeard()
		w.console.light(w.selectedKeys())
		w.top.update()
		w.grid.showCaret()
		return
	}
	if w.heard != w.session.HeardPassage() {
		w.showHeard()
	}
	w.console.light(w.playedKeys(t))
	w.console.showGlide(t)
	w.top.showPosition(t)
	w.top.showPeak(w.session.Peak(), time.Now())
	if w.prefs.lessMotion() {
		t = beatOf(w.session.Chart(), t)
	}
	w.grid.showCursor(t)
	w.grid.showRecorded()
}

// beatOf is where the beat starts that a position lies in.
func beatOf(c *project.Chart, t project.Ticks) project.Ticks {
	if t >= c.Length() {
		return t
	}
	bar := c.BarAt(t)
	start, beat := c.BarStart(bar), c.Bars[bar].Meter.Beat()
	return start + (t-start)/beat*beat
}

// ToggleMotion lets the cursor jump from beat to beat, for those whom gliding
// disturbs, or glide again.
func (w *Window) ToggleMotion() {
	w.prefs.setLessMotion(!w.prefs.lessMotion())
	if w.prefs.lessMotion() {
		w.session.Say("The cursor jumps from beat to beat.")
	} else {
		w.session.Say("The cursor glides.")
	}
}

// showHeard brings up to date what follows the passage that sounds: the
// console's settings, the raised card and the line over its bars.
func (w *Window) showHeard() {
	w.heard = w.session.HeardPassage()
	w.console.update()
	w.strip.update()
	w.grid.repaint()
}
