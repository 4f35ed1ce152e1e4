package player

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"slices"
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
	// Waits are the times, 99 % and greatest, in seconds, that a goroutine that
	// could run had to wait for a thread, and Pauses the same of the
	// collector's stops. Queued is how long the system kept threads of the
	// program waiting for a processor, in all; below zero where it does not
	// tell.
	Waits, Pauses [2]float64
	Queued        float64
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
	p := New(Options{Profile: SafeProfile})
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
	r.Queued = queued()
	r.Waits, r.Pauses = tail("/sched/latencies:seconds"), tail("/sched/pauses/total/gc:seconds")
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
// them with what the same events give offline, sample for sample. Where the
// machine has kept the sound waiting, the recording has a gap; what is around it
// must agree all the same.
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
		want := leftOf(demoOffline(t, r.Began))
		agreed, gaps, residual := agreement(leftOf(readFloats(t, recording)), want)
		t.Logf("%.1f of %.1f s agree, residual %.1f dB; %d gaps, %d late reads",
			float64(agreed)/second, float64(len(want))/second, residual, gaps, r.Status.Late)
		if float64(agreed) > 0.9*float64(len(want)) {
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
	err = synth.Offline(synth.Job{Config: configured(synth.DefaultConfig(), perf.Tone), Events: events, Frames: began + s.frames,
		Write: func(x []float32) error { out = append(out, x...); return nil }})
	if err != nil {
		t.Fatal(err)
	}
	return out[2*began:]
}

// leftOf returns the left channel.
func leftOf(stereo []float32) []float32 {
	left := make([]float32, len(stereo)/2)
	for i := range left {
		left[i] = stereo[2*i]
	}
	return left
}

// Two stretches agree where no sample differs by more than near, −60 dB of a
// loud sample. sure is how many frames must agree to find a place.
const (
	near = 1e-4
	sure = second / 100
)

// agreement lays a recording against what it should be, and again after each
// gap. It returns how many frames agree, and the level of their difference
// against that of the sound in dB.
func agreement(got, want []float32) (agreed, gaps int, residual float64) {
	var off, all float64
	g, w, ok := resume(got, want, 0, firstHeard(want))
	for ok {
		for g < len(got) && w < len(want) && math.Abs(float64(got[g]-want[w])) < near {
			d := float64(got[g] - want[w])
			off += d * d
			all += float64(want[w]) * float64(want[w])
			g, w, agreed = g+1, w+1, agreed+1
		}
		if g == len(got) || w == len(want) {
			break
		}
		gaps++
		g, w, ok = resume(got, want, g, w)
	}
	return agreed, gaps, 10 * math.Log10((off+1e-30)/(all+1e-30))
}

// resume looks for the place from which the recording goes on after silence was
// put in before g, or sound from w on was lost, up to two seconds each, and
// longer at the beginning.
func resume(got, want []float32, g, w int) (nextG, nextW int, ok bool) {
	farthest := 2 * second
	if g == 0 {
		farthest = len(got)
	}
	for d := range farthest {
		if agrees(got, want, g+d, w) {
			return g + d, w, true
		}
	}
	for d := range farthest {
		if agrees(got, want, g, w+d) {
			return g, w + d, true
		}
	}
	return 0, 0, false
}

// agrees reports whether enough frames agree from two places on.
func agrees(got, want []float32, g, w int) bool {
	if g+sure > len(got) || w+sure > len(want) {
		return false
	}
	for i := range sure {
		if math.Abs(float64(got[g+i]-want[w+i])) >= near {
			return false
		}
	}
	return true
}

// firstHeard is the first frame that is surely sound.
func firstHeard(x []float32) int {
	for i, v := range x {
		if math.Abs(float64(v)) > 10*near {
			return i
		}
	}
	return 0
}

