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
	Mics       Microphones
	// Brake is the angle at which both come to rest when stopped, in
	// revolutions from the front.
	Brake float64
	// Cabinet is the level of the early reflections from the cabinet's walls,
	// 0 to 0.5.
	Cabinet float64
}

// How near and how far the microphones may stand while it plays, in metres.
const minMicDistance, maxMicDistance = 0.25, 10

// Microphones are the pair before the cabinet.
type Microphones struct {
	// Distance from the axis of the rotors, in metres, up to 10. Near
	// microphones hear more of the turning.
	Distance float64
	// Angle is how far each stands from the front, in revolutions (0.25 is at
	// the side).
	Angle float64
}

// DefaultRotary returns the proportions usual for such cabinets: a horn of
// some 20 cm turning at 48 and 400 revolutions a minute with little inertia,
// a heavier drum turning the other way at 40 and 340, crossed over at 800 Hz.
func DefaultRotary() RotaryParams {
	return RotaryParams{
		Crossover: 800,
		Horn: RotorParams{
			Radius: 0.19, Slow: 48.0 / 60, Fast: 400.0 / 60, Rise: 1.0, Fall: 1.3,
			Corner: 1800, Low: 0.30, High: 0.70,
		},
		Drum: RotorParams{
			Radius: 0.12, Slow: -40.0 / 60, Fast: -340.0 / 60, Rise: 4.5, Fall: 4.0,
			Corner: 400, Low: 0.15, High: 0.40,
		},
		Mics:    Microphones{Distance: 0.8, Angle: 65.0 / 360},
		Cabinet: 0.15,
	}
}

func (p *RotaryParams) check() error {
	switch {
	case !(p.Crossover >= 200 && p.Crossover <= 4000):
		return fmt.Errorf("rotary crossover %g Hz: expected 200 to 4000", p.Crossover)
	case !(p.Mics.Distance > 0 && p.Mics.Distance <= 10):
		return fmt.Errorf("microphones at %g m: expected above 0, up to 10", p.Mics.Distance)
	case !(p.Cabinet >= 0 && p.Cabinet <= 0.5):
		return fmt.Errorf("cabinet reflections %g: expected 0 to 0.5", p.Cabinet)
	}
	return errors.Join(p.Horn.check("horn", p.Mics.Distance), p.Drum.check("drum", p.Mics.Distance))
}

// rotary is the speaker. Once its input has been silent for a second it only
// keeps turning.
type rotary struct {
	bands      crossover
	horn, drum rotor
	walls      cabinet
	band       [4][chunk + pad]float32 // of the drum below and above its corner, of the horn likewise
	quiet      int                     // frames of silence so far, up to sleep
	sleep      int
}

func (s *rotary) init(rate int, p RotaryParams) {
	s.bands.init(p.Crossover, p.Drum.Corner, p.Horn.Corner, rate)
	s.horn.init(rate, p.Horn, p.Mics, p.Brake, wide)
	s.drum.init(rate, p.Drum, p.Mics, p.Brake, narrow)
	s.walls.init(rate, p.Cabinet)
	s.sleep = rate
}

func (s *rotary) reset(speed Speed, p *RotaryParams) {
	s.bands.reset()
	for _, r := range [2]*rotor{&s.horn, &s.drum} {
		r.brake, r.wanted = p.Brake, stand{p.Mics.Distance, p.Mics.Angle}
		r.reset(speed)
	}
	s.walls.reset()
	s.quiet = s.sleep
}

func (s *rotary) set(speed Speed) {
	s.horn.set(speed)
	s.drum.set(speed)
}

// place moves the microphones.
func (s *rotary) place(distance, angle float64) {
	m := stand{distance, angle}
	s.horn.wanted, s.drum.wanted = m, m
}

// brake sets where the rotors come to rest.
func (s *rotary) brake(turn float64) {
	s.horn.setBrake(turn)
	s.drum.setBrake(turn)
}

// render writes what the microphones hear of x.
func (s *rotary) render(x, left, right []float32) {
	clear(left)
	clear(right)
	if s.asleep(x) {
		s.bands.pass(len(x))
		s.horn.turnOnly(len(x))
		s.drum.turnOnly(len(x))
		return
	}
	n := len(x)
	b := &s.band
	s.bands.split(x, b[0][:n], b[1][:n], b[2][:n], b[3][:n])
	s.drum.render(b[0][:n], b[1][:n], left, right)
	s.horn.render(b[2][:n], b[3][:n], left, right)
	s.walls.render(left, right)
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

// cabinet adds the early reflections: what is radiated towards a side wall
// reaches the front a little later, so each microphone hears the other's side
// after one way across and its own after two.
type cabinet struct {
	level float32
	lag   [2]int // frames of the ways across and back
	line  [2]tape
}

// cabinetPaths are the two ways in metres.
var cabinetPaths = [2]float64{0.43, 0.97}

func (c *cabinet) init(rate int, level float64) {
	c.level = float32(level)
	for i, m := range cabinetPaths {
		c.lag[i] = max(1, int(m/speedOfSound*float64(rate)))
	}
	for i := range c.line {
		c.line[i].init(c.lag[1])
	}
}

func (c *cabinet) reset() {
	for i := range c.line {
		c.line[i].reset()
	}
}

func (c *cabinet) render(left, right []float32) {
	if c.level == 0 {
		return
	}
	n := len(left)
	a, b := c.line[0].record(left), c.line[1].record(right)
	x, y := c.line[0].x, c.line[1].x
	mix(left, y[b-c.lag[0]:][:n], c.level)
	mix(right, x[a-c.lag[0]:][:n], c.level)
	mix(left, x[a-c.lag[1]:][:n], -c.level/2)
	mix(right, y[b-c.lag[1]:][:n], -c.level/2)
}
