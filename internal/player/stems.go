package player

import (
	"errors"
	"runtime"
	"sync"
	"sync/atomic"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/synth"
)

// Stem is a part of the sound that is rendered on its own.
type Stem struct {
	// Name is "upper" or "bass", say.
	Name string
	// silent are the divisions that are left out, mute the layers.
	silent [synth.Divisions]bool
	mute   perform.LayerSet
}

// DivisionStems are the upper manual, the lower manual and the pedals.
func DivisionStems() []Stem {
	var list []Stem
	for d := range arrange.Division(synth.Divisions) {
		s := Stem{Name: d.String()}
		for other := range s.silent {
			s.silent[other] = other != int(d)
		}
		list = append(list, s)
	}
	return list
}

// LayerStems are the layers that a performance has, in the order of the score.
func LayerStems(p *perform.Performance) []Stem {
	var present perform.LayerSet
	for i := range p.Events {
		if p.Events[i].Kind == perform.KeyDown {
			present = present.With(p.Events[i].Layer, true)
		}
	}
	var list []Stem
	for l := range arrange.LayerHold + 1 {
		if present.Has(l) {
			list = append(list, Stem{Name: l.String(), mute: present.With(l, false)})
		}
	}
	return list
}

// OfflineStems renders each stem on its own, side by side on as many
// processors as there are. Write receives the sound of a stem, by its place in
// the list, in order; it is called for different stems at the same time, so it
// must keep them apart. Progress counts the frames of all and, like Cancelled,
// is never called twice at once. The first failure stops all.
//
// Stems of a clean sound add up to the whole. Drive and limiter act on what
// they hear, so driven stems do so only nearly. Layers that share a manual share
// the noise of its clicks, and a struck accent needs a manual without held
// keys, of which a layer alone has more: there, too, the sum differs.
func OfflineStems(r Render, list []Stem, write func(stem int, stereo []float32) error) error {
	s := stems{r: r, total: int64(len(list)) * r.Frames(), done: make([]int64, len(list))}
	liveFirst.work(func() { // once for all, for it takes a while
		s.r.wheels = synth.NewWheels(r.rate(), float64(float32(r.Performance.Tone.Partials)))
	})
	failed := make([]error, len(list))
	free := make(chan struct{}, max(1, runtime.GOMAXPROCS(0)))
	var wait sync.WaitGroup
	for i := range list {
		wait.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			if failed[i] = s.render(i, &list[i], write); failed[i] != nil {
				s.stop.Store(true)
			}
		})
	}
	wait.Wait()
	return s.outcome(failed)
}

// stems is what the renderings share.
type stems struct {
	r     Render
	total int64
	stop  atomic.Bool

	asking sync.Mutex // around Progress and Cancelled
	done   []int64
	sum    int64
}

func (s *stems) render(i int, stem *Stem, write func(int, []float32) error) error {
	r := s.r
	r.Mute |= stem.mute
	r.Write = func(x []float32) error { return write(i, x) }
	r.Progress = func(done, _ int64) { s.progress(i, done) }
	r.Cancelled = s.cancelled
	return offline(r, stem.silent)
}

func (s *stems) progress(i int, done int64) {
	if s.r.Progress == nil {
		return
	}
	s.asking.Lock()
	defer s.asking.Unlock()
	s.sum += done - s.done[i]
	s.done[i] = done
	s.r.Progress(s.sum, s.total)
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
func (s *stems) outcome(failed []error) error {
	var first error
	for _, err := range failed {
		if err != nil && (first == nil || errors.Is(first, synth.ErrCancelled)) {
			first = err
		}
	}
	return first
}
