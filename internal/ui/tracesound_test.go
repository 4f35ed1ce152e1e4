package ui

import (
	"bytes"
	"testing"
	"time"

	"organbook/internal/player"
)

// TestTheTraceTellsOfTheSound writes the sound's state when it changes and the
// reads as they are.
func TestTheTraceTellsOfTheSound(t *testing.T) {
	var out bytes.Buffer
	tr := &trace{out: &out}
	s := player.Status{Device: true, Late: 2, Starved: 1, Longest: 1500 * time.Microsecond, Waited: 25 * time.Millisecond}
	tr.sound(s)
	tr.sound(s)
	s.Lost = 1
	tr.sound(s)
	writeReads(&out, []player.Read{{At: time.Unix(3, 4), Frame: 128, Frames: 64, Sample: -0.25, Took: 7 * time.Microsecond}})
	want := "sound device=true late=2 starved=1 lost=0 longest=1.5 waited=25.0\n" +
		"sound device=true late=2 starved=1 lost=1 longest=1.5 waited=25.0\n" +
		"3000000004 128 64 -0.25 7000\n"
	if out.String() != want {
		t.Errorf("%s\nwant\n%s", out.String(), want)
	}
}
