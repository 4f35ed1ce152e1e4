package arrange

import (
	"fmt"
	"math"
	"strings"

	"organbook/internal/phrase"
	"organbook/internal/project"
)

// cues sets each passage's registration where it starts, and rotary speaker
// and expression pedal where they change.
func (s *stage) cues() []Cue {
	var out []Cue
	for i := range s.passages {
		p := &s.passages[i]
		reg := p.Registration
		out = append(out, Cue{p.start, CueRegistration, registrationValue(reg), reg})
		if i == 0 || reg.Rotary != s.passages[i-1].Registration.Rotary {
			out = append(out, Cue{p.start, CueRotary, reg.Rotary.String(), reg})
		}
		if i == 0 || reg.Glide != 0 || reg.Swell != s.passages[i-1].Registration.SwellAt(1) {
			out = append(out, Cue{p.start, CueExpression, swellValue(reg), reg})
		}
	}
	return out
}

// registrationValue is the registration's name, or the upper manual's
// drawbars where it has none.
func registrationValue(r project.Registration) string {
	if r.Name != "" {
		return r.Name
	}
	var b strings.Builder
	for _, d := range r.Upper {
		fmt.Fprint(&b, d)
	}
	return b.String()
}

// Words is the value as a sentence has it: a rotary speed and a built-in
// registration are words of the program, and that one was changed; the rest is the
// user's own or a figure.
func (q *Cue) Words() phrase.Phrase {
	switch base, changed := strings.CutSuffix(q.Value, project.ChangedMark); {
	case q.Kind == CueRotary:
		return phrase.Of(q.Value)
	case q.Kind == CueRegistration && changed:
		return phrase.Of("%s"+project.ChangedMark, nameWords(base))
	case q.Kind == CueRegistration:
		return nameWords(q.Value)
	}
	return phrase.Verbatim(q.Value)
}

// nameWords is the name of a registration as a sentence has it.
func nameWords(name string) phrase.Phrase {
	if _, builtin := project.RegistrationByName(name); builtin {
		return phrase.Of(name)
	}
	return phrase.Verbatim(name)
}

// swellValue is where the pedal stands, or from where to where it glides.
func swellValue(r project.Registration) string {
	if r.Glide == 0 {
		return percent(r.Swell)
	}
	return fmt.Sprintf("%.0f → %s", math.Round(100*r.Swell), percent(r.SwellAt(1)))
}

func percent(part float64) string { return fmt.Sprintf("%.0f %%", math.Round(100*part)) }
