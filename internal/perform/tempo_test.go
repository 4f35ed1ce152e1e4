package perform

import (
	"math"
	"slices"
	"testing"

	"organbook/internal/project"

	"pgregory.net/rapid"
)

func TestTempoMap(t *testing.T) {
	r := realised("|: :| -")
	r.Chart.Bars[1].Tempo = 60
	r.Chart.Bars[2].Tempo = 240
	p := perform(t, r, Options{TempoScale: 0.5})
	// Bars 0 1 0 1 2 at 60, 30, 60, 30, 120 quarters a minute.
	want := []Tempo{{0, 0, 60}, {4 * q, 4, 30}, {8 * q, 12, 60}, {12 * q, 16, 30}, {16 * q, 24, 120}}
	if !slices.Equal(p.Tempos, want) {
		t.Errorf("got %v\nwant %v", p.Tempos, want)
	}
	if p.Duration != 26 {
		t.Errorf("duration %v s, want 26", p.Duration)
	}
	if p.Played[3].Seconds != 16 || p.Played[3].Pass != 2 {
		t.Errorf("fourth bar played: %+v", p.Played[3])
	}
}

func TestBadTempoAndSwingCountAsTheNearest(t *testing.T) {
	r := realised("-", note(q/2, q/2, 60))
	r.Chart.Tempo, r.Chart.Swing = math.NaN(), math.NaN()
	p := perform(t, r, Options{})
	if p.Duration != 2 || keysOf(p)[0].down != q/2 {
		t.Errorf("duration %v, first key %v", p.Duration, keysOf(p)[0])
	}
}

func TestCursor(t *testing.T) {
	r := realised("- |:,:| -")
	r.Chart.Swing = 2.0 / 3
	p := perform(t, r, Options{}) // bars 0 1 1 2, two seconds each
	tests := []struct {
		seconds float64
		written project.Ticks
		first   bool
	}{
		{0, 0, true}, {0.5, q, true}, {2, 4 * q, true}, {4, 4 * q, false}, {6, 8 * q, true},
		{1.0 / 3, q / 2, true}, // two thirds of half a second
	}
	for _, tt := range tests {
		if got, ok := p.WrittenAt(tt.seconds); !ok || got != tt.written {
			t.Errorf("at %v s: position %d, %v; want %d", tt.seconds, got, ok, tt.written)
		}
		if got, ok := p.SecondsAt(tt.written); tt.first && (!ok || math.Abs(got-tt.seconds) > 1e-9) {
			t.Errorf("position %d: %v s, %v; want %v", tt.written, got, ok, tt.seconds)
		}
	}
	for _, s := range []float64{-0.1, 8, 9} {
		if _, ok := p.WrittenAt(s); ok {
			t.Errorf("at %v s a position is given", s)
		}
	}
	for _, w := range []project.Ticks{-1, 12 * q} {
		if _, ok := p.SecondsAt(w); ok {
			t.Errorf("position %d is given a time", w)
		}
	}
}

func TestBarsNeverPlayedHaveNoTime(t *testing.T) {
	p := perform(t, realised("- - - -"), Options{FromBar: 1, ToBar: 3})
	if _, ok := p.SecondsAt(q); ok {
		t.Error("a bar before the range has a time")
	}
	if s, ok := p.SecondsAt(8 * q); !ok || s != 2 {
		t.Errorf("the range's second bar is at %v, %v; want 2 s", s, ok)
	}
	if _, ok := p.SecondsAt(12 * q); ok {
		t.Error("a bar after the range has a time")
	}
}

func TestCursorFollowsAnyPerformance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRealisation(t)
		p, _ := Perform(r, Options{})
		i := rapid.IntRange(0, len(p.Played)-1).Draw(t, "played")
		b := p.Played[i]
		in := project.Ticks(rapid.IntRange(0, int(b.Length)-1).Draw(t, "in"))
		written, ok := p.WrittenAt(p.SecondsOf(b.At + in))
		if !ok || written < b.Written || written >= b.Written+b.Length {
			t.Fatalf("bar %+v at %d reads as %d, %v", b, in, written, ok)
		}
		seconds, ok := p.SecondsAt(written)
		if back, _ := p.WrittenAt(seconds); !ok || back > written || written-back > 4 {
			t.Fatalf("%d is played at %v s, which reads as %d", written, seconds, back)
		}
	})
}
