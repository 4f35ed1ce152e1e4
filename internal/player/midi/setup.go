package midi

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"organbook/internal/arrange"
)

// Target is what the keys of a channel play.
type Target uint8

// The targets.
const (
	Nothing Target = iota
	ToUpper
	ToLower
	ToPedal
)

var targetWords = [...]string{"nothing", "upper", "lower", "pedal"}

// Targets are all targets.
var Targets = []Target{Nothing, ToUpper, ToLower, ToPedal}

// String names the target.
func (t Target) String() string { return targetWords[t] }

// Division returns the division, if there is one.
func (t Target) Division() (d arrange.Division, ok bool) {
	if t == Nothing || t > ToPedal {
		return 0, false
	}
	return arrange.Division(t - 1), true
}

// TargetOf returns the target that plays a division.
func TargetOf(d arrange.Division) Target { return Target(d) + 1 }

// MarshalText writes the target's name.
func (t Target) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads a target's name.
func (t *Target) UnmarshalText(text []byte) error {
	i := slices.Index(targetWords[:], string(text))
	if i < 0 {
		return fmt.Errorf("keys play upper, lower, pedal or nothing, not %q", text)
	}
	*t = Target(i)
	return nil
}

// Setup is what the user has chosen. It is a value: a Setup that was handed
// over is not changed.
type Setup struct {
	// Channels say what channels 1 to 16 play on ports that go by channel.
	Channels [16]Target
	// Ports are the choices for single input ports.
	Ports []PortRule `json:",omitempty"`
	// Controls bind controllers to controls; each appears once.
	Controls []Binding
	// Outputs are the organs outside on which the divisions sound, upper
	// first.
	Outputs [3]Outlet
	// Programs are the programs, 1 to 128, that organs outside call up for
	// registrations, by name.
	Programs map[string]uint8 `json:",omitempty"`
}

// PortRule is what the user has chosen for one input port.
type PortRule struct {
	Name string
	// Off ports are not listened to.
	Off bool `json:",omitempty"`
	// All, unless Nothing, is what all channels of the port play.
	All Target `json:",omitempty"`
	// Split, above zero, is the lowest key that plays All or what the channel
	// says; the keys under it play Below.
	Split uint8  `json:",omitempty"`
	Below Target `json:",omitempty"`
	// Octaves moves the keys, -4 to 4.
	Octaves int `json:",omitempty"`
}

// Outlet is where a division sounds outside.
type Outlet struct {
	// Port is the output port, "" for none.
	Port string
	// Channel is 1 to 16.
	Channel uint8
	// Alone silences the program's own sound of the division.
	Alone bool `json:",omitempty"`
}

// DefaultSetup is that of the first run: channel 1 plays the upper manual, 2
// the lower, 3 the pedal, every port is listened to, nothing sounds outside.
func DefaultSetup() Setup {
	s := Setup{Controls: DefaultBindings()}
	for i := range s.Outputs {
		s.Channels[i] = TargetOf(arrange.Division(i))
		s.Outputs[i].Channel = uint8(i + 1)
	}
	return s
}

// Rule returns the rule of an input port; a port without one of its own is
// listened to, unless it only brings back what programs send to it.
func (s Setup) Rule(port string) PortRule {
	for _, r := range s.Ports {
		if r.Name == port {
			return r
		}
	}
	return PortRule{Name: port, Off: isLoop(port)}
}

// isLoop reports whether a port by its name only hands messages through.
func isLoop(port string) bool {
	name := strings.ToLower(port)
	return strings.Contains(name, "through") || strings.Contains(name, "thru")
}

// WithRule returns the setup with another rule for its port.
func (s Setup) WithRule(r PortRule) Setup {
	s.Ports = slices.DeleteFunc(slices.Clone(s.Ports), func(o PortRule) bool { return o.Name == r.Name })
	s.Ports = append(s.Ports, r)
	slices.SortFunc(s.Ports, func(a, b PortRule) int { return strings.Compare(a.Name, b.Name) })
	return s
}

// WithChannel returns the setup with another target for a channel, 1 to 16.
func (s Setup) WithChannel(channel uint8, t Target) Setup {
	s.Channels[channel-1] = t
	return s
}

