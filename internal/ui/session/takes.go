package session

import (
	"fmt"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// Takes returns the names of the current passage's takes and which is in use; an
// empty list where there is only one arrangement.
func (s *Session) Takes() (names []string, inUse int) {
	p := s.Passage()
	for i := range p.Takes {
		names = append(names, takeTitle(p, i))
	}
	return names, p.Take
}

func takeTitle(p project.Passage, i int) string {
	if name := p.Takes[i].Name; name != "" {
		return name
	}
	return fmt.Sprintf("Take %d", i+1)
}

// HasTakes reports whether the current passage has a take to switch to.
func (s *Session) HasTakes() bool { return len(s.Passage().Takes) > 1 }

// TakeName returns the name of the take in use, "" where there is only one.
func (s *Session) TakeName() string { return s.Passage().TakeName() }

// MakeTake keeps the current passage's arrangement and goes on with a copy of it.
func (s *Session) MakeTake() error { return s.Do(project.MakeTake{Passage: s.CurrentPassage()}) }

// UseTake puts a take of the current passage in use.
func (s *Session) UseTake(i int) error {
	if err := s.Do(project.UseTake{Passage: s.CurrentPassage(), Take: i}); err != nil {
		return err
	}
	s.Say("Now " + takeTitle(s.Passage(), s.Passage().Take) + ".")
	return nil
}

// StepTake goes to the next or previous take, round and round.
func (s *Session) StepTake(by int) error {
	p := s.Passage()
	if n := len(p.Takes); n > 0 {
		return s.UseTake(((p.Take+by)%n + n) % n)
	}
	return nil
}

// RenameTake names the take in use; a passage without takes makes one of it.
func (s *Session) RenameTake(name string) error {
	i := s.CurrentPassage()
	if len(s.Passage().Takes) == 0 {
		return s.Do(project.MakeTake{Passage: i, NewName: name})
	}
	return s.Do(project.RenameTake{Passage: i, Take: s.Passage().Take, To: name})
}

// DropTake deletes the take in use; the one before it comes into use.
func (s *Session) DropTake() error {
	return s.Do(project.DropTake{Passage: s.CurrentPassage(), Take: s.Passage().Take})
}

// surpriseSeeds bounds how many seeds are tried for a proposal that is new.
const surpriseSeeds = 8

// Surprise adds a take that differs in a stated way from the one in use and says
// how: the first proposal that no take of the passage has yet.
func (s *Session) Surprise() error {
	i, p := s.CurrentPassage(), s.Passage()
	for seed := range int64(surpriseSeeds) {
		for _, offer := range arrange.Surprise(s.Chart(), i, s.options(), seed) {
			if known(p, offer.Treatment) {
				continue
			}
			return s.KeepProposal(offer)
		}
	}
	s.Say("Every proposal for this passage is among its takes already.")
	return nil
}

// known reports whether a passage or one of its takes has the treatment.
func known(p project.Passage, t project.Treatment) bool {
	for i := range p.Takes {
		if i != p.Take && p.Takes[i].Treatment == t {
			return true
		}
	}
	return p.Treatment == t
}

// comparison plays two takes of a passage in turn, a pass each.
type comparison struct {
	other *arrange.Realisation
	names [2]string
	// second reports that the other take is the one heard now.
	second bool
	// before is the last position heard, to notice the loop going round.
	before project.Ticks
	// bars are looped while they are compared; loop is what was looped until then.
	bars, loop [2]int
}

// Comparing reports whether two takes play in turn, and the name of the one heard.
func (s *Session) Comparing() (name string, on bool) {
	c := s.transport.compare
	if c == nil {
		return "", false
	}
	return c.names[b2i(c.second)], true
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// CompareTakes loops the current passage and plays the next take and the one in
// use in turn, a pass each; called again it stops.
func (s *Session) CompareTakes() error {
	if s.transport.compare != nil {
		s.Stop()
		return nil
	}
	p := s.Passage()
	return s.CompareTake((p.Take + 1) % max(len(p.Takes), 1))
}

// Sounding returns the realisation that plays: of two takes in turn, the one
// whose pass it is.
func (s *Session) Sounding() *arrange.Realisation {
	if c := s.transport.compare; c != nil && c.second {
		return c.other
	}
	return s.real
}

// takeTurns changes takes when the loop has gone round: when the position falls
// back by more than a quarter of the loop. It falls back a little whenever the sound
// goes on with something else, by what the device still has to play.
func (s *Session) takeTurns(t project.Ticks) {
	c := s.transport.compare
	if c == nil {
		return
	}
	from, to, _ := s.Loop()
	if 4*(c.before-t) > s.Chart().BarStart(to)-s.Chart().BarStart(from) {
		c.second = !c.second
		c.before = t
		_ = s.again(t) // an error was already said
		s.Say("Comparing: " + c.names[b2i(c.second)] + ".")
		return
	}
	c.before = t
}

// PinVoicing keeps the voicing of the shown block for the bench's note and leaves
// the rest to the arranger.
func (s *Session) PinVoicing() error {
	return s.pinPart(voicingPin)
}

// PinTechnique keeps the technique of the shown block for the bench's note.
func (s *Session) PinTechnique() error {
	return s.pinPart(techniquePin)
}

func (s *Session) pinPart(pin func(arrange.Block) project.SetPin) error {
	if s.InGroup() {
		return s.pinGroup(pin)
	}
	step, ok := s.Step()
	if !ok {
		return nil
	}
	block, _ := s.Shown()
	sel := s.sel
	return s.doThen(pinAt(step.Start, pin(block)), func() { s.sel = sel })
}

// ChangeTreatment changes the current passage's treatment.
func (s *Session) ChangeTreatment(change func(*project.Treatment)) error {
	t := s.Passage().Treatment
	change(&t)
	return s.SetTreatment(t)
}

// SetFamily prefers or forbids a family in the current passage, or neither.
func (s *Session) SetFamily(sixth theory.Sixth, prefer, forbid bool) error {
	return s.ChangeTreatment(func(t *project.Treatment) {
		one := project.FamiliesOf(sixth)
		t.Prefer, t.Forbid = t.Prefer&^one, t.Forbid&^one
		switch {
		case prefer:
			t.Prefer |= one
		case forbid:
			t.Forbid |= one
		}
	})
}

// BorrowName, ColourName and LeaningName return the words as musicians write them.
func BorrowName(b project.Borrow) string {
	return [...]string{"when the melody needs it", "never", "freely"}[b]
}

// ColourName returns the colour of dominants as musicians write it.
func ColourName(d project.DominantColour) string {
	return [...]string{"as their targets ask", "flat nine", "natural nine", "altered"}[d]
}

// LeaningName returns the leaning as musicians write it.
func LeaningName(l project.Leaning) string {
	return [...]string{"nowhere", "more borrowed", "smoother", "contrary motion", "brighter dominants"}[l]
}

// ReachWeightName returns how strongly reach counts as musicians write it.
func ReachWeightName(w project.ReachWeight) string {
	return [...]string{"as usual", "strictly: within comfort", "not at all: for any hands"}[w]
}

// SetBlockRange sets the lowest and the highest lead, as keys, that gets a block
// in the current passage; 0 is the usual limit.
func (s *Session) SetBlockRange(low, high int) error {
	if low == project.LowestBlockLead {
		low = 0
	}
	if high == project.HighestBlockLead {
		high = 0
	}
	return s.ChangeTreatment(func(t *project.Treatment) { t.BlocksFrom, t.BlocksTo = low, high })
}

// MoveBlockRange moves the ends of that range by semitones.
func (s *Session) MoveBlockRange(low, high int) error {
	t := s.Passage().Treatment
	from, to := t.BlockRange()
	return s.SetBlockRange(from+low, to+high)
}

// Families returns the families that serve the chord of the bench's note, best
// first, each with what it sounds as and why.
func (s *Session) Families() []theory.Service {
	i, ok := s.Current()
	if !ok {
		return nil
	}
	return s.real.Families(i)
}
