package ui

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// TestTheTraceTellsOfTheSound writes the sound's state when it changes and the
// reads as they are.
func TestTheTraceTellsOfTheSound(t *testing.T) {
	var out bytes.Buffer
	tr := &trace{out: &out}
	s := player.Status{Device: true, Late: 2, Starved: 1, Longest: 1500 * time.Microsecond, Waited: 25 * time.Millisecond, Buffers: player.ShortProfile}
	tr.sound(s)
	tr.sound(s)
	s.Lost = 1
	tr.sound(s)
	writeReads(&out, []player.Read{{At: time.Unix(3, 4), Frame: 128, Frames: 64, Sample: -0.25, Took: 7 * time.Microsecond}})
	want := "sound device=true late=2 starved=1 lost=0 longest=1.5 waited=25.0 buffer=10\n" +
		"sound device=true late=2 starved=1 lost=1 longest=1.5 waited=25.0 buffer=10\n" +
		"3000000004 128 64 -0.25 7000\n"
	if out.String() != want {
		t.Errorf("%s\nwant\n%s", out.String(), want)
	}
}

// askedSound answers for what it was asked for before the trace is.
type askedSound struct {
	session.Sound
	out *bytes.Buffer
}

func (s askedSound) Audition(arrange.Division, []int, project.Registration) error {
	s.out.WriteString("sounds ")
	return nil
}

func (s askedSound) Hold(arrange.Division, int, bool) { s.out.WriteString("holds ") }

// TestTheTraceTellsWhenTheSoundWasAsked after it was, and not of releases.
func TestTheTraceTellsWhenTheSoundWasAsked(t *testing.T) {
	var out bytes.Buffer
	s := (&trace{out: &out}).overhear(askedSound{out: &out})
	if err := s.Audition(arrange.Upper, []int{60}, project.Registration{}); err != nil {
		t.Fatal(err)
	}
	s.Hold(arrange.Upper, 60, true)
	s.Hold(arrange.Upper, 60, false)
	words := strings.Fields(out.String())
	if want := []string{"sounds", "asked", "", "block", "holds", "asked", "", "key", "holds"}; len(words) != len(want) ||
		words[0] != want[0] || words[3] != want[3] || words[4] != want[4] || words[7] != want[7] {
		t.Errorf("%q", out.String())
	}
	if quiet := (*trace)(nil).overhear(s); quiet != s {
		t.Error("without a trace something listens")
	}
}
