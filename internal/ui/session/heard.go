package session

import (
	"sort"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// HeardPassage returns the index of the passage that sounds while the
// transport plays, and of the caret's otherwise: what the console shows, and
// what its controls change.
func (s *Session) HeardPassage() int {
	if !s.transport.playing {
		return s.CurrentPassage()
	}
	c := s.Chart()
	return c.PassageAt(c.BarAt(min(s.transport.resume, c.Length()-1)))
}

// Heard returns the passage that sounds, or the caret's.
func (s *Session) Heard() project.Passage { return s.Chart().Passages[s.HeardPassage()] }

// SetRegistrationOf changes the registration of passage i.
func (s *Session) SetRegistrationOf(i int, r project.Registration) error {
	return s.Do(project.SetRegistration{Passage: i, Registration: r})
}

// Next returns what the hands play of the melody, its block and its doubling when
// they strike next, in the order of playing: over repeats, jumps and the end of a
// loop. In a count-in that is what playing begins with. It is nil while nothing
// plays, at the end, and while a recording is made, which leaves the melody out.
func (s *Session) Next() []arrange.Note {
	if !s.transport.playing || s.record != nil {
		return nil
	}
	p := s.transport.performance
	_, _, loop := s.Loop()
	at := max(0, sort.Search(len(p.Played), func(i int) bool { return p.Played[i].Seconds > s.transport.heard })-1)
	after := s.transport.resume
	if !s.transport.count.begun {
		after++
	}
	for range len(p.Played) + 1 {
		b := p.Played[at]
		if next := s.strikes(after, b.Written+b.Length); next != nil {
			return next
		}
		if at++; at == len(p.Played) {
			if !loop {
				return nil
			}
			at -= s.loopedBars()
		}
		after = p.Played[at].Written
	}
	return nil
}

// loopedBars is how many bars a loop plays again.
func (s *Session) loopedBars() int {
	from, to, _ := s.Loop()
	return min(to-from, len(s.transport.performance.Played))
}

// strikes returns the notes that the melody, its block and its doubling begin with
// at the first position from one to before another at which any of them does.
func (s *Session) strikes(from, to project.Ticks) (list []arrange.Note) {
	notes := s.Sounding().Notes
	for i := sort.Search(len(notes), func(i int) bool { return notes[i].Start >= from }); i < len(notes) && notes[i].Start < to; i++ {
		if len(list) > 0 && notes[i].Start > list[0].Start {
			break
		}
		if l := notes[i].Layer; l == arrange.LayerLead || l == arrange.LayerBlock || l == arrange.LayerDouble {
			list = append(list, notes[i])
		}
	}
	return list
}