// TestAgreement lays sounds with known gaps against the whole.
func TestAgreement(t *testing.T) {
	want := make([]float32, 3*second)
	for i := range want {
		want[i] = float32(0.2 * math.Sin(float64(i)*0.061+float64(i)*float64(i)*1e-7))
	}
	silence := make([]float32, 1000)
	join := func(parts ...[]float32) []float32 { return slices.Concat(parts...) }
	for _, c := range []struct {
		what  string
		got   []float32
		least int
		gaps  int
	}{
		{"whole", join(silence, want), len(want) - 1, 0},
		{"silence put in", join(silence, want[:second], silence, want[second:]), len(want) - 1, 1},
		{"sound lost", join(silence, want[:second], want[second+1000:]), len(want) - 1000 - sure, 1},
		{"another sound", join(silence, silence), 0, 0},
	} {
		agreed, gaps, _ := agreement(c.got, want)
		if agreed < c.least || agreed > c.least+sure || gaps != c.gaps {
			t.Errorf("%s: %d frames agree, %d gaps, want %d and %d", c.what, agreed, gaps, c.least, c.gaps)
		}
	}
	wrong := slices.Clone(want)
	for i := range wrong {
		wrong[i] *= 0.99
	}
	if agreed, _, _ := agreement(wrong, want); agreed > second {
		t.Errorf("a softer sound agrees for %d frames", agreed)
	}
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
	t.Logf("%s minutes: %d late reads, %d of them gaps, the longest took %v, heap %d, resident %d",
		minutes, r.Status.Late, r.Status.Starved, r.Status.Longest, r.Heap, r.Resident)
	t.Logf("waits for a thread: 99 %% under %.1f ms, greatest %.1f ms; stops of the collector: %.2f and %.2f ms; threads waited %.1f s for a processor",
		1000*r.Waits[0], 1000*r.Waits[1], 1000*r.Pauses[0], 1000*r.Pauses[1], r.Queued)
	// A busy machine may keep any program waiting; what is ours is how long
	// rendering takes, and that nothing of the program keeps the device waiting
	// on a machine that is not: gaps count where the system did not keep the
	// program's threads waiting for as long as the buffers of all gaps last.
	buffers := SafeProfile.Device.Seconds() + float64(SafeProfile.Buffer)/sampleRate
	if r.Queued >= 0 && r.Queued < buffers*float64(r.Status.Starved) {
		t.Errorf("%d gaps though the threads waited only %.2f s for a processor", r.Status.Starved, r.Queued)
	}
	if !r.Status.Device || r.Status.Longest > SafeProfile.Device {
		t.Errorf("status at the end %+v", r.Status)
	}
	last := len(r.Heap) - 1
	if r.Heap[last] > r.Heap[0]+1<<20 || r.Resident[last] > r.Resident[0]+8<<20 {
		t.Errorf("memory grows: heap %d, resident %d", r.Heap, r.Resident)
	}
}

// queued returns how long the system has kept the threads of this program
// waiting for a processor.
func queued() (seconds float64) {
	tasks, err := filepath.Glob("/proc/self/task/*/schedstat")
	if err != nil || len(tasks) == 0 {
		return -1
	}
	for _, name := range tasks {
		var ran, waited float64
		if raw, err := os.ReadFile(name); err == nil {
			fmt.Sscan(string(raw), &ran, &waited)
			seconds += waited / 1e9
		}
	}
	return seconds
}

// tail returns where 99 % of a distribution of the runtime lie under, and its
// greatest.
func tail(name string) (t [2]float64) {
	sample := []metrics.Sample{{Name: name}}
	metrics.Read(sample)
	h := sample[0].Value.Float64Histogram()
	total := uint64(0)
	for _, n := range h.Counts {
		total += n
	}
	seen := uint64(0)
	for i, n := range h.Counts {
		if seen += n; n == 0 {
			continue
		}
		t[1] = h.Buckets[i]
		if seen <= total/100*99 || t[0] == 0 {
			t[0] = h.Buckets[i]
		}
	}
	return t
}

func needSoundServer(t testing.TB) {
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