// ChannelsOf returns the channels, 1 to 16, that play a target on ports that go
// by channel.
func (s Setup) ChannelsOf(t Target) (list []int) {
	for i, other := range s.Channels {
		if other == t {
			list = append(list, i+1)
		}
	}
	return list
}

// WithOutlet returns the setup with another outlet for a division.
func (s Setup) WithOutlet(d arrange.Division, o Outlet) Setup {
	s.Outputs[d] = o
	return s
}

// WithProgram returns the setup with another program for a registration, 1 to
// 128, or 0 for none.
func (s Setup) WithProgram(registration string, program uint8) Setup {
	s.Programs = maps.Clone(s.Programs)
	if s.Programs == nil {
		s.Programs = map[string]uint8{}
	}
	s.Programs[registration] = program
	if program == 0 {
		delete(s.Programs, registration)
	}
	return s
}

// Bound returns the controller of a control.
func (s Setup) Bound(c Control) (by Controller, ok bool) {
	for _, b := range s.Controls {
		if b.Control == c {
			return b.Controller, true
		}
	}
	return Controller{}, false
}

// WithBinding returns the setup with a control worked by a controller, which
// then works nothing else. A key or a program works switches only; for another
// control the setup stays as it is.
func (s Setup) WithBinding(c Control, by Controller) Setup {
	if !by.Source.canWork(c) {
		return s
	}
	s = s.Without(c)
	s.Controls = slices.DeleteFunc(s.Controls, func(b Binding) bool { return b.Controller.overlaps(by) })
	s.Controls = append(s.Controls, Binding{c, by})
	slices.SortFunc(s.Controls, func(a, b Binding) int { return int(a.Control) - int(b.Control) })
	return s
}

// Without returns the setup with a control that nothing works.
func (s Setup) Without(c Control) Setup {
	s.Controls = slices.DeleteFunc(slices.Clone(s.Controls), func(b Binding) bool { return b.Control == c })
	return s
}

// overlaps reports whether two controllers can be meant by the same message.
func (c Controller) overlaps(o Controller) bool {
	return c.Source == o.Source && c.Number == o.Number && (c.Channel == o.Channel || c.Channel == 0 || o.Channel == 0)
}

// Write writes the setup as text that can be read and kept.
func (s Setup) Write() string {
	b, err := json.Marshal(s)
	if err != nil {
		panic(err) // every part of a setup can be written
	}
	return string(b)
}

// ReadSetup reads what Write wrote. The error names what is wrong.
func ReadSetup(text string) (Setup, error) {
	var s Setup
	if err := json.Unmarshal([]byte(text), &s); err != nil {
		return Setup{}, fmt.Errorf("the MIDI setup cannot be read: %w", err)
	}
	if err := s.check(); err != nil {
		return Setup{}, fmt.Errorf("the MIDI setup cannot be used: %w", err)
	}
	return s, nil
}

func (s *Setup) check() error {
	for _, r := range s.Ports {
		if r.Split > 127 || r.Octaves < -4 || r.Octaves > 4 || r.All > ToPedal || r.Below > ToPedal {
			return fmt.Errorf("port %q has a split or an octave that no keyboard has", r.Name)
		}
	}
	for i, b := range s.Controls {
		if b.Control == NoControl {
			return fmt.Errorf("%v works nothing", b.Controller)
		}
		if !b.Controller.Source.canWork(b.Control) {
			return fmt.Errorf("%v is no switch, and %v has no values for it", b.Control, b.Controller)
		}
		for _, other := range s.Controls[:i] {
			if other.Control == b.Control || other.Controller.overlaps(b.Controller) {
				return fmt.Errorf("%v and %v share %v", other.Control, b.Control, b.Controller)
			}
		}
	}
	for name, n := range s.Programs {
		if n < 1 || n > 128 {
			return fmt.Errorf("the registration %q has the program %d; programs go from 1 to 128", name, n)
		}
	}
	for d, o := range s.Outputs {
		if o.Channel < 1 || o.Channel > 16 {
			return fmt.Errorf("the %v division is sent on channel %d", arrange.Division(d), o.Channel)
		}
	}
	return nil
}
