package session

import (
	"fmt"
	"strings"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// TestTheCursorStandsWhileTheCountInRuns counts two bars before beat three of the
// second bar: two bars of clicks and the two beats that lie before it.
func TestTheCursorStandsWhileTheCountInRuns(t *testing.T) {
	s, e := fresh(t, "C")
	write(t, s, "1cde2fg")
	s.SetCountIn(2)
	from := project.Whole + 2*project.Quarter
	s.SetCaret(from)
	if err := s.TogglePlay(); err != nil {
		t.Fatal(err)
	}
	begins := e.seconds
	// What was played before is still heard somewhere else.
	e.seconds = begins + 1
	s.Cursor()
	if _, _, ok := s.Counted(); ok {
		t.Error("counted before a click was heard")
	}
	const beat = 0.5 // seconds at 120
	var got []string
	for k := 10; k > 0; k-- {
		e.seconds = begins - (float64(k)-0.1)*beat
		if at, playing := s.Cursor(); at != from || !playing {
			t.Errorf("%d beats before, the cursor stands at %d", k, at)
		}
		bar, n, ok := s.Counted()
		got = append(got, fmt.Sprintf("%d.%d", bar, n))
		if !ok {
			t.Errorf("%d beats before, nothing is counted", k)
		}
	}
	if want := "-2.1 -2.2 -2.3 -2.4 -1.1 -1.2 -1.3 -1.4 0.1 0.2"; strings.Join(got, " ") != want {
		t.Errorf("counted %v, want %s", got, want)
	}
	e.seconds = begins + 1.1*beat
	at, _ := s.Cursor()
	if _, _, ok := s.Counted(); ok || at <= from {
		t.Errorf("after the count-in the cursor stands at %d", at)
	}
	e.seconds = begins - beat // a loop has gone round
	if at, _ := s.Cursor(); at >= from {
		t.Error("the count-in is over and counts again")
	}
}

// TestNextIsWhatTheHandsStrikeNext plays two bars with a repeat, a rest in them, and
// again in a loop.
func TestNextIsWhatTheHandsStrikeNext(t *testing.T) {
	s, e := fresh(t, "C")
	if err := s.SetChordText(0, "C6"); err != nil {
		t.Fatal(err)
	}
	write(t, s, "2c eg")
	for range 6 {
		if err := s.RemoveBars(); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(s.Chart().Bars); n != 2 {
		t.Fatalf("%d bars", n)
	}
	s.SetCaret(project.Whole)
	if err := s.ToggleRepeatEnd(); err != nil {
		t.Fatal(err)
	}
	next := func(seconds float64) string {
		e.seconds = seconds
		s.Cursor()
		list := s.Next()
		if len(list) == 0 {
			return "none"
		}
		for _, n := range list {
			if n.Start != list[0].Start {
				t.Errorf("at %v s, strikes at %d and %d are next", seconds, list[0].Start, n.Start)
			}
		}
		return fmt.Sprintf("%d:%d", list[0].Start/project.Quarter, len(list))
	}
	if got := s.Next(); got != nil {
		t.Errorf("nothing plays, and %v is next", got)
	}
	s.SetCountIn(1)
	if err := s.PlayFromStart(); err != nil {
		t.Fatal(err)
	}
	size := map[project.Ticks]int{}
	for _, n := range s.Realisation().Notes {
		if n.Layer != arrange.LayerBass {
			size[n.Start/project.Quarter]++
		}
	}
	for _, c := range []struct {
		seconds float64
		at      project.Ticks
	}{{-1, 0}, {0.1, 4}, {2.5, 6}, {3.2, 0}, {4.5, 4}} {
		if got, want := next(c.seconds), fmt.Sprintf("%d:%d", c.at, size[c.at]); got != want {
			t.Errorf("at %v s %s is next, want %s", c.seconds, got, want)
		}
	}
	if got := next(7.5); got != "none" {
		t.Errorf("in the last bar %s is next", got)
	}
	if err := s.SetLoop(1, 2); err != nil {
		t.Fatal(err)
	}
	if got, want := next(1.5), fmt.Sprintf("4:%d", size[4]); got != want {
		t.Errorf("in a loop of the second bar %s is next, want %s", got, want)
	}
}
