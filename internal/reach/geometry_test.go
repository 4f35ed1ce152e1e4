package reach

import (
	"math"
	"testing"
)

func TestManualGeometry(t *testing.T) {
	if got := Distance(60, 72); got != 164.5 {
		t.Errorf("an octave is %v mm", got)
	}
	if got := Naturals(10); got != 211.5 {
		t.Errorf("a tenth is %v mm", got)
	}
	for key := 0; key < 115; key++ {
		if Distance(key, key+12) != 164.5 {
			t.Errorf("the octave above %d is %v mm", key, Distance(key, key+12))
		}
		a, b := ManualKey(key), ManualKey(key+1)
		if a.Middle() >= b.Middle() {
			t.Errorf("key %d stands to the right of key %d", key, key+1)
		}
		if !a.Sharp && !b.Sharp && a.Left+a.Width > b.Left {
			t.Errorf("naturals %d and %d overlap", key, key+1)
		}
		if math.Abs(float64(a.Middle()-millimetres(middleOf(key)))) > 0.01 {
			t.Errorf("key %d is drawn at %v and played at %v", key, a.Middle(), millimetres(middleOf(key)))
		}
	}
}

func TestManualIsSymmetricAboutD(t *testing.T) {
	for key := 0; key <= 124; key++ {
		if isSharp(key) != isSharp(mirror(key)) || middleOf(62)-middleOf(key) != middleOf(mirror(key))-middleOf(62) {
			t.Errorf("key %d is not the mirror of key %d", key, mirror(key))
		}
	}
}

func TestPedalGeometry(t *testing.T) {
	for _, c := range []Console{FullConsole, ShortConsole, ConcertConsole} {
		for key := c.Pedal.Lowest; key < c.Pedal.Highest; key++ {
			a, b := PedalKey(key, c.Pedal, c.Board), PedalKey(key+1, c.Pedal, c.Board)
			if a.Middle() >= b.Middle() {
				t.Errorf("pedal %d stands to the right of pedal %d", key, key+1)
			}
			if d := PedalDistance(key, key+1); math.Abs(float64(b.Middle()-a.Middle()-d)) > 1e-6 {
				t.Errorf("pedals %d and %d are drawn %v apart and played %v", key, key+1, b.Middle()-a.Middle(), d)
			}
		}
	}
	low := PedalKey(36, ConcertConsole.Pedal, Concave)
	middle := PedalKey(52, ConcertConsole.Pedal, Concave)
	if low.Rise <= middle.Rise {
		t.Errorf("a concave board rises from %v to %v mm at its end", middle.Rise, low.Rise)
	}
	if n := ConcertConsole.Pedal.Keys(); n != 32 {
		t.Errorf("the concert board has %d keys", n)
	}
}
