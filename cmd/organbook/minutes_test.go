package main

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// soundMinutesEnv is for how many minutes the window plays.
const soundMinutesEnv = "ORGANBOOK_SOUND_MINUTES"

// longRun is a window that plays while everything around it is watched: what
// it gave the device, what a recorder heard of it, what a recorder heard of a
// plain player beside it on the same sound server, and how long the system
// kept any of them waiting for a processor.
type longRun struct {
	desk           *desk
	server         *exec.Cmd
	heard, control *recorder
	reads          []given
	machine        *machine
	resident       []int
}

// TestWindowPlaysForMinutes plays the demo in a loop in the real window where
// ORGANBOOK_SOUND_MINUTES says for how long. It fails on gaps that the program
// has caused, and on memory that grows. A gap is the program's unless the plain
// player had one at the same time, or somebody on the way had to wait for a
// processor for as long.
func TestWindowPlaysForMinutes(t *testing.T) {
	if os.Getenv("ORGANBOOK_SOUND_TEST") == "" {
		t.Skip("set ORGANBOOK_SOUND_TEST=1 to play through a sound server")
	}
	text := os.Getenv(soundMinutesEnv)
	if text == "" {
		t.Skipf("set %s=10 to play for ten minutes", soundMinutesEnv)
	}
	minutes, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%s: %v", soundMinutesEnv, err)
	}
	length := time.Duration(minutes * float64(time.Minute))
	r := startLongRun(t, length)
	r.play(length)
	r.judge(length)
}

func startLongRun(t *testing.T, length time.Duration) *longRun {
	d := newDesk(t, screenWidth, screenHeight)
	r := &longRun{desk: d}
	r.server = d.startSound("load-module module-null-sink sink_name=null1 format=s16le rate=48000 channels=1 norewinds=1\n")
	r.startControl(length + time.Minute)
	d.traceAnew()
	d.env = append(d.env, "ORGANBOOK_TRACE_READS="+filepath.Join(d.dir, "reads"))
	d.launch(builtProgram(t))
	return r
}

// startControl has a plain player play a count that never rests to a second
// sink, with buffers as long as the program's in all.
func (r *longRun) startControl(length time.Duration) {
	d := r.desk
	r.control = d.recordFrom("null1.monitor", "s16le", 1)
	count := make([]byte, 2*int(length.Seconds()*48000))
	for i := 0; i < len(count); i += 2 {
		binary.LittleEndian.PutUint16(count[i:], uint16(i/2%countTop)+1)
	}
	path := d.write("count.raw", string(count))
	d.start(exec.Command("pacat", "--raw", "--latency-msec=42", "--process-time-msec=10", "-d", "null1", "--format=s16le", "--rate=48000", "--channels=1", path))
}

// play records the demo for some time.
func (r *longRun) play(length time.Duration) {
	d := r.desk
	d.t.Helper()
	d.eventually("there is sound", func() bool { return len(d.traced("sound")) > 0 })
	r.heard = d.recordFrom("null0.monitor", "float32le", 2)
	r.machine = watchMachine(map[string]int{
		"the program": d.program.Process.Pid, "the sound server": r.server.Process.Pid,
		"the recorder": r.heard.cmd.Process.Pid,
	})
	d.keys("ctrl+a", "l", "Home", "p")
	d.eventually("it plays in a loop", func() bool { return d.traceSays("playing=true", "loop=true") })
	for began := time.Now(); time.Since(began) < length; time.Sleep(min(5*time.Second, length/16)) {
		r.resident = append(r.resident, d.resident())
	}
	if !d.traceSays("playing=true") {
		d.t.Error("it has stopped playing")
	}
	d.shot("played")
	r.machine.end()
	r.heard.stop()
	r.control.stop()
	time.Sleep(200 * time.Millisecond) // the trace catches up
	r.reads = readGiven(d.t, filepath.Join(d.dir, "reads"))
}

func (r *longRun) judge(length time.Duration) {
	t := r.desk.t
	t.Helper()
	sounds := r.desk.traced("sound")
	t.Logf("the program: %s", sounds[len(sounds)-1])
	for _, who := range []string{"the program", "the sound server", "the recorder"} {
		t.Logf("%s waited for a processor: %s", who, r.machine.distribution(who))
	}
	control := findSteps(readShorts(t, r.control.path), r.control.began)
	gaps, agreed := findGaps(readLeft(t, r.heard.path), r.reads)
	t.Logf("%.1f s of the recording are what was given to the sample, %d gaps in it, %d in the plain player's", float64(agreed)/48000, len(gaps), len(control))
	ours, lost := 0, 0
	for i, g := range gaps {
		why, own := r.cause(g, control)
		if own {
			ours++
		}
		lost += max(g.inserted, -g.inserted, g.zeros)
		if own || i < 40 {
			t.Logf("gap at %.3f s (%s): %d frames too many, %d silent, device did not ask for %.1f ms: %s",
				g.second, g.at.Format("15:04:05.000"), g.inserted, g.zeros, float64(g.waited.Microseconds())/1000, why)
		}
	}
	if ours > 0 {
		t.Errorf("%d of %d gaps are the program's", ours, len(gaps))
	}
	slow := r.slow()
	for _, s := range slow[:min(len(slow), 20)] {
		t.Log(s)
	}
	if len(slow) > 0 {
		t.Errorf("%d times the program was late with the sound by itself", len(slow))
	}
	if placed := float64(agreed+lost) / 48000; placed < 0.9*length.Seconds()-1 {
		t.Errorf("only %.1f s of the recording can be laid against what was given", placed)
	}
	r.judgeMemory()
}

// kept is how long somebody must have waited for a processor at least to have
// caused a gap, and as long as the gap itself.
const kept = 0.008

