package perform

import (
	"math"
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
		s.glide(max(0, i-1), run, &p.page)
		for ; i < len(s.settings) && s.settings[i].start < run.to; i++ {
			at := p.page.Bend(s.settings[i].start, arrange.RightHand) + run.offset
			s.set(s.settings[i].start, at, i)
			s.glide(i, run, &p.page)
		}
	}
	return s.events
}

// setting is the whole setting of the instrument from a written position on. The
// expression pedal may glide until its end.
type setting struct {
	start, end   project.Ticks
	registration *project.Registration
}

// settings lists the settings of a realisation: those of its cues, or of the
// chart's passages where it has none.
func (p *Performance) settings(r *arrange.Realisation) []setting {
	var list []setting
	add := func(start project.Ticks, registration *project.Registration) {
		n := len(list)
		if n > 0 && list[n-1].start == start { // several cues of one moment, each with all of it
			list[n-1].registration = registration
			return
		}
		if n > 0 {
			list[n-1].end = start
		}
		list = append(list, setting{start, r.Chart.Length(), registration})
	}
	for i := range r.Cues {
		add(r.Cues[i].Start, &r.Cues[i].Registration)
	}
	if list != nil {
		return list
	}
	starts := p.page.starts
	for i := range r.Chart.Passages {
		passage := &r.Chart.Passages[i]
		add(starts[min(passage.First, len(starts)-1)], &passage.Registration)
	}
	return list
}

// swell is where the expression pedal stands at a written position.
func (s *setting) swell(at project.Ticks) float64 {
	return s.registration.SwellAt(float64(at-s.start) / float64(max(1, s.end-s.start)))
}

// setter emits what differs from the setting before.
type setter struct {
	settings []setting
	current  *project.Registration
	swell    float64 // as it was set last
	events   []Event
}

// glideSteps is in how many steps the expression pedal goes all of its way: each is
// less than a fifth of a decibel, and the instrument rounds it.
const glideSteps = 100

// glide emits the steps of the expression pedal in a setting, as far as they lie
// within a run and behind what was set at its start.
func (s *setter) glide(i int, run run, page *page) {
	if i >= len(s.settings) || s.settings[i].registration.Glide == 0 {
		return
	}
	x := &s.settings[i]
	n := project.Ticks(math.Ceil(glideSteps * math.Abs(x.registration.Glide)))
	for k := project.Ticks(1); k <= n; k++ {
		written := x.start + (x.end-x.start)*k/n
		if written <= run.from || written >= min(run.to, x.end) {
			continue
		}
		if v := x.swell(written); v != s.swell {
			r := *x.registration
			r.Swell = v
			s.swell = v
			s.emit(Event{At: page.Bend(written, arrange.RightHand) + run.offset, Written: written, Registration: &r}, SetSwell, v)
		}
	}
}

func (s *setter) set(written, at project.Ticks, i int) {
	if i >= len(s.settings) {
		return
	}
	next, last := s.settings[i].registration, s.current
	swell := s.settings[i].swell(written)
	s.current = next
	e := Event{At: at, Written: written, Registration: next}
	if last == nil || !sameStops(last, next) {
		s.emit(e, SetRegistration, 0)
	}
	if last == nil || last.Rotary != next.Rotary {
		s.emit(e, SetRotary, float64(next.Rotary))
	}
	if last == nil || swell != s.swell {
		s.emit(e, SetSwell, swell)
	}
	s.swell = swell
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
