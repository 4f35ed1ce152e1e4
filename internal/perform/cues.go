package perform

import (
	"sort"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// cueEvents sets the instrument at the start and changes it wherever the
// played order comes upon another setting: at a cue, and after a jump.
func (p *Performance) cueEvents(r *arrange.Realisation, runs []run) []Event {
	s := setter{settings: p.settings(r)}
	for _, run := range runs {
		i := sort.Search(len(s.settings), func(i int) bool { return s.settings[i].start > run.from })
		s.set(run.from, run.from+run.offset, max(0, i-1))
		for ; i < len(s.settings) && s.settings[i].start < run.to; i++ {
			at := p.page.Bend(s.settings[i].start, arrange.RightHand) + run.offset
			s.set(s.settings[i].start, at, i)
		}
	}
	return s.events
}

// setting is the whole setting of the instrument from a written position on.
type setting struct {
	start        project.Ticks
	registration *project.Registration
}

// settings lists the settings of a realisation: those of its cues, or of the
// chart's passages where it has none.
func (p *Performance) settings(r *arrange.Realisation) []setting {
	var list []setting
	for i := range r.Cues {
		list = append(list, setting{r.Cues[i].Start, &r.Cues[i].Registration})
	}
	if list != nil {
		return list
	}
	starts := p.page.starts
	for i := range r.Chart.Passages {
		passage := &r.Chart.Passages[i]
		list = append(list, setting{starts[min(passage.First, len(starts)-1)], &passage.Registration})
	}
	return list
}

// setter emits what differs from the setting before.
type setter struct {
	settings []setting
	current  *project.Registration
	events   []Event
}

func (s *setter) set(written, at project.Ticks, i int) {
	if i >= len(s.settings) {
		return
	}
	next, last := s.settings[i].registration, s.current
	s.current = next
	e := Event{At: at, Written: written, Registration: next}
	if last == nil || !sameStops(last, next) {
		s.emit(e, SetRegistration, 0)
	}
	if last == nil || last.Rotary != next.Rotary {
		s.emit(e, SetRotary, float64(next.Rotary))
	}
	if last == nil || last.Swell != next.Swell {
		s.emit(e, SetSwell, next.Swell)
	}
}

func (s *setter) emit(e Event, kind Kind, value float64) {
	e.Kind, e.Value = kind, value
	s.events = append(s.events, e)
}

// sameStops reports whether two registrations draw the same, apart from the
// rotary speaker and the swell.
func sameStops(a, b *project.Registration) bool {
	return a.Name == b.Name && a.Upper == b.Upper && a.Lower == b.Lower && a.Pedal == b.Pedal && a.Effects == b.Effects
}