// cause tells where a gap comes from, and whether from the program itself.
func (r *longRun) cause(g gap, control []gap) (why string, ours bool) {
	length := max(g.inserted, -g.inserted, g.zeros)
	near := around/2 + time.Duration(length)*time.Second/48000
	var all []string
	for _, c := range control {
		if d := c.at.Sub(g.at); d > -near && d < near {
			all = append(all, "the plain player had one, too")
			break
		}
	}
	for _, w := range r.machine.between(g.at.Add(-near), g.at.Add(near)) {
		if w.seconds >= max(kept, float64(length)/48000) {
			all = append(all, fmt.Sprintf("%s waited %.1f ms for a processor", w.who, 1000*w.seconds))
		}
	}
	if len(all) == 0 {
		return "nobody had to wait", true
	}
	return strings.Join(all, ", "), false
}

// excuses are what can hold up a rendering that is quick in itself: the program
// was kept waiting for a processor, or the whole machine stood still, as the test
// noticed by its own sleep or the system by its count.
var excuses = []string{"the program", "the test itself", "the machine for its host"}

// slow returns the renderings that took longer than the waits of their time
// explain, whether or not a gap came of them: a buffer may have covered for it.
func (r *longRun) slow() (list []string) {
	for _, read := range r.reads {
		if read.took.Seconds() < kept {
			continue
		}
		excuse := 0.0
		for _, w := range r.machine.between(read.at, r.machine.lookedAfter(read.at.Add(read.took))) {
			if slices.Contains(excuses, w.who) {
				excuse = max(excuse, w.seconds)
			}
		}
		if own := read.took.Seconds() - excuse; own >= kept {
			list = append(list, fmt.Sprintf("the read at %s took %.1f ms, %.1f more than anything had to wait",
				read.at.Format("15:04:05.000"), 1000*read.took.Seconds(), 1000*own))
		}
	}
	return list
}

func TestSlowRenderingHasCauses(t *testing.T) {
	now := time.Now()
	during := now.Add(lookEvery)
	for _, c := range []struct {
		what   string
		took   time.Duration
		waited look
		slow   bool
	}{
		{"quick", 5 * time.Millisecond, look{at: during}, false},
		{"slow by itself", 80 * time.Millisecond, look{at: during}, true},
		{"slow though nearly nobody waited", 80 * time.Millisecond, look{at: during, waited: map[string]float64{"the program": 0.02}}, true},
		{"the program waited", 80 * time.Millisecond, look{at: during, waited: map[string]float64{"the program": 0.078}}, false},
		{"the recorder waited", 80 * time.Millisecond, look{at: during, waited: map[string]float64{"the recorder": 0.078}}, true},
		{"the machine stood still", 80 * time.Millisecond, look{at: during, overslept: 0.075}, false},
		{"the look came late", 80 * time.Millisecond, look{at: now.Add(time.Second), waited: map[string]float64{"the program": 0.078}}, false},
		{"somebody waited before", 80 * time.Millisecond, look{at: now.Add(-time.Millisecond), overslept: 0.075}, true},
	} {
		r := &longRun{machine: &machine{looks: []look{c.waited}}, reads: []given{{at: now, took: c.took}}}
		if list := r.slow(); len(list) > 0 != c.slow {
			t.Errorf("%s: %v", c.what, list)
		}
	}
}

func TestGapsHaveCauses(t *testing.T) {
	now := time.Now()
	busy := &machine{looks: []look{
		{at: now, waited: map[string]float64{"the sound server": 0.03}},
		{at: now.Add(10 * time.Second), waited: map[string]float64{"the sound server": 0.001}},
	}}
	beside := []gap{{at: now.Add(20*time.Second + 50*time.Millisecond)}}
	for _, c := range []struct {
		what string
		gap  gap
		ours bool
	}{
		{"the server waited", gap{at: now, inserted: 960, zeros: 960}, false},
		{"it waited for less than the gap", gap{at: now, inserted: 4800, zeros: 4800}, true},
		{"it hardly waited", gap{at: now.Add(10 * time.Second), inserted: 20}, true},
		{"the plain player, too", gap{at: now.Add(20 * time.Second), zeros: 500}, false},
		{"nobody waited", gap{at: now.Add(30 * time.Second), inserted: -500}, true},
	} {
		if why, ours := (&longRun{machine: busy}).cause(c.gap, beside); ours != c.ours {
			t.Errorf("%s: ours is %v: %s", c.what, ours, why)
		}
	}
}

// memorySlack is how much the resident memory may differ between the second
// and the last quarter of the time.
const memorySlack = 8 << 20

func (r *longRun) judgeMemory() {
	t := r.desk.t
	t.Helper()
	n := len(r.resident) / 4
	if n == 0 {
		t.Fatal("memory was not looked at")
	}
	median := func(x []int) int {
		x = slices.Sorted(slices.Values(x))
		return x[len(x)/2]
	}
	early, late := median(r.resident[n:2*n]), median(r.resident[len(r.resident)-n:])
	t.Logf("resident memory: %d MB in the second quarter, %d MB in the last, greatest %d MB", early>>20, late>>20, slices.Max(r.resident)>>20)
	if late > early+memorySlack {
		t.Errorf("memory grows: %v", r.resident)
	}
}

func readShorts(t testing.TB, path string) []int16 {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	x := make([]int16, len(raw)/2)
	for i := range x {
		x[i] = int16(binary.LittleEndian.Uint16(raw[2*i:]))
	}
	return x
}

// readLeft reads the left channel of a recording.
func readLeft(t testing.TB, path string) []float32 {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float32, len(raw)/8)
	for i := range x {
		x[i] = math.Float32frombits(binary.LittleEndian.Uint32(raw[8*i:]))
	}
	return x
}
