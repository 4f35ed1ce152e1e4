package project

import "math"

// Registrations lists the built-in registrations in menu order. Each stands in
// for a section of the band; the drawbar figures are this project's own, found
// by thinking of the section's weight: its fundamental, how much of its upper
// partials it shows, and how far the lower manual and pedals step back.
func Registrations() []Registration {
	return []Registration{
		{"full section", Drawbars{8, 6, 8, 7, 4, 5, 2, 2, 4}, Drawbars{5, 3, 7, 5, 2, 2}, [2]uint8{7, 5}, RotaryFast, 0.7, 0, Effects{Drive: 0.1, Room: 0.3}},
		{"shout brass", Drawbars{8, 7, 8, 8, 7, 8, 6, 6, 8}, Drawbars{6, 5, 8, 6, 3, 4, 0, 0, 2}, [2]uint8{8, 6}, RotaryFast, 0.9, 0, Effects{Drive: 0.25, Room: 0.35}},
		{"low brass", Drawbars{8, 8, 6, 3, 1}, Drawbars{7, 5, 6, 2}, [2]uint8{8, 4}, RotarySlow, 0.65, 0, Effects{Drive: 0.1, Room: 0.3}},
		{"muted brass", Drawbars{0, 2, 6, 3, 7, 4, 5, 3, 1}, Drawbars{0, 0, 6, 4, 2}, [2]uint8{6, 3}, RotarySlow, 0.65, 0, Effects{Vibrato: [3]Vibrato{ChorusLight}, Room: 0.3}},
		{"open brass", Drawbars{3, 5, 8, 8, 6, 5, 4, 2, 2}, Drawbars{2, 2, 7, 5, 3, 1}, [2]uint8{7, 5}, RotarySlow, 0.75, 0, Effects{Room: 0.3}},
		{"reeds", Drawbars{2, 0, 7, 3, 6, 1, 5, 4, 0}, Drawbars{0, 0, 7, 2, 4}, [2]uint8{6, 3}, RotarySlow, 0.6, 0, Effects{Vibrato: [3]Vibrato{ChorusMedium, ChorusLight}, Room: 0.3}},
		{"low reeds", Drawbars{6, 1, 5, 1, 5, 0, 3}, Drawbars{5, 0, 6, 1, 3}, [2]uint8{6, 3}, RotarySlow, 0.55, 0, Effects{Vibrato: [3]Vibrato{ChorusMedium, ChorusLight}, Room: 0.3}},
		{"solo flute", Drawbars{0, 0, 8, 3, 0, 1}, Drawbars{0, 0, 5, 2}, [2]uint8{5, 2}, RotarySlow, 0.6, 0, Effects{Accent: Accent{Pitch: AccentTwelfth}, Room: 0.3}},
		{"solo reed", Drawbars{0, 0, 8, 1, 7, 0, 4, 2}, Drawbars{0, 0, 5, 3, 1}, [2]uint8{5, 3}, RotaryFast, 0.65, 0, Effects{Accent: Accent{Pitch: AccentOctave}, Vibrato: [3]Vibrato{VibratoLight}, Room: 0.3}},
		{"soft comp", Drawbars{0, 4, 7, 3}, Drawbars{0, 0, 6, 4}, [2]uint8{5, 2}, RotaryStopped, 0.7, 0, Effects{Room: 0.25}},
		{"round bass", Drawbars{4, 2, 6, 3}, Drawbars{8, 0, 5, 1}, [2]uint8{8, 2}, RotaryStopped, 0.55, 0, Effects{Room: 0.2}},
		{"strings", Drawbars{0, 2, 5, 5, 5, 5, 4, 4, 4}, Drawbars{0, 1, 5, 4, 3, 2, 1}, [2]uint8{6, 3}, RotarySlow, 0.65, 0, Effects{Vibrato: [3]Vibrato{ChorusDeep, ChorusDeep}, Room: 0.45}},
		{"ballad choir", Drawbars{6, 2, 7, 4, 0, 2, 0, 0, 1}, Drawbars{3, 0, 6, 2}, [2]uint8{7, 2}, RotarySlow, 0.45, 0, Effects{Vibrato: [3]Vibrato{ChorusDeep, ChorusMedium}, Room: 0.45}},
	}
}

// RegistrationByName returns the built-in registration of that name.
func RegistrationByName(name string) (Registration, bool) {
	for _, r := range Registrations() {
		if r.Name == name {
			return r, true
		}
	}
	return Registration{}, false
}

// SwellAt returns the expression pedal, 0 to 1, when a part of the passage has gone
// by, from 0 at its start to 1 at its end.
func (r Registration) SwellAt(part float64) float64 {
	return min(max(r.Swell+min(max(part, 0), 1)*r.Glide, 0), 1)
}

// WithSwell returns the registration with the pedal elsewhere at the start, from 0
// to 1. A pedal that glides arrives where it did.
func (r Registration) WithSwell(v float64) Registration {
	end, glides := r.SwellAt(1), r.Glide != 0
	r.Swell = min(max(v, 0), 1)
	if glides {
		r = r.GlidingTo(end)
	}
	return r
}

// GlidingTo returns the registration with a pedal that glides from where it is to
// another place, 0 to 1, or rests if that is the same.
func (r Registration) GlidingTo(end float64) Registration {
	const digits = 1e9 // a difference of two decimal fractions is one again
	r.Glide = math.Round(digits*(min(max(end, 0), 1)-r.Swell)) / digits
	return r
}

// cut returns the registrations of a passage's parts, where it is cut in two.
func (r Registration) cut(part float64) (before, after Registration) {
	if r.Glide == 0 {
		return r, r
	}
	at, end := r.SwellAt(part), r.SwellAt(1)
	before, after = r.GlidingTo(at), r
	after.Swell = at
	return before, after.GlidingTo(end)
}

// joined returns the registration of two passages as one: the former's, with a pedal
// that glides on where the latter goes on gliding.
func (r Registration) joined(with Registration) Registration {
	if r.Glide*with.Glide > 0 && math.Abs(r.SwellAt(1)-with.Swell) < 1e-6 {
		return r.GlidingTo(with.SwellAt(1))
	}
	return r
}
