package session

import (
	"fmt"
	"math"

	"organbook/internal/perform"
)

// Ramp is a practice tempo that rises each time a loop comes round: from From
// to To by Step, as factors of the written tempo, each tempo Times times. Once
// there it stays.
type Ramp struct {
	On             bool
	From, Step, To float64
	Times          int
}

// usualRamp is where a ramp starts out: slow enough to play right, in steps
// that are hardly felt.
var usualRamp = Ramp{From: 0.6, Step: 0.05, To: 1, Times: 1}

// maxRampTimes bounds how often a tempo of a ramp is played.
const maxRampTimes = 16

// Ramp returns the practice ramp.
func (s *Session) Ramp() Ramp { return s.transport.ramp }

// SetRamp sets the ramp; it fails for one that does not rise within 40 to
// 160 %. Without a loop, turning it on loops the selected bars.
func (s *Session) SetRamp(r Ramp) error {
	switch {
	case !(r.From >= minTempoScale && r.From <= r.To && r.To <= maxTempoScale):
		return s.fail(fmt.Errorf("a tempo ramp rises from 40 %% or more to 160 %% or less, not from %.0f to %.0f %%", 100*r.From, 100*r.To))
	case !(r.Step >= 0.01 && r.Step <= 1):
		return s.fail(fmt.Errorf("a tempo ramp rises by 1 %% or more each time, not by %.0f %%", 100*r.Step))
	case r.Times < 1 || r.Times > maxRampTimes:
		return s.fail(fmt.Errorf("each tempo of a ramp is played 1 to %d times, not %d", maxRampTimes, r.Times))
	}
	s.transport.ramp, s.transport.pass = r, 0
	if _, _, loop := s.Loop(); r.On && !loop {
		from, to := s.BarSpan()
		s.transport.loop = [2]int{from, to}
	}
	if r.On {
		s.Say(fmt.Sprintf("The loop starts at %.0f %% and rises by %.0f %% to %.0f %%.", 100*r.From, 100*r.Step, 100*r.To))
	}
	return s.transportChanged()
}

// ToggleRamp turns the ramp on or off.
func (s *Session) ToggleRamp() error {
	r := s.transport.ramp
	r.On = !r.On
	if !r.On {
		s.Say("The loop keeps its tempo.")
	}
	return s.SetRamp(r)
}

// scales are the tempos of the ramp's passes.
func (r Ramp) scales() (list []float64) {
	for k := 0; ; k++ {
		v := min(math.Round(1e4*(r.From+float64(k)*r.Step))/1e4, r.To)
		for range r.Times {
			list = append(list, v)
		}
		if v >= r.To {
			return list
		}
	}
}

// passes are the tempos of the passes still to come; nil without a ramp.
func (s *Session) passes() []float64 {
	if !s.transport.ramp.On {
		return nil
	}
	all := s.transport.ramp.scales()
	return all[min(s.transport.pass, len(all)-1):]
}

// lastPass is the second at which the last pass of a loop begins, which goes
// on for ever.
func lastPass(p *perform.Performance, o perform.Options) float64 {
	if len(o.Passes) == 0 {
		return 0
	}
	return p.Played[len(p.Played)-(o.ToBar-o.FromBar)].Seconds
}

// followRamp keeps how far the ramp has come, so that an edit goes on at the
// tempo that was reached.
func (s *Session) followRamp(seconds float64) {
	if !s.transport.ramp.On {
		return
	}
	if b, ok := s.transport.performance.BarOf(seconds); ok && b.Pass-1 > s.transport.passed {
		s.transport.pass += b.Pass - 1 - s.transport.passed
		s.transport.passed = b.Pass - 1
		s.notify(TransportChanged)
	}
}

// PlayedScale is the factor on the tempo that is heard now: that of the scale
// and, in a ramp, of the pass.
func (s *Session) PlayedScale() float64 {
	if p := s.passes(); len(p) > 0 {
		return s.transport.scale * p[0]
	}
	return s.transport.scale
}
