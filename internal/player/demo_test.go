package player

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"organbook/assets"
	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/synth"
)

// soundMinutesEnv makes the long run of this many minutes part of the sound
// tests.
const soundMinutesEnv = "ORGANBOOK_SOUND_MINUTES"

// demo performs the first bars of the demo chart; 0 is all.
func demo(bars int) (*perform.Performance, error) {
	c, err := assets.Demo()
	if err != nil {
		return nil, err
	}
	return perform.Perform(arrange.Realise(c, arrange.Options{}), perform.Options{ToBar: bars})
}

// demoBars is how much of the demo is compared with the offline rendering.
const demoBars = 16

// demoReport is what the process that plays the demo tells.
type demoReport struct {
	Status Status
	// Began is the frame of the stream at which the first bar began.
	Began int64
	// Heap and Resident are bytes after each sixth of the time.
	Heap, Resident []uint64
}

// playDemo plays the demo for the recorder, or in a loop for some minutes, and
// writes its report to standard output.
func playDemo(minutes float64) error {
	perf, err := demo(demoBars)
	if err != nil {
		return err
	}
	p := New(Options{Profile: PlaybackProfile})
	defer p.Close()
	for !p.Status().Settled {
		time.Sleep(10 * time.Millisecond)
	}
	p.Load(perf)
	length := perf.Duration + 0.5
	if minutes > 0 {
		length = minutes * 60
		p.SetLoop(0, perf.Duration, true)
	}
	time.Sleep(500 * time.Millisecond) // the device's own start
	var r demoReport
	late := p.Status().Late
	p.Play(0)
	for range 6 {
		watchCursor(p, length/6)
		r.measureMemory()
	}
	r.Status = p.Status()
	r.Status.Late -= late
	for i := range p.transport.timeline.moments {
		m := &p.transport.timeline.moments[i]
		if m.moving.Load() && m.cursor.Load() == 0 && r.Began == 0 {
			r.Began = m.stream.Load()
		}
	}
	return json.NewEncoder(os.Stdout).Encode(r)
}

// watchCursor asks for the position thirty times a second, as a window does.
func watchCursor(p *Player, seconds float64) {
	for end := time.Now().Add(time.Duration(seconds * float64(time.Second))); time.Now().Before(end); {
		p.Position()
		p.Level()
		time.Sleep(33 * time.Millisecond)
	}
}

func (r *demoReport) measureMemory() {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	r.Heap = append(r.Heap, m.HeapAlloc)
	var pages uint64
	if raw, err := os.ReadFile("/proc/self/statm"); err == nil {
		fmt.Sscan(strings.Fields(string(raw))[1], &pages)
	}
	r.Resident = append(r.Resident, pages*uint64(os.Getpagesize()))
}

// TestSoundOfTheDemoEqualsOffline records the demo's first bars and compares
// them with what the same events give offline, sample for sample.
func TestSoundOfTheDemoEqualsOffline(t *testing.T) {
	needSoundServer(t)
	for range 3 {
		server := startServer(t)
		recording := server.record(t)
		var r demoReport
		server.play(t, "demo", &r)
		if !r.Status.Device {
			t.Fatalf("no device: %s", r.Status.Err)
		}
		time.Sleep(200 * time.Millisecond)
		want := demoOffline(t, r.Began)
		residual, frames := residualOf(readFloats(t, recording), want)
		t.Logf("residual %.1f dB over %.1f s; %d late reads", residual, float64(frames)/second, r.Status.Late)
		if residual < -60 && float64(frames) > 0.98*float64(len(want)/2) {
			return
		}
	}
	t.Error("no recording equals the offline rendering")
}

// demoOffline renders what is played when the score begins at a frame of the
// stream.
func demoOffline(t *testing.T, began int64) []float32 {
	t.Helper()
	perf, err := demo(demoBars)
	if err != nil {
		t.Fatal(err)
	}
	s := newScore(perf, sampleRate)
	events := make([]synth.Event, len(s.events))
	for i, n := range s.events {
		events[i] = n.Event
		events[i].Frame += began
	}
	var out []float32
	err = synth.Offline(synth.Job{Config: synth.DefaultConfig(), Events: events, Frames: began + s.frames,
		Write: func(x []float32) error { out = append(out, x...); return nil }})
	if err != nil {
		t.Fatal(err)
	}
	return out[2*began:]
}

// residualOf aligns a recording with what it should be and returns the level
// of the difference against that of the sound, and over how many frames.
func residualOf(got, want []float32) (db float64, frames int) {
	first := func(x []float32) int {
		for i := 0; i < len(x)/2; i++ {
			if math.Abs(float64(x[2*i])) > 1e-3 {
				return i
			}
		}
		return 0
	}
	db = math.Inf(1)
	for lag := -50; lag <= 50; lag++ {
		from := first(got) - first(want) + lag
		if from < 0 {
			continue
		}
		n := min(len(got)/2-from, len(want)/2)
		var off, all float64
		for i := range 2 * n {
			d := float64(got[2*from+i] - want[i])
			off += d * d
			all += float64(want[i]) * float64(want[i])
		}
		if r := 10 * math.Log10((off+1e-30)/all); r < db {
			db, frames = r, n
		}
	}
	return db, frames
}

// TestSoundForMinutes plays the demo round and round. It runs where
// ORGANBOOK_SOUND_MINUTES says for how long.
func TestSoundForMinutes(t *testing.T) {
	needSoundServer(t)
	minutes := os.Getenv(soundMinutesEnv)
	if _, err := strconv.ParseFloat(minutes, 64); err != nil {
		t.Skipf("set %s=10 to play for ten minutes", soundMinutesEnv)
	}
	var r demoReport
	startServer(t).play(t, "demo "+minutes, &r)
	t.Logf("%s minutes: %d late reads, the longest took %v, heap %d, resident %d",
		minutes, r.Status.Late, r.Status.Longest, r.Heap, r.Resident)
	// A busy machine may keep any program waiting; what is ours is how long
	// rendering takes.
	if !r.Status.Device || r.Status.Longest > PlaybackProfile.Device {
		t.Errorf("status at the end %+v", r.Status)
	}
	last := len(r.Heap) - 1
	if r.Heap[last] > r.Heap[0]+1<<20 || r.Resident[last] > r.Resident[0]+8<<20 {
		t.Errorf("memory grows: heap %d, resident %d", r.Heap, r.Resident)
	}
}

func needSoundServer(t *testing.T) {
	t.Helper()
	if os.Getenv(soundTestEnv) != "1" {
		t.Skipf("set %s=1 to play through a private sound server", soundTestEnv)
	}
	for _, tool := range []string{"pulseaudio", "parec", "pactl"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed", tool)
		}
	}
}
