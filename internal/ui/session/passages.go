package session

import (
	"fmt"
	"strings"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/words"
)

// Voicings lists the voicings a treatment can ask for, in menu order.
var Voicings = []theory.Voicing{
	theory.Close, theory.Drop2, theory.Drop3, theory.Drop24, theory.DoubleLead,
	theory.ThreePart, theory.Pair, theory.Spread, theory.Fourths, theory.Octaves, theory.UnisonVoicing,
}

// VoicingName returns the voicing's name as musicians write it.
func VoicingName(v theory.Voicing) string { return words.Voicing(v) }

// Passage returns the passage the caret stands in.
func (s *Session) Passage() project.Passage { return s.Chart().Passages[s.CurrentPassage()] }

// PassageTitle names a passage for the strip; one without a name is known by
// its bars.
func (s *Session) PassageTitle(i int) string {
	c := s.Chart()
	if name := c.Passages[i].Name; name != "" {
		return name
	}
	first, end := c.PassageBars(i)
	if end-first == 1 {
		return fmt.Sprintf("Bar %d", c.BarNumber(first))
	}
	return fmt.Sprintf("Bars %d–%d", c.BarNumber(first), c.BarNumber(end-1))
}

// PassageQuoted is a passage's title within a sentence that is translated as a
// whole: a name that was given to it is quoted.
func (s *Session) PassageQuoted(i int) string {
	title := s.PassageTitle(i)
	if s.Chart().Passages[i].Name == "" {
		return title
	}
	return Quoted(title)
}

// StepPassage moves the caret to the start of the next or previous passage.
func (s *Session) StepPassage(forward bool) {
	i := s.CurrentPassage() - 1
	if forward {
		i += 2
	}
	s.SelectPassageAt(i)
}

// SelectPassageAt moves the caret to the start of passage i; out of range it
// does nothing.
func (s *Session) SelectPassageAt(i int) {
	c := s.Chart()
	if i >= 0 && i < len(c.Passages) {
		s.SetCaret(c.BarStart(c.Passages[i].First))
	}
}

// SelectPassage selects the bars and notes of the current passage.
func (s *Session) SelectPassage() {
	first, end := s.Chart().PassageBars(s.CurrentPassage())
	s.SelectBars(first, end-1)
}

// CanSplitPassage reports whether a new passage could start at the caret's bar.
func (s *Session) CanSplitPassage() bool {
	from, _ := s.BarSpan()
	return s.Chart().Passages[s.CurrentPassage()].First != from
}

// SplitPassage starts a new passage at the caret's bar, named after the
// section label there.
func (s *Session) SplitPassage() error {
	from, b := s.Bar()
	return s.Do(project.SplitPassage{Bar: from, NewName: b.Section})
}

// CanJoinPassage reports whether there is a passage before the current one.
func (s *Session) CanJoinPassage() bool { return s.CurrentPassage() > 0 }

// JoinPassage gives the current passage's bars to the one before.
func (s *Session) JoinPassage() error { return s.Do(project.JoinPassage{Passage: s.CurrentPassage()}) }

// MoveBorder makes passage i start at a bar.
func (s *Session) MoveBorder(i, bar int) error {
	return s.Do(project.MovePassageBorder{Passage: i, To: bar})
}

// ShiftBorder lets the current passage start so many bars later; the caret
// stays in it.
func (s *Session) ShiftBorder(by int) error {
	i := s.CurrentPassage()
	to := s.Chart().Passages[i].First + by
	return s.doThen(project.MovePassageBorder{Passage: i, To: to}, func() {
		start := s.Chart().BarStart(to)
		s.sel = Selection{Caret: start, Anchor: start}
	})
}

// RenamePassage names the current passage.
func (s *Session) RenamePassage(name string) error {
	return s.RenamePassageAt(s.CurrentPassage(), name)
}

// RenamePassageAt names passage i.
func (s *Session) RenamePassageAt(i int, name string) error {
	return s.Do(project.RenamePassage{Passage: i, To: name})
}

// SetTreatment changes the current passage's treatment as a whole.
func (s *Session) SetTreatment(t project.Treatment) error {
	return s.Do(project.SetTreatment{Passage: s.CurrentPassage(), Treatment: t})
}

// SetVoicing changes the current passage's voicing.
func (s *Session) SetVoicing(v theory.Voicing) error {
	t := s.Passage().Treatment
	t.Voicing = v
	return s.SetTreatment(t)
}

// ToggleTwoFive switches playing a ii–V as V in the current passage.
func (s *Session) ToggleTwoFive() error {
	t := s.Passage().Treatment
	t.TwoFiveAsFive = !t.TwoFiveAsFive
	return s.SetTreatment(t)
}

// ShiftLead moves the current passage's lead by octaves.
func (s *Session) ShiftLead(by int) error {
	t := s.Passage().Treatment
	t.LeadOctave = min(max(t.LeadOctave+by, -project.MaxLeadOctave), project.MaxLeadOctave)
	return s.SetTreatment(t)
}

// SetPlan changes the current passage's hand plan.
func (s *Session) SetPlan(p project.HandPlan) error {
	return s.Do(project.SetPlan{Passage: s.CurrentPassage(), Plan: p})
}

