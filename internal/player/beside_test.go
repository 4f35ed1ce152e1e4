package player

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
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

// BenchmarkSoundBesideExports plays through a null sink while the same process
// exports, and reports for each of the phases the late reads, the pauses between
// reads under which 99.9 % lie, the longest, and how many times faster than it
// sounds the export went. What other programs take of the machine is in it.
func BenchmarkSoundBesideExports(b *testing.B) {
	needSoundServer(b)
	for b.Loop() {
		var phases []besidePhase
		startServer(b).play(b, "beside", &phases)
		for _, p := range phases {
			what := strings.ReplaceAll(p.What, " ", "-")
			b.ReportMetric(float64(p.Late), "late/"+what)
			b.ReportMetric(p.Pause[0], "ms-p99.9/"+what)
			b.ReportMetric(p.Pause[1], "ms-longest/"+what)
			b.ReportMetric(p.Speed, "×realtime/"+what)
		}
	}
	b.ReportMetric(0, "ns/op")
}
