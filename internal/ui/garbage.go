package ui

import (
	"runtime"
	"runtime/metrics"
	"sync/atomic"

	"fyne.io/fyne/v2"
)

// garbage has the memory that edits leave behind collected when a picture is
// finished and nobody waits. Left to itself the collector sets out in the
// middle of every sixth edit or so, on a core that the edit needs: those were
// the slowest.
type garbage struct {
	samples  [3]metrics.Sample
	sweeping atomic.Bool
}

// due is the part of the memory left until the collector would set out by
// itself, at which it is sent: so late that it seldom runs, early enough for
// the next edit to fit in.
const due = 0.6

func newGarbage() *garbage {
	g := &garbage{}
	for i, name := range []string{"/gc/heap/live:bytes", "/memory/classes/heap/objects:bytes", "/gc/heap/goal:bytes"} {
		g.samples[i].Name = name
	}
	return g
}

// isDue reports whether it is time, with so many bytes that were in use after
// the last collection, that are taken now, and at which the collector would
// set out.
func isDue(live, taken, goal uint64) bool {
	return goal > live && taken > live && float64(taken-live) > due*float64(goal-live)
}

// collect collects beside the window's goroutine, if it is time.
func (g *garbage) collect() {
	metrics.Read(g.samples[:])
	if !isDue(g.samples[0].Value.Uint64(), g.samples[1].Value.Uint64(), g.samples[2].Value.Uint64()) || !g.sweeping.CompareAndSwap(false, true) {
		return
	}
	go func() {
		runtime.GC()
		g.sweeping.Store(false)
	}()
}

// tidyUp collects garbage after the frame that is drawn next.
func (w *Window) tidyUp() {
	if w.opts.post == nil {
		fyne.Do(w.garbage.collect)
	}
}
