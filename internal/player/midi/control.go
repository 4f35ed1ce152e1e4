package midi

import (
	"fmt"
	"slices"
	"strings"

	"organbook/internal/arrange"
)

// Control is what a controller outside can work.
type Control uint8

// The controls. The drawbars stand between Rotary and Play: nine of the upper
// manual, nine of the lower, two of the pedal.
const (
	// NoControl is nothing.
	NoControl Control = iota
	// Swell is the expression pedal.
	Swell
	// Rotary is the speaker's switch: slow in the lower half, fast in the
	// upper.
	Rotary
	firstDrawbar
	// Play, Record, Rest and Silence are switches, which act when they pass
	// the middle upward: play or stop, record or stop, leave a rest in step
	// entry, release everything, change the speaker over between slow and fast.
	// A key or a program change can work them as well.
	Play = firstDrawbar + drawbars + iota - 4
	Record
	Rest
	Silence
	ChangeOver
	endOfControls
)

// drawbars is how many drawbars the console has.
const drawbars = 20

// Controls are all controls in the order in which a page lists them.
func Controls() []Control {
	var all []Control
	for c := NoControl + 1; c < endOfControls; c++ {
		all = append(all, c)
	}
	return all
}

// DrawbarControl returns the control of a drawbar, 0 to 8 of a manual or 0 and
// 1 of the pedal.
func DrawbarControl(d arrange.Division, bar int) Control { return firstDrawbar + Control(9*int(d)+bar) }

// Drawbar returns which drawbar a control is; ok is false for the others.
func (c Control) Drawbar() (d arrange.Division, bar int, ok bool) {
	if c < firstDrawbar || c >= Play {
		return 0, 0, false
	}
	i := int(c - firstDrawbar)
	return arrange.Division(i / 9), i % 9, true
}

// IsSwitch reports whether a control acts once when it is pressed.
func (c Control) IsSwitch() bool { return c >= Play && c < endOfControls }

var (
	footages      = [...]string{"16′", "5⅓′", "8′", "4′", "2⅔′", "2′", "1⅗′", "1⅓′", "1′"}
	pedalFootages = [...]string{"16′", "8′"}
	controlWords  = map[Control]string{
		NoControl: "nothing", Swell: "swell", Rotary: "rotary speaker",
		Play: "play or stop", Record: "record or stop", Rest: "leave a rest", Silence: "silence", ChangeOver: "rotary speaker over",
	}
)

// String names the control: "upper 5⅓′".
func (c Control) String() string {
	d, bar, ok := c.Drawbar()
	switch {
	case !ok:
		return controlWords[c]
	case d == arrange.Pedal:
		return "pedal " + pedalFootages[bar]
	}
	return d.String() + " " + footages[bar]
}

// MarshalText writes the control's name.
func (c Control) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads a control's name.
func (c *Control) UnmarshalText(text []byte) error {
	for x := NoControl; x < endOfControls; x++ {
		if x.String() == string(text) {
			*c = x
			return nil
		}
	}
	return fmt.Errorf("there is no control %q", text)
}

// Source says which messages work a control.
type Source uint8

// The sources. Keys and programs work switches only.
const (
	Controllers Source = iota
	Keys
	Programs
	endOfSources
)

// sourceWords begin the text of a controller.
var sourceWords = [endOfSources]string{"CC", "key", "program"}

// Controller is what works a control outside: a controller, a key or a program
// change by its number (programs from 0), and its channel 1 to 16, or 0 for any.
type Controller struct {
	Number, Channel uint8
	Source          Source
}

// String writes "CC 11", "CC 102, channel 2", "key 36" or "program 1", programs
// being counted from 1 as on displays.
func (c Controller) String() string {
	n := int(c.Number)
	if c.Source == Programs {
		n++
	}
	text := fmt.Sprintf("%s %d", sourceWords[c.Source], n)
	if c.Channel > 0 {
		text += fmt.Sprintf(", channel %d", c.Channel)
	}
	return text
}

// MarshalText writes the controller as String does.
func (c Controller) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads what MarshalText wrote. Controllers from 120 on are not
// controllers but channel modes.
func (c *Controller) UnmarshalText(text []byte) error {
	var n, channel int
	number, rest, split := strings.Cut(string(text), ",")
	var word string
	_, err := fmt.Sscanf(number, "%s %d", &word, &n)
	source := Source(slices.Index(sourceWords[:], word))
	if source == Programs {
		n--
	}
	if err != nil || source >= endOfSources || n < 0 || n > 127 || source == Controllers && n >= firstMode {
		return fmt.Errorf("controller %q: write CC and a number from 0 to 119, as in CC 11, key and one from 0 to 127, or program and one from 1 to 128", text)
	}
	if split {
		if _, err := fmt.Sscanf(rest, " channel %d", &channel); err != nil || channel < 1 || channel > 16 {
			return fmt.Errorf("controller %q: the channel is a number from 1 to 16", text)
		}
	}
	*c = Controller{uint8(n), uint8(channel), source}
	return nil
}

// canWork reports whether what comes from a source can work a control.
func (s Source) canWork(c Control) bool { return s == Controllers || c.IsSwitch() }

// Binding says which controller works a control.
type Binding struct {
	Control    Control
	Controller Controller
}

// DefaultBindings are those of the first run: the controllers that the
// standard names for the purpose (11 is expression, 1 modulation), and for the
// drawbars those it leaves undefined or general, in the order of the console.
func DefaultBindings() []Binding {
	const undefined, general = 102, 16
	list := []Binding{{Swell, Controller{Number: ExpressionPedal}}, {Rotary, Controller{Number: ModulationWheel}}}
	for i := range 18 {
		list = append(list, Binding{firstDrawbar + Control(i), Controller{Number: uint8(undefined + i)}})
	}
	return append(list,
		Binding{DrawbarControl(arrange.Pedal, 0), Controller{Number: general}},
		Binding{DrawbarControl(arrange.Pedal, 1), Controller{Number: general + 1}})
}
