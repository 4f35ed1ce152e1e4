package player

import (
	"errors"
	"sync"
	"sync/atomic"

	"organbook/internal/arrange"
	"organbook/internal/synth"
)

// OfflineStems renders each division on its own, side by side on as many
// processors as there are. Write receives the sound of a division in order; it
// is called for different divisions at the same time, so it must keep them
// apart. Progress counts the frames of all three and, like Cancelled, is never
// called twice at once. The first failure stops all.
//
// Stems of a clean sound add up to the whole. Drive and limiter act on what
// they hear, so driven stems do so only nearly.
func OfflineStems(r Render, write func(d arrange.Division, stereo []float32) error) error {
	s := stems{r: r, total: synth.Divisions * r.Frames()}
	var failed [synth.Divisions]error
	var wait sync.WaitGroup
	for d := range failed {
		wait.Go(func() {
			if failed[d] = s.render(arrange.Division(d), write); failed[d] != nil {
				s.stop.Store(true)
			}
		})
	}
	wait.Wait()
	return s.outcome(failed)
}

// stems is what the renderings of the divisions share.
type stems struct {
	r     Render
	total int64
	stop  atomic.Bool

	asking sync.Mutex // around Progress and Cancelled
	done   [synth.Divisions]int64
}

func (s *stems) render(d arrange.Division, write func(arrange.Division, []float32) error) error {
	var silent [synth.Divisions]bool
	for other := range silent {
		silent[other] = other != int(d)
	}
	r := s.r
	r.Write = func(x []float32) error { return write(d, x) }
	r.Progress = func(done, _ int64) { s.progress(d, done) }
	r.Cancelled = s.cancelled
	return offline(r, silent)
}

func (s *stems) progress(d arrange.Division, done int64) {
	if s.r.Progress == nil {
		return
	}
	s.asking.Lock()
	defer s.asking.Unlock()
	s.done[d] = done
	s.r.Progress(s.done[0]+s.done[1]+s.done[2], s.total)
}

func (s *stems) cancelled() bool {
	if s.stop.Load() {
		return true
	}
	if s.r.Cancelled == nil {
		return false
	}
	s.asking.Lock()
	defer s.asking.Unlock()
	return s.r.Cancelled()
}

// outcome prefers the failure that made the others stop.
func (s *stems) outcome(failed [synth.Divisions]error) error {
	var first error
	for _, err := range failed {
		if err != nil && (first == nil || errors.Is(first, synth.ErrCancelled)) {
			first = err
		}
	}
	return first
}