// SetBass changes what the feet play in the current passage.
func (s *Session) SetBass(b project.BassStyle) error {
	return s.Do(project.SetBass{Passage: s.CurrentPassage(), Bass: b})
}

// SetRegistration changes the registration of the passage that is heard.
func (s *Session) SetRegistration(r project.Registration) error {
	return s.SetRegistrationOf(s.HeardPassage(), r)
}

// SetRotary changes the heard passage's rotary speed.
func (s *Session) SetRotary(speed project.Rotary) error {
	r := s.Heard().Registration
	r.Rotary = speed
	return s.SetRegistration(r)
}

// NextRotary goes to the next speed, round and round.
func (s *Session) NextRotary() error {
	n := len(project.RotarySpeeds)
	return s.SetRotary(project.RotarySpeeds[(int(s.Heard().Registration.Rotary)+1)%n])
}

// SetSwell opens the expression pedal to v, 0 to 1, where the heard passage starts.
// If it glides, it arrives where it did.
func (s *Session) SetSwell(v float64) error {
	return s.SetRegistration(s.Heard().Registration.WithSwell(v))
}

// ChangeSwell opens or closes the expression pedal by a part.
func (s *Session) ChangeSwell(by float64) error {
	return s.SetSwell(hundredths(s.Heard().Registration.Swell + by))
}

// SetSwellAtEnd lets the expression pedal glide to v, 0 to 1, in the course of the
// heard passage; where it is already, it rests.
func (s *Session) SetSwellAtEnd(v float64) error {
	return s.SetRegistration(s.Heard().Registration.GlidingTo(v))
}

// ChangeSwellAtEnd opens or closes the expression pedal at the end of the heard
// passage by a part.
func (s *Session) ChangeSwellAtEnd(by float64) error {
	return s.SetSwellAtEnd(hundredths(s.Heard().Registration.SwellAt(1) + by))
}

// SwellAt is where the chart has the expression pedal at a position.
func (s *Session) SwellAt(t project.Ticks) float64 {
	c := s.Chart()
	i := c.PassageAt(c.BarAt(min(max(t, 0), c.Length()-1)))
	start, end := c.PassageTime(i)
	return c.Passages[i].Registration.SwellAt(float64(t-start) / float64(max(1, end-start)))
}

// Drawbars is how many drawbars the console has: nine a manual and two for
// the pedals.
const Drawbars = 9 + 9 + 2

// DrawbarPlace turns a drawbar's place in the console, 0 to Drawbars-1 from
// the upper manual's 16′ on, into its division and its place there.
func DrawbarPlace(i int) (d arrange.Division, bar int) {
	switch {
	case i < 9:
		return arrange.Upper, i
	case i < 18:
		return arrange.Lower, i - 9
	}
	return arrange.Pedal, i - 18
}

// DrawbarValue returns a drawbar's setting in the heard passage, 0 to 8.
func (s *Session) DrawbarValue(i int) int {
	r := s.Heard().Registration
	return int(*drawbarOf(&r, i))
}

// drawbarOf points at a drawbar of a registration.
func drawbarOf(r *project.Registration, i int) *uint8 {
	switch d, bar := DrawbarPlace(i); d {
	case arrange.Upper:
		return &r.Upper[bar]
	case arrange.Lower:
		return &r.Lower[bar]
	default:
		return &r.Pedal[bar]
	}
}

// SetDrawbar pulls a drawbar of the heard passage to v, held to 0 to 8. A
// registration that was changed is no longer the one of its name.
func (s *Session) SetDrawbar(i, v int) error {
	r := s.Heard().Registration
	*drawbarOf(&r, i) = uint8(min(max(v, 0), project.MaxDrawbar))
	if r == s.Heard().Registration {
		return nil
	}
	return s.SetRegistration(s.renamed(r))
}

// renamed marks a registration that has the name of a built-in one, or of one that
// the user keeps, as changed where drawbars or effects are not as there, and takes
// the mark away where they are again.
func (s *Session) renamed(r project.Registration) project.Registration {
	name := strings.TrimSuffix(r.Name, project.ChangedMark)
	known, ok := s.knownRegistration(name)
	if !ok {
		return r
	}
	if r.Name = name; !r.SameStops(known) {
		r.Name += project.ChangedMark
	}
	return r
}

func (s *Session) knownRegistration(name string) (project.Registration, bool) {
	if r, ok := project.RegistrationByName(name); ok || s.ownRegistrations == nil {
		return r, ok
	}
	for _, r := range s.ownRegistrations() {
		if r.Name == name {
			return r, true
		}
	}
	return project.Registration{}, false
}

// KnowRegistrations tells the session where the registrations stand that the
// user keeps.
func (s *Session) KnowRegistrations(list func() []project.Registration) { s.ownRegistrations = list }

// SetPassage changes name, treatment, hand plan and bass of the current
// passage in one step.
func (s *Session) SetPassage(p project.Passage) error {
	i := s.CurrentPassage()
	return s.Do(sequence{"passage", []project.Edit{
		project.RenamePassage{Passage: i, To: p.Name},
		project.SetTreatment{Passage: i, Treatment: p.Treatment},
		project.SetPlan{Passage: i, Plan: p.Plan},
		project.SetBass{Passage: i, Bass: p.Bass},
	}})
}

// PlanName returns the hand plan as musicians write it.
func PlanName(p project.HandPlan) string { return words.Plan(p) }
