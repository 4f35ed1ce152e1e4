package synth

import (
	"errors"
	"fmt"
)

// RotaryParams describe the rotary speaker: a cabinet whose treble comes from
// a turning horn and whose bass from a turning drum.
type RotaryParams struct {
	// Crossover is the frequency in hertz where drum hands over to horn, 200
	// to 4000.
	Crossover  float64
	Horn, Drum RotorParams
	// MicAngle is how far each of the two microphones stands from the front,
	// in revolutions (0.25 is at the side).
	MicAngle float64
}

// DefaultRotary returns the proportions usual for such cabinets: a horn of
// some 20 cm turning at 48 and 400 revolutions a minute with little inertia,
// a heavier drum turning the other way at 40 and 340, crossed over at 800 Hz.
func DefaultRotary() RotaryParams {
	return RotaryParams{
		Crossover: 800,
		Horn: RotorParams{
			Radius: 0.19, Distance: 0.55, Slow: 48.0 / 60, Fast: 400.0 / 60, Rise: 1.0, Fall: 1.3,
			Corner: 1800, Low: 0.30, High: 0.75,
		},
		Drum: RotorParams{
			Radius: 0.12, Distance: 0.60, Slow: -40.0 / 60, Fast: -340.0 / 60, Rise: 4.5, Fall: 4.0,
			Corner: 400, Low: 0.18, High: 0.45,
		},
		MicAngle: 0.18,
	}
}

func (p *RotaryParams) check() error {
	if !(p.Crossover >= 200 && p.Crossover <= 4000) {
		return fmt.Errorf("rotary crossover %g Hz: expected 200 to 4000", p.Crossover)
	}
	return errors.Join(p.Horn.check("horn"), p.Drum.check("drum"))
}

func (p *RotorParams) check(name string) error {
	switch {
	case !(p.Radius >= 0 && p.Radius < p.Distance && p.Distance <= 10):
		return fmt.Errorf("%s radius %g m, distance %g m: expected 0 ≤ radius < distance ≤ 10", name, p.Radius, p.Distance)
	case !(p.Rise > 0 && p.Fall > 0):
		return fmt.Errorf("%s inertia %g and %g s: expected above 0", name, p.Rise, p.Fall)
	case !(p.Corner > 0):
		return fmt.Errorf("%s corner %g Hz: expected above 0", name, p.Corner)
	}
	return nil
}

// rotary is the speaker. Once its input has been silent for a second it only
// keeps turning.
type rotary struct {
	bands      crossover
	horn, drum rotor
	low, high  [chunk]float32
	quiet      int // frames of silence so far, up to sleep
	sleep      int
}

func (s *rotary) init(rate int, p RotaryParams) {
	s.bands.init(p.Crossover, rate)
	s.horn.init(rate, p.Horn, p.MicAngle)
	s.drum.init(rate, p.Drum, p.MicAngle)
	s.sleep = rate
}

func (s *rotary) reset(speed Speed) {
	s.bands.reset()
	s.horn.reset(speed)
	s.drum.reset(speed)
	s.quiet = s.sleep
}

func (s *rotary) set(speed Speed) {
	s.horn.set(speed)
	s.drum.set(speed)
}

// render writes what the microphones hear of x.
func (s *rotary) render(x, left, right []float32) {
	clear(left)
	clear(right)
	if s.asleep(x) {
		s.horn.turnOnly(len(x))
		s.drum.turnOnly(len(x))
		return
	}
	low, high := s.low[:len(x)], s.high[:len(x)]
	s.bands.split(x, low, high)
	s.horn.render(high, left, right)
	s.drum.render(low, left, right)
}

// asleep counts the silence and reports whether it has lasted long enough.
func (s *rotary) asleep(x []float32) bool {
	for i := len(x) - 1; i >= 0; i-- {
		if x[i] != 0 {
			s.quiet = len(x) - 1 - i
			return false
		}
	}
	if s.quiet < s.sleep {
		s.quiet += len(x)
		return false
	}
	return true
}
