package ui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"organbook/internal/arrange"
	"organbook/internal/player/midi"
	"organbook/internal/theory"
)

// midiLine is one line of the MIDI page: what it is about, its value among its
// choices, and what can be learned.
type midiLine struct {
	part  string // the heading over it, for the first line of a part
	label string
	note  string // what is wrong, or what came in last
	// choices are what the value can be; choose returns the setup with one.
	choices []string
	chosen  int
	choose  func(int) midi.Setup
	// several says which choices are in force where there can be more than one,
	// text writes them, and toggle returns the setup with one more or less; nil
	// where there is one.
	several func(int) bool
	text    string
	toggle  func(int) midi.Setup
	// control and target are what is learned, NoControl and Nothing for lines
	// that cannot be learned.
	control midi.Control
	target  midi.Target
	forget  func() midi.Setup
	// port is the key of the port that the line's mark shows, and state how it
	// stands.
	port  string
	state midi.PortState
}

func (l *midiLine) learns() bool { return l.control != midi.NoControl || l.target != midi.Nothing }

// learning reports whether the line waits for something to be played.
func (l *midiLine) learning(h *midi.Hub) bool {
	c, t := h.Learning()
	return l.learns() && c == l.control && t == l.target
}

// value is the choice in force.
func (l *midiLine) value() string {
	if l.text != "" {
		return l.text
	}
	if l.chosen < 0 || l.chosen >= len(l.choices) {
		return ""
	}
	return l.choices[l.chosen]
}

// midiLines lists the page from setup and ports, and, when they are
// needed, the names of the registrations.
func midiLines(h *midi.Hub, state midi.State, names func() []string) []midiLine {
	s := h.Setup()
	var lines []midiLine
	add := func(part string, list []midiLine) {
		if len(list) > 0 {
			list[0].part = part
			lines = append(lines, list...)
		}
	}
	add("Keyboards", inputLines(s, state))
	add("What plays a division", divisionLines(s))
	add("Organ outside", outputLines(s, state))
	add("What works a control", controlLines(s))
	add("Programs of the organ outside", programLines(s, names))
	return lines
}

// portChoices are what can be done with an input port.
var portChoices = []string{"not listened to", "by channel", "upper", "lower", "pedal"}

// inputLines have one line a port, and two more for one that is listened to as
// a whole: where it is split and by how many octaves it is moved.
func inputLines(s midi.Setup, state midi.State) (lines []midiLine) {
	for _, p := range state.Inputs {
		r := s.Rule(p.Name)
		l := midiLine{label: p.Name, note: p.Err, port: inKey(p.Name), state: p, choices: portChoices, chosen: 1 + int(r.All)}
		if r.Off {
			l.chosen = 0
		}
		l.choose = func(i int) midi.Setup {
			r := s.Rule(p.Name)
			r.Off, r.All = i == 0, midi.Target(max(i-1, 0))
			return s.WithRule(r)
		}
		lines = append(lines, l)
		if !r.Off {
			lines = append(lines, splitLine(s, r), octaveLine(s, r))
		}
	}
	return lines
}

// splitKeys are where a keyboard can be split: from C2 to C6.
const firstSplit, lastSplit = 36, 84

// splitLine chooses the key under which the pedal or the lower manual is
// played.
func splitLine(s midi.Setup, r midi.PortRule) midiLine {
	l := midiLine{label: "   split", choices: []string{"nowhere"}}
	rules := []midi.PortRule{{Name: r.Name, Off: r.Off, All: r.All, Octaves: r.Octaves}}
	for _, below := range []midi.Target{midi.ToPedal, midi.ToLower} {
		for key := firstSplit; key <= lastSplit; key++ {
			if r.Split == uint8(key) && r.Below == below {
				l.chosen = len(rules)
			}
			if key%12 == 0 || key%12 == 5 || l.chosen == len(rules) {
				with := rules[0]
				with.Split, with.Below = uint8(key), below
				rules = append(rules, with)
				l.choices = append(l.choices, below.String()+" under "+keyName(key))
			}
		}
	}
	l.choose = func(i int) midi.Setup { return s.WithRule(rules[i]) }
	return l
}

// keyName names a key of the console as the grid does.
func keyName(key int) string {
	return theory.PitchAt(theory.NewKey(theory.NewName(theory.C, 0), theory.Major).Spell(key%12), key).Pretty()
}

func octaveLine(s midi.Setup, r midi.PortRule) midiLine {
	l := midiLine{label: "   moved", chosen: r.Octaves + 2}
	for o := -2; o <= 2; o++ {
		l.choices = append(l.choices, octaveName(o))
	}
	l.choices[2] = "as played"
	l.choose = func(i int) midi.Setup {
		r := s.Rule(r.Name)
		r.Octaves = i - 2
		return s.WithRule(r)
	}
	return l
}

// everyChannel is the choice behind the sixteen channels.
const everyChannel = 17

