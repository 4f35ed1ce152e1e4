package main

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"organbook/internal/player/playertest"
)

// BenchmarkWindowSoundOfAKey walks through the bench's alternatives and plays
// keys in the real window, and measures to the sound at the null sink: from the
// press outside, a new process that reaches the window by way of the screen,
// and from the moment the window has the command.
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
	const presses = 8
	tell := func(what string, at []time.Time) {
		ms := l.Delays(at, 500*time.Millisecond)
		if len(ms) < presses/2 {
			b.Fatalf("%s: %d sounds of %d heard", what, len(ms), presses)
		}
		b.ReportMetric(ms[len(ms)/2], "ms/"+what)
	}
	for b.Loop() {
		walked := d.pressAndRest(presses, "key ctrl+Down")
		d.keys("alt+k")
		// The window takes keys in at its own ticks: a press must outlast one, as any
		// finger's does.
		played := d.pressAndRest(presses, "keydown t sleep 0.08 keyup t", "keydown y sleep 0.08 keyup y")
		d.keys("alt+k")
		tell("alternative-from-command", d.given("bench.next"))
		tell("alternative-from-press", walked)
		tell("key-from-press", played)
	}
	b.ReportMetric(0, "ns/op")
}

// given returns when the window was given a command.
func (d *desk) given(command string) (at []time.Time) {
	for _, line := range d.traced("given") {
		var ns int64
		var id string
		if fmt.Sscanf(line, "given %d %s", &ns, &id); id == command {
			at = append(at, time.Unix(0, ns))
		}
	}
	return at
}

// pressAndRest presses keys in turn, each told in xdotool's words, and waits each
// time until it is quiet again. It returns when it did.
func (d *desk) pressAndRest(times int, presses ...string) (at []time.Time) {
	for i := range times {
		time.Sleep(2500 * time.Millisecond)
		at = append(at, time.Now())
		d.must("xdotool", strings.Fields(presses[i%len(presses)])...)
	}
	time.Sleep(time.Second)
	return at
}
