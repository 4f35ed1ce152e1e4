package player

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"sync/atomic"
	"testing"
	"time"
)

// What an export on all processors does to the sound that plays beside it.

// besidePhase is some seconds of playing beside something.
type besidePhase struct {
	What          string
	Late, Starved int
	// Pause is the time between two reads, 99.9 % under and greatest, in ms.
	Pause [2]float64
	// Speed is how many times faster than it sounds the export went.
	Speed float64
}

const besideSeconds = 8

// playBeside plays the demo in a loop through the sound card, alone and beside
// exports, and writes what that did to standard output.
func playBeside() {
	perf, err := demo(demoBars)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	p := New(Options{Profile: ShortProfile})
	defer p.Close()
	for !p.Status().Settled {
		time.Sleep(10 * time.Millisecond)
	}
	p.WatchReads()
	p.Load(perf)
	p.SetLoop(0, perf.Duration, true)
	p.Play(0)
	time.Sleep(time.Second)
	var phases []besidePhase
	drop := func([]float32) error { return nil }
	for _, phase := range []struct {
		what   string
		export func(Render) error
	}{
		{"alone", nil},
		{"a file", func(r Render) error { r.Write = drop; return Offline(r) }},
		{"stems", func(r Render) error {
			return OfflineStems(r, DivisionStems(), func(int, []float32) error { return nil })
		}},
	} {
		phases = append(phases, p.beside(phase.what, func(cancelled func() bool) (seconds float64) {
			if phase.export == nil {
				return 0
			}
			for !cancelled() {
				// Cancelled renderings count for what they have done.
				last := int64(0)
				phase.export(Render{Performance: perf, Cancelled: cancelled, Progress: func(done, _ int64) { last = done }})
				seconds += float64(last) / sampleRate
			}
			return seconds
		}))
	}
	json.NewEncoder(os.Stdout).Encode(phases)
}

// beside plays on while something else goes on, and looks at the reads.
func (p *Player) beside(what string, export func(cancelled func() bool) float64) besidePhase {
	before := p.Status()
	list := make([]Read, readsRoom)
	p.TakeReads(list)
	var stop atomic.Bool
	done := make(chan float64)
	go func() { done <- export(stop.Load) }()
	var pauses []float64
	var last time.Time
	for end := time.Now().Add(besideSeconds * time.Second); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		for _, r := range list[:p.TakeReads(list)] {
			if !last.IsZero() {
				pauses = append(pauses, 1000*r.At.Sub(last).Seconds())
			}
			last = r.At
		}
	}
	stop.Store(true)
	rendered := <-done
	after := p.Status()
	slices.Sort(pauses)
	n := len(pauses)
	return besidePhase{what, after.Late - before.Late, after.Starved - before.Starved,
		[2]float64{pauses[n*999/1000], pauses[n-1]}, rendered / besideSeconds}
}

// TestSoundBesideAnExport plays through a null sink while the same process
// exports: on a machine that is quick enough for the sound alone, exports must
// not make it late.
func TestSoundBesideAnExport(t *testing.T) {
	needSoundServer(t)
	var phases []besidePhase
	startServer(t).play(t, "beside", &phases)
	for _, p := range phases {
		t.Logf("beside %s: %d late reads, %d of them gaps, 99.9 %% of pauses under %.1f ms, longest %.1f ms, exported at %.0f times real time",
			p.What, p.Late, p.Starved, p.Pause[0], p.Pause[1], p.Speed)
	}
	if phases[0].Late > 0 {
		t.Skip("the machine is too busy for the sound alone")
	}
	for _, p := range phases[1:] {
		if p.Late > 1 || p.Starved > 0 {
			t.Errorf("%s keeps the sound waiting", p.What)
		}
		if p.Speed < 10 {
			t.Errorf("%s gets hardly anything done", p.What)
		}
	}
}