// divisionLines say which channels play each division. The arrows choose one;
// the list of choices takes more.
func divisionLines(s midi.Setup) (lines []midiLine) {
	for _, t := range midi.Targets[1:] {
		on := s.ChannelsOf(t)
		l := midiLine{label: t.String(), target: t, choices: []string{"no channel"}, text: channelsText(on)}
		for i := range 16 {
			l.choices = append(l.choices, "channel "+strconv.Itoa(i+1))
		}
		l.choices = append(l.choices, "every channel")
		switch {
		case len(on) == 16:
			l.chosen = everyChannel
		case len(on) > 0:
			l.chosen = on[0]
		}
		l.several = func(i int) bool { return i == l.chosen || slices.Contains(on, i) }
		l.choose = func(i int) midi.Setup { return chooseChannel(s, t, i) }
		l.toggle = func(i int) midi.Setup {
			switch {
			case i == 0 || i == everyChannel:
				return chooseChannel(s, t, i)
			case s.Channels[i-1] == t:
				return s.WithChannel(uint8(i), midi.Nothing)
			}
			return s.WithChannel(uint8(i), t)
		}
		l.forget = func() midi.Setup { return onlyChannel(s, t, 0) }
		lines = append(lines, l)
	}
	return lines
}

// chooseChannel returns the setup in which one channel plays a target, none or
// every one.
func chooseChannel(s midi.Setup, t midi.Target, choice int) midi.Setup {
	if choice != everyChannel {
		return onlyChannel(s, t, uint8(choice))
	}
	for i := range s.Channels {
		s.Channels[i] = t
	}
	return s
}

// channelsText writes ascending channels in runs: "channels 1, 4–6".
func channelsText(list []int) string {
	switch len(list) {
	case 0:
		return "no channel"
	case 1:
		return "channel " + strconv.Itoa(list[0])
	case 16:
		return "every channel"
	}
	var runs []string
	for i := 0; i < len(list); {
		j := i
		for j+1 < len(list) && list[j+1] == list[j]+1 {
			j++
		}
		run := strconv.Itoa(list[i])
		if j > i {
			run += "–" + strconv.Itoa(list[j])
		}
		runs = append(runs, run)
		i = j + 1
	}
	return "channels " + strings.Join(runs, ", ")
}

// outputLines say where each division sounds outside, on which channel, and
// whether it sounds here as well.
func outputLines(s midi.Setup, state midi.State) (lines []midiLine) {
	for d := arrange.Upper; d <= arrange.Pedal; d++ {
		o := s.Outputs[d]
		l := midiLine{label: d.String() + " sent to", choices: []string{"nowhere"}}
		if o.Port != "" {
			l.port = outKey(o.Port)
		}
		for i, p := range state.Outputs {
			l.choices = append(l.choices, p.Name)
			if p.Name == o.Port {
				l.chosen, l.state, l.note = i+1, p, p.Err
			}
		}
		l.choose = func(i int) midi.Setup {
			o := s.Outputs[d]
			o.Port = ""
			if i > 0 {
				o.Port = state.Outputs[i-1].Name
			}
			return s.WithOutlet(d, o)
		}
		lines = append(lines, l)
		if o.Port != "" {
			lines = append(lines, outChannelLine(s, d), aloneLine(s, d))
		}
	}
	return lines
}

func outChannelLine(s midi.Setup, d arrange.Division) midiLine {
	l := midiLine{label: "   on", chosen: int(s.Outputs[d].Channel) - 1}
	for i := range 16 {
		l.choices = append(l.choices, fmt.Sprintf("channel %d", i+1))
	}
	l.choose = func(i int) midi.Setup {
		o := s.Outputs[d]
		o.Channel = uint8(i + 1)
		return s.WithOutlet(d, o)
	}
	return l
}

func aloneLine(s midi.Setup, d arrange.Division) midiLine {
	l := midiLine{label: "   and here", choices: []string{"as well", "silent"}}
	if s.Outputs[d].Alone {
		l.chosen = 1
	}
	l.choose = func(i int) midi.Setup {
		o := s.Outputs[d]
		o.Alone = i == 1
		return s.WithOutlet(d, o)
	}
	return l
}

// programLines say which program an organ outside calls up for a registration.
func programLines(s midi.Setup, names func() []string) (lines []midiLine) {
	if !slices.ContainsFunc(s.Outputs[:], func(o midi.Outlet) bool { return o.Port != "" }) {
		return nil
	}
	for _, name := range names() {
		l := midiLine{label: name, choices: []string{"nothing"}, chosen: int(s.Programs[name])}
		for n := 1; n <= 128; n++ {
			l.choices = append(l.choices, fmt.Sprintf("program %d", n))
		}
		l.choose = func(i int) midi.Setup { return s.WithProgram(name, uint8(i)) }
		l.forget = func() midi.Setup { return s.WithProgram(name, 0) }
		lines = append(lines, l)
	}
	return lines
}

// controlLines say which controller works each control.
func controlLines(s midi.Setup) (lines []midiLine) {
	for _, c := range midi.Controls() {
		l := midiLine{label: c.String(), control: c, choices: []string{"nothing"}}
		l.forget = func() midi.Setup { return s.Without(c) }
		l.choose = func(i int) midi.Setup {
			if i == 0 {
				return s.Without(c)
			}
			return s.WithBinding(c, midi.Controller{Number: uint8(i - 1)})
		}
		for n := range uint8(120) {
			l.choices = append(l.choices, midi.Controller{Number: n}.String())
		}
		switch by, bound := s.Bound(c); {
		case bound && by.Source != midi.Controllers: // learned, and not among the choices
			l.text = by.String()
		case bound:
			l.chosen = int(by.Number) + 1
			l.choices[l.chosen] = by.String()
		}
		lines = append(lines, l)
	}
	return lines
}
