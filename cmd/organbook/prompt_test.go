package main

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"organbook/internal/player/playertest"
)

// TestWindowSoundIsPrompt walks through the bench's alternatives and plays a
// key in the real window, and measures to the sound at the null sink: from the
// press outside, a new process that reaches the window by way of the screen,
// and from the moment the window has the command.
func TestWindowSoundIsPrompt(t *testing.T) {
	if os.Getenv("ORGANBOOK_SOUND_TEST") == "" {
		t.Skip("set ORGANBOOK_SOUND_TEST=1 (make test does) to play through a sound server")
	}
	d := newDesk(t, screenWidth, screenHeight)
	d.startSound()
	d.traceAnew()
	d.launch(builtProgram(t))
	if buffers := os.Getenv("ORGANBOOK_SOUND_BUFFERS"); buffers != "" { // such as "short"
		d.keys("ctrl+space")
		d.text("sound buffer: " + buffers)
		d.keys("Return")
	}
	l, err := playertest.Listen(d.env, "null0.monitor")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Stop()
	d.keys("Right", "Right")
	const presses = 8
	walked := d.pressAndRest(presses, "key ctrl+Down")
	d.keys("alt+k")
	// The window takes keys in at its own ticks: a press must outlast one, as any
	// finger's does.
	played := d.pressAndRest(presses, "keydown t sleep 0.08 keyup t", "keydown y sleep 0.08 keyup y")
	within := 500 * time.Millisecond
	tell := func(what string, at []time.Time) {
		ms := l.Delays(at, within)
		if len(ms) < presses/2 {
			t.Errorf("%s: %d sounds of %d heard", what, len(ms), presses)
			return
		}
		t.Logf("%s: %.1f ms (half of the %d), %.1f to %.1f", what, ms[len(ms)/2], len(ms), ms[0], ms[len(ms)-1])
	}
	var taken []time.Time
	for _, line := range d.traced("given") {
		var ns int64
		var id string
		if fmt.Sscanf(line, "given %d %s", &ns, &id); id == "bench.next" {
			taken = append(taken, time.Unix(0, ns))
		}
	}
	tell("an alternative, from the command", taken)
	tell("an alternative, from the press", walked)
	tell("a key, from the press", played)
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
