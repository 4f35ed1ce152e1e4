package session

import (
	"fmt"
	"math"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/words"
)

// Control is a setting of the sound that a person turns: an effect of the
// heard passage's registration, or a part of the chart's tone.
type Control struct {
	// ID names it in commands: "drive", "tone.click".
	ID string
	// Name is its label, Hint says in a sentence what it does.
	Name, Hint string
	// OfChart tells a part of the tone, which all passages share, from an
	// effect of one registration.
	OfChart bool
	// Least and Most bound the value; Step is how far a key or a notch of the
	// wheel moves it.
	Least, Most, Step float64
	// Choices are the words for the values 0, 1, 2 and so on of a choice; nil
	// for a figure.
	Choices []string
	// Text writes a figure.
	Text func(float64) string

	get    func(*Session) float64
	set    func(*Session, float64) error
	adjust func(*project.Tone, float64) // of a part of the tone
}

// Controls are all of them: the effects of a registration first, then the
// tone, in the order in which the console shows them.
var Controls = append(effectControls(), toneControls()...)

// Effects is how many of Controls belong to a registration.
var Effects = len(effectControls())

// Value returns where a control stands.
func (s *Session) Value(c *Control) float64 { return c.get(s) }

// Says returns where a control stands, or would, in words.
func (c *Control) Says(v float64) string {
	if c.Choices != nil {
		return c.Choices[int(c.held(v))]
	}
	return c.Text(c.held(v))
}

// held brings a value onto the nearest step within the range.
func (c *Control) held(v float64) float64 {
	v = c.Least + math.Round((v-c.Least)/c.Step)*c.Step
	return min(max(math.Round(v*1e6)/1e6, c.Least), c.Most)
}

// Part returns how far a value lies along the control's way, 0 to 1, and At
// the value that lies there.
func (c *Control) Part(v float64) float64 { return (v - c.Least) / (c.Most - c.Least) }

// At returns the value at a part of the control's way.
func (c *Control) At(part float64) float64 { return c.held(c.Least + part*(c.Most-c.Least)) }

// Idle reports whether a control changes nothing as things are: the level of an
// accent that is not struck, the size of a room that is not heard.
func (s *Session) Idle(c *Control) bool {
	e := s.Heard().Registration.Effects
	switch c.ID {
	case "accent.level", "accent.length":
		return e.Accent.Pitch == project.NoAccent
	case "tone.size", "tone.decay", "tone.damping":
		return e.Room == 0
	}
	return false
}

// Set turns a control to a value, held to its range and steps.
func (s *Session) Set(c *Control, v float64) error {
	if v = c.held(v); v == c.get(s) {
		return nil
	}
	return c.set(s, v)
}

// Turn turns a control by some steps.
func (s *Session) Turn(c *Control, steps int) error {
	return s.Set(c, c.get(s)+float64(steps)*c.Step)
}

// Try lets a part of the tone be heard at a value before it is set.
func (s *Session) Try(c *Control, v float64) {
	if c.adjust != nil {
		t := s.Chart().Sounding()
		c.adjust(&t, c.held(v))
		s.sound.SetTone(t)
	}
}

// ResetTone gives the chart's instrument the usual tone.
func (s *Session) ResetTone() error {
	return s.Do(project.SetTone{Tone: project.DefaultTone()})
}

// HasTone reports whether the chart's instrument has a tone of its own.
func (s *Session) HasTone() bool { return s.Chart().Tone != nil }

func percent(v float64) string { return fmt.Sprintf("%.0f %%", 100*v) }

// choice is a control of one of some words.
func choice(id, name, hint string, words []string, get func(*project.Effects) int, set func(*project.Effects, int)) Control {
	return Control{
		ID: id, Name: name, Hint: hint, Most: float64(len(words) - 1), Step: 1, Choices: words,
		get: func(s *Session) float64 { e := s.Heard().Registration.Effects; return float64(get(&e)) },
		set: func(s *Session, v float64) error {
			return s.changeEffects(func(e *project.Effects) { set(e, int(v)) })
		},
	}
}

// amount is a control of a part from none to all.
func amount(id, name, hint string, field func(*project.Effects) *float64) Control {
	return Control{
		ID: id, Name: name, Hint: hint, Most: 1, Step: 0.05, Text: percent,
		get: func(s *Session) float64 { e := s.Heard().Registration.Effects; return *field(&e) },
		set: func(s *Session, v float64) error {
			return s.changeEffects(func(e *project.Effects) { *field(e) = v })
		},
	}
}

