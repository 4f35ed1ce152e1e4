package session

import (
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/theory"
)

// BenchFilter says which alternatives the bench lists. The zero value lists all.
type BenchFilter struct {
	// InVoicing lists only blocks in Voicing, and more of them.
	InVoicing bool
	Voicing   theory.Voicing
	// OfFamily lists only blocks of families with this colour.
	OfFamily bool
	Family   theory.Sixth
	// Reach lists only what the player's hands take in.
	Reach ReachFilter
}

// ReachFilter says how easy to reach the listed alternatives must be.
type ReachFilter uint8

// The filters of reach.
const (
	AnyReach ReachFilter = iota
	// WithinReach leaves out what the hands of the plan cannot take in.
	WithinReach
	// InComfort leaves out what they hold with effort, too.
	InComfort
)

// ReachFilters lists the filters in menu order.
var ReachFilters = []ReachFilter{AnyReach, WithinReach, InComfort}

var reachFilterWords = [...]string{"any reach", "within reach", "in comfort"}

// String returns "any reach", "within reach" or "in comfort".
func (r ReachFilter) String() string { return reachFilterWords[r] }

// The stretches, as arrange.PlanCost weighs them, up to which a block is in
// comfort and within reach.
const comfortable, reachable = 0, 100

// Stretch tells how far a block stretches the hands of the current passage.
func (s *Session) Stretch(b arrange.Block) ReachFilter {
	switch cost := arrange.PlanCost(s.Performer(), s.Passage().Plan, b.Voices); {
	case cost <= comfortable:
		return InComfort
	case cost <= reachable:
		return WithinReach
	}
	return AnyReach
}

// BenchFilter returns the filter in force.
func (s *Session) BenchFilter() BenchFilter { return s.filter }

// SetBenchFilter changes what the bench lists. The chart stays as it is.
func (s *Session) SetBenchFilter(f BenchFilter) {
	s.filter, s.alternatives, s.grouped = f, nil, nil
	s.notify(SelectionChanged)
}

// ChangeBenchFilter changes a part of the filter.
func (s *Session) ChangeBenchFilter(change func(*BenchFilter)) {
	f := s.filter
	change(&f)
	s.SetBenchFilter(f)
}

// offered returns what the bench lists for step i, and how many blocks there
// are before the filter.
func (s *Session) offered(i int) (list []arrange.Alternative, all int) {
	f := s.filter
	list = s.real.Alternatives(i)
	all = len(list)
	if f.InVoicing {
		list = s.real.AlternativesIn(i, f.Voicing)
	}
	return slices.DeleteFunc(list, func(a arrange.Alternative) bool { return !s.lets(f, a.Block) }), all
}

// lets reports whether a filter lets a block through.
func (s *Session) lets(f BenchFilter, b arrange.Block) bool {
	if f.OfFamily && (!b.Family.IsValid() || b.Family.Sixth() != f.Family) {
		return false
	}
	return s.Stretch(b) >= f.Reach && (!f.InVoicing || b.Voicing == f.Voicing)
}
