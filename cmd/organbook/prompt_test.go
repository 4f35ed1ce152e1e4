package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"organbook/internal/player/playertest"
)

// presses is how many keys are pressed for a measurement.
const presses = 24

// BenchmarkWindowSoundOfAKey walks through the bench's alternatives and plays
// keys in the real window, and measures to the sound at the null sink: from the
// press on the screen's keyboard, and from the moment the window has the command.
// Of each it tells the least, the median and the most.
func BenchmarkWindowSoundOfAKey(b *testing.B) {
	if os.Getenv("ORGANBOOK_SOUND_TEST") == "" {
		b.Skip("set ORGANBOOK_SOUND_TEST=1 to play through a sound server")
	}
	d := newDesk(b, screenWidth, screenHeight)
	d.startSound()
	d.traceAnew()
	d.launch(builtProgram(b))
	if buffers := os.Getenv("ORGANBOOK_SOUND_BUFFERS"); buffers != "" { // such as "short"
		d.keys("ctrl+space")
		d.text("sound buffer: " + buffers)
		d.keys("Return")
	}
	l, err := playertest.Listen(d.env, "null0.monitor")
	if err != nil {
		b.Fatal(err)
	}
	defer l.Stop()
	d.keys("Right", "Right")
	k := d.newKeyboard()
	for b.Loop() {
		k.press(symbolControl, true)
		walked := k.pressAndRest(symbolDown)
		k.press(symbolControl, false)
		d.keys("alt+k")
		played := k.pressAndRest('t', 'y')
		d.keys("alt+k")
		given, asked := d.traceTimes("given", "bench.next"), d.traceTimes("asked", "key")
		tell(b, "alternative-from-press", l.Delays(walked, soundWithin))
		tell(b, "of-it-to-the-command", delays(walked, given))
		tell(b, "of-it-to-the-ear", l.Delays(given, soundWithin))
		tell(b, "key-from-press", l.Delays(played, soundWithin))
		tell(b, "of-it-to-the-player", delays(played, asked))
	}
	b.ReportMetric(0, "ns/op")
	sound := d.traced("sound")
	for i, line := range sound { // the last with each buffer of the device
		if next := i + 1; next == len(sound) || bufferOf(line) != bufferOf(sound[next]) {
			b.Log(line)
		}
	}
}

// bufferOf is what a line about the sound tells of the device's buffer.
func bufferOf(line string) string { return line[strings.LastIndexByte(line, ' ')+1:] }

// soundWithin is how long a sound may come after its cause.
const soundWithin = 500 * time.Millisecond

// promptly is how soon a block should be heard, in milliseconds.
const promptly = 15.0

// tell reports delays in milliseconds that are in order, and how many are prompt.
func tell(b *testing.B, what string, ms []float64) {
	if len(ms) < presses/2 {
		b.Fatalf("%s: %d of %d", what, len(ms), presses)
	}
	prompt, _ := slices.BinarySearch(ms, promptly)
	b.Logf("%-25s %5.1f %5.1f %5.1f ms (least, median, most of %d; %d within %g ms)", what, ms[0], ms[len(ms)/2], ms[len(ms)-1], len(ms), prompt, promptly)
	b.ReportMetric(ms[len(ms)/2], "ms/"+what)
}

// delays returns, in milliseconds and in order, how long after each of some
// moments the next of others came.
func delays(from, to []time.Time) (ms []float64) {
	for _, f := range from {
		if i := slices.IndexFunc(to, f.Before); i >= 0 && to[i].Sub(f) < soundWithin {
			ms = append(ms, to[i].Sub(f).Seconds()*1000)
		}
	}
	slices.Sort(ms)
	return ms
}

// traceTimes returns when the window traced a word about something.
func (d *desk) traceTimes(word, about string) (at []time.Time) {
	for _, line := range d.traced(word) {
		var ns int64
		var id string
		if fmt.Sscanf(line, word+" %d %s", &ns, &id); id == about {
			at = append(at, time.Unix(0, ns))
		}
	}
	return at
}

// pressAndRest presses keys in turn, each for as long as a finger does, and waits
// each time until it is quiet again. It returns when it pressed them.
func (k *keyboard) pressAndRest(symbols ...uint32) (at []time.Time) {
	k.t.Helper()
	for i := range presses {
		time.Sleep(1600*time.Millisecond + time.Duration(i*1777)*time.Microsecond) // not in step with anything
		symbol := symbols[i%len(symbols)]
		asked := k.press(symbol, true)
		at = append(at, asked)
		time.Sleep(80 * time.Millisecond)
		k.press(symbol, false)
	}
	time.Sleep(time.Second)
	return at
}