func effectControls() []Control {
	var pitches, vibratos []string
	for _, p := range project.AccentPitches {
		pitches = append(pitches, p.String())
	}
	for _, v := range project.Vibratos {
		vibratos = append(vibratos, words.Vibrato(v))
	}
	truth := func(b bool) int {
		if b {
			return 1
		}
		return 0
	}
	list := []Control{
		choice("accent", "Accent", "Struck accent of the upper manual: a partial that sounds at the attack of a detached key and dies away", pitches,
			func(e *project.Effects) int { return int(e.Accent.Pitch) },
			func(e *project.Effects, v int) { e.Accent.Pitch = project.AccentPitches[v] }),
		choice("accent.level", "· level", "Level of the struck accent", []string{"soft", "loud"},
			func(e *project.Effects) int { return truth(e.Accent.Loud) },
			func(e *project.Effects, v int) { e.Accent.Loud = v == 1 }),
		choice("accent.length", "· length", "How long the struck accent takes to die away", []string{"short", "long"},
			func(e *project.Effects) int { return truth(e.Accent.Long) },
			func(e *project.Effects, v int) { e.Accent.Long = v == 1 }),
	}
	for _, d := range []arrange.Division{arrange.Upper, arrange.Lower, arrange.Pedal} {
		list = append(list, choice("vibrato."+d.String(), "Vibrato "+d.String(), "Vibrato of the "+d.String()+" division, alone or with dry sound beside it, as a chorus", vibratos,
			func(e *project.Effects) int { return int(e.Vibrato[d]) },
			func(e *project.Effects, v int) { e.Vibrato[d] = project.Vibratos[v] }))
	}
	return append(list,
		amount("drive", "Drive", "How far the sound is driven into saturation before the speaker", func(e *project.Effects) *float64 { return &e.Drive }),
		amount("room", "Room", "How loud the room around the speaker is", func(e *project.Effects) *float64 { return &e.Room }))
}

// tone is a control of a part of the tone.
func tone(id, name, hint string, least, most, step float64, text func(float64) string, field func(*project.Tone) *float64) Control {
	return Control{
		ID: "tone." + id, Name: name, Hint: hint, OfChart: true, Least: least, Most: most, Step: step, Text: text,
		get: func(s *Session) float64 { t := s.Chart().Sounding(); return *field(&t) },
		set: func(s *Session, v float64) error {
			t := s.Chart().Sounding()
			*field(&t) = v
			return s.Do(project.SetTone{Tone: t})
		},
		adjust: func(t *project.Tone, v float64) { *field(t) = v },
	}
}

func toneControls() []Control {
	level := func(v float64) string {
		if v == 0 {
			return "none"
		}
		return fmt.Sprintf("−%.0f dB", -20*math.Log10(v))
	}
	unit := func(format string) func(float64) string {
		return func(v float64) string { return fmt.Sprintf(format, v) }
	}
	return []Control{
		tone("click", "Key click", "Level of the click of the contacts under the keys", 0, 1, 0.05, percent,
			func(t *project.Tone) *float64 { return &t.Click }),
		tone("leakage", "Leakage", "How much of its neighbours each generator lets through", 0, project.MaxLeakage, 0.0025, level,
			func(t *project.Tone) *float64 { return &t.Leakage }),
		tone("partials", "Partials", "Slightly sharp partials of each generator", 0, project.MaxPartials, 0.005, level,
			func(t *project.Tone) *float64 { return &t.Partials }),
		tone("distance", "Microphones", "Distance of the microphones from the rotary speaker: near ones hear more of the turning", project.MinMicDistance, project.MaxMicDistance, 0.1, unit("%.1f m"),
			func(t *project.Tone) *float64 { return &t.MicDistance }),
		tone("angle", "· angle", "How far each microphone stands from the front: more is wider", 0, project.MaxMicAngle, 5, unit("%.0f°"),
			func(t *project.Tone) *float64 { return &t.MicAngle }),
		tone("stop", "Stop angle", "Where the rotors come to rest when the speaker is stopped, from the front", 0, 345, 15, unit("%.0f°"),
			func(t *project.Tone) *float64 { return &t.StopAngle }),
		tone("size", "Room size", "Mean path of the room", project.MinRoomSize, project.MaxRoomSize, 1, unit("%.0f m"),
			func(t *project.Tone) *float64 { return &t.RoomSize }),
		tone("decay", "· decay", "How long the room takes to fall silent, by 60 dB", project.MinDecay, project.MaxDecay, 0.1, unit("%.1f s"),
			func(t *project.Tone) *float64 { return &t.Decay }),
		tone("damping", "· damping", "What the walls of the room take of high tones: stone to curtains", 0, 1, 0.05, percent,
			func(t *project.Tone) *float64 { return &t.Damping }),
	}
}
