package main

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"organbook/assets"
	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

// The promises of speed are measured on a chart of 200 bars in a window of this
// size, drawn by software.
const wideScreen, highScreen = 1600, 1000

// longChartFile writes the demo's song over and over, as long as 200 bars.
func (d *desk) longChartFile() string {
	d.t.Helper()
	c, err := assets.Demo()
	if err == nil {
		c, err = projecttest.Repeated(c, 200)
	}
	path := filepath.Join(d.dir, "long.organbook")
	if err == nil {
		err = project.Save(path, c)
	}
	if err != nil {
		d.t.Fatal(err)
	}
	return path
}

// fillScreen makes the window as large as the screen.
func (d *desk) fillScreen() {
	d.t.Helper()
	d.must("xdotool", "windowsize", "--sync", d.window, strconv.Itoa(wideScreen), strconv.Itoa(highScreen))
	d.must("xdotool", "windowmove", d.window, "0", "0")
	d.must("xdotool", "windowfocus", "--sync", d.window)
}

// BenchmarkWindowReady times from starting the process until the first whole
// picture of a 200-bar chart is on the screen.
func BenchmarkWindowReady(b *testing.B) {
	d := newDesk(b, wideScreen, highScreen)
	program, chart := builtProgram(b), d.longChartFile()
	for b.Loop() {
		d.traceAnew()
		c := exec.Command(program, chart)
		c.Env = d.env
		if err := c.Start(); err != nil {
			b.Fatal(err)
		}
		for len(d.traced("ready")) == 0 {
			time.Sleep(time.Millisecond)
		}
		b.StopTimer()
		c.Process.Kill()
		c.Wait()
		b.StartTimer()
	}
}

// BenchmarkWindowEdits gives an edit a time and reports from the command until
// its finished picture is on the screen: arranging anew, layout, painting,
// drawing, the exchange with the screen.
func BenchmarkWindowEdits(b *testing.B) {
	d := newDesk(b, wideScreen, highScreen)
	d.traceAnew()
	d.launch(builtProgram(b), d.longChartFile())
	d.fillScreen()
	d.keys("Right", "Right")
	keys := []string{"alt+Up", "alt+Down"}
	n := 0
	for b.Loop() {
		d.must("xdotool", "key", keys[n%2])
		n++
		d.eventually("the edit is drawn", func() bool { return len(d.traced("drawn")) >= n })
	}
	var took []float64
	for _, line := range d.traced("drawn") {
		ms, err := strconv.ParseFloat(strings.Fields(line)[1], 64)
		if err != nil {
			b.Fatal(err)
		}
		took = append(took, ms)
	}
	slices.Sort(took)
	b.ReportMetric(took[len(took)/2], "ms/edit")
	b.ReportMetric(took[len(took)*95/100], "ms-p95")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkWindowPlays plays a 200-bar chart for 20 seconds and reports the
// processor time as a part of one core, and the memory.
func BenchmarkWindowPlays(b *testing.B) {
	d := newDesk(b, wideScreen, highScreen)
	d.startSound()
	d.traceAnew()
	d.launch(builtProgram(b), d.longChartFile())
	d.fillScreen()
	d.keys("p")
	d.eventually("it plays", func() bool { return d.traceSays("playing=true") })
	time.Sleep(3 * time.Second)
	for b.Loop() {
		before := d.processorTime()
		time.Sleep(20 * time.Second)
		b.ReportMetric((d.processorTime()-before).Seconds()/20*100, "%core")
	}
	b.ReportMetric(float64(d.resident())/1e6, "MB")
	b.ReportMetric(0, "ns/op")
}

// processorTime is what the program has used until now, of all cores.
func (d *desk) processorTime() time.Duration {
	d.t.Helper()
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", d.program.Process.Pid))
	if err != nil {
		d.t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(raw), ") ")
	f := strings.Fields(rest)
	user, _ := strconv.Atoi(f[11])
	system, _ := strconv.Atoi(f[12])
	return time.Duration(user+system) * time.Second / 100 // the kernel counts in hundredths
}

// resident is the memory of the program in bytes.
func (d *desk) resident() int {
	d.t.Helper()
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/statm", d.program.Process.Pid))
	if err != nil {
		d.t.Fatal(err)
	}
	pages, _ := strconv.Atoi(strings.Fields(string(raw))[1])
	return pages * os.Getpagesize()
}

// traceAnew has the program that is started next write a trace, an empty one
// at first.
func (d *desk) traceAnew() {
	d.t.Helper()
	d.traceFile = d.write("trace", "")
	d.env = append(d.env, "ORGANBOOK_TRACE="+d.traceFile)
}

// traced returns the lines of the trace that start with a word.
func (d *desk) traced(word string) []string {
	d.t.Helper()
	f, err := os.Open(d.traceFile)
	if err != nil {
		d.t.Fatal(err)
	}
	defer f.Close()
	var out []string
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), word+" ") {
			out = append(out, lines.Text())
		}
	}
	return out
}

// traceSays reports whether the window's state now has all of some words.
func (d *desk) traceSays(words ...string) bool {
	states := d.traced("state")
	if len(states) == 0 {
		return false
	}
	now := " " + states[len(states)-1] + " "
	for _, w := range words {
		if !strings.Contains(now, " "+w+" ") {
			return false
		}
	}
	return true
}
