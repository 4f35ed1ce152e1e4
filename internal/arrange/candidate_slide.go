package arrange

import (
	"slices"

	"organbook/internal/theory"
)

// A note is offered at most so many slides, into the next note's cheapest
// blocks; fewer where nothing asks for one.
const (
	slideLimit        = 5
	slideLimitUnasked = 2
)

// approachable reports whether the note may lead on by a block that is not the
// chord's own: it is short, and no note of the chord. A whole block that moves in
// parallel contradicts the chord in force in every voice. Under a passing note
// the ear takes that for movement; on a chord note, or on a note long enough to
// be heard as harmony, it is a wrong chord.
func (m *maker) approachable() bool {
	return m.spot.short && !hasPC(m.spot.tones, m.spot.lead.Name())
}

// slides offers parallel approaches into the candidates of the next note: a
// whole block moved by a semitone, or by a tone under a note that is on no
// family of the chord. Both are for short notes outside the chord only (see
// approachable).
func (m *maker) slides(nextLead theory.Pitch, next []candidate) {
	if len(next) == 0 || !m.approachable() {
		return
	}
	by := theory.Between(nextLead, m.spot.lead)
	size := max(by.Semitones(), -by.Semitones())
	outside := !m.onFamily() && !m.inOtherMode()
	if size < 1 || size > 2 || size == 2 && !outside {
		return
	}
	cost, limit := slideUnasked, slideLimitUnasked
	switch {
	case outside && size == 1:
		cost, limit = slide, slideLimit
	case outside:
		cost, limit = slideByTone, slideLimit
	}
	if outside && m.spot.customary() || m.inOtherMode() {
		cost += slideFromTension
	}
	for _, i := range cheapest(next, limit) {
		if voices := theory.Slide(next[i].voices, by); voices != nil {
			voices = readable(voices, m.spot.lead)
			m.addSpread(candidate{origin: fromNext, technique: theory.Approach, voicing: next[i].voicing, into: i + 1},
				voices, pay(chargeSlide, cost).plus(chargeUnrest, m.spot.restless))
		}
	}
}

// readable respells the voices of a slide that parallel spelling would load
// with double accidentals, or with the flats and sharps of white keys.
func readable(voices []theory.Pitch, lead theory.Pitch) []theory.Pitch {
	voices[0] = lead
	for i, v := range voices[1:] {
		f := v.Name().Fifths()
		for f > 6 { // beyond F#
			f -= 12
		}
		for f < -6 { // beyond Gb
			f += 12
		}
		voices[i+1] = theory.PitchAt(theory.NameFromFifths(f), v.Key())
	}
	return voices
}

// doublesUnasked reports whether a block holds a note twice though its voicing
// is not one that doubles.
func doublesUnasked(c *candidate) bool {
	if c.voicing == theory.DoubleLead || c.voicing == theory.Octaves {
		return false
	}
	var seen theory.PCSet
	for _, v := range c.voices {
		seen = seen.With(v.Name().PC())
	}
	return seen.Len() < c.n
}

// cheapest returns the indexes of up to limit whole blocks that cost least by
// themselves, in ascending order of cost. A slide may be the goal of another, as
// in a chromatic run; bare leads and pins that double a note are no goals.
func cheapest(list []candidate, limit int) []int {
	var out []int
	for i := range list {
		if list[i].n > 1 && list[i].technique != theory.Alone && list[i].cost < pinBroken && !doublesUnasked(&list[i]) {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return list[a].cost - list[b].cost })
	return out[:min(limit, len(out))]
}
