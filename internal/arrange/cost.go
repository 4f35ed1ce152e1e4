package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// ownCost is what a block costs by itself under its lead, apart from how it
// came about: dissonance against the lead, mud, reach, and quarrels with the
// symbol.
func (s *stage) ownCost(sp *spot, c *candidate) price {
	keys := pay(chargeKeys, s.keyCost(sp, c))
	if c.n == 1 {
		return keys
	}
	return leadPrice(sp, c).plus(chargeInnerRub, innerDissonance(c)).plus(chargeMud, mud(c)).and(keys).
		plus(chargeReach, s.reachCost(sp, c)).plus(chargeClash, clashes(sp, c)).plus(chargeRegister, registerCost(c))
}

// registerCost weighs a block, or a doubling, under a lead out of range.
func registerCost(c *candidate) int {
	switch {
	case c.keys[0] >= lowestBlockLead && c.keys[0] <= highestBlockLead:
		return 0
	case c.n > 2:
		return outOfRegister
	case c.keys[0] < lowestBlockLead:
		return lowDoubling
	}
	return 0
}

// leadDissonance is what the lead suffers from the voices under it.
func leadDissonance(sp *spot, c *candidate) int { return leadPrice(sp, c).total }

// leadPrice looks for minor ninths and semitones under the lead.
func leadPrice(sp *spot, c *candidate) (cost price) {
	for k := 1; k < c.n; k++ {
		down := int(c.keys[0] - c.keys[k])
		switch {
		case down == 1:
			cost = cost.plus(chargeRub, rub)
		case down == 11:
			cost = cost.plus(chargeSeventhUnder, seventhUnder)
		case down > 12 && down%12 == 1 && !asksForNinth(sp, c.voices[k].Name()):
			cost = cost.plus(chargeNinth, minorNinth)
		}
	}
	return cost
}

// asksForNinth reports whether the symbol itself holds both the lead and the
// note a minor ninth below it, as C7b9 does.
func asksForNinth(sp *spot, under theory.Name) bool {
	return hasPC(sp.tones, sp.lead.Name()) && hasPC(sp.tones, under)
}

func innerDissonance(c *candidate) (cost int) {
	for k := 2; k < c.n; k++ {
		if c.keys[k-1]-c.keys[k] == 1 {
			cost += innerRub
		}
	}
	return cost
}

// lowLimits is the lowest key at which an interval of that many semitones may
// have its lower note before it turns to mud: the arranger's usual limits, for
// intervals below an octave.
var lowLimits = [12]int16{
	1: 52, 2: 51, 3: 48, 4: 46, 5: 46, 6: 46,
	7: 43, 8: 43, 9: 41, 10: 41, 11: 41,
}

func mud(c *candidate) (cost int) {
	for k := 1; k < c.n; k++ {
		if tooDeep(c.keys[k-1], c.keys[k]) {
			cost += tooLow
		}
	}
	return cost
}

// tooDeep reports whether the interval between two keys lies under its limit.
func tooDeep(high, low int16) bool {
	size := high - low
	return size > 0 && size < 12 && low < lowLimits[size]
}

// muddy reports whether a block has an interval under its limit.
func muddy(block []theory.Pitch) bool {
	for k := 1; k < len(block); k++ {
		if tooDeep(int16(block[k-1].Key()), int16(block[k].Key())) {
			return true
		}
	}
	return false
}

// keyCost counts the voices the upper manual has no key for.
func (s *stage) keyCost(_ *spot, c *candidate) (cost int) {
	for k := range c.n {
		if !s.console.Upper.Has(int(c.keys[k])) {
			cost += offTheKeys
		}
	}
	return cost
}

// clashes counts the voices that lie a semitone from a tension or altered
// fifth of the symbol without being one of its notes: the symbol's own word
// wins.
func clashes(sp *spot, c *candidate) (cost int) {
	if c.technique == theory.Approach {
		return 0
	}
	if c.technique == theory.Away && !c.service.Leading {
		return 0 // passing: it is not meant to be the symbol
	}
	for k := 1; k < c.n; k++ {
		pc := c.voices[k].Name().PC()
		if hasPC(sp.tones, c.voices[k].Name()) {
			continue
		}
		for _, t := range sp.colours {
			if d := (pc - t.PC() + 12) % 12; d == 1 || d == 11 {
				cost += clash
			}
		}
	}
	return cost
}

// moveCost is what it costs to go from one block to the next. sp is the spot of
// the second; where the two are not heard as one line, over a rest, only the
// number of voices is compared. sameChord tells whether they stand for the same
// span.
func moveCost(p, c *candidate, sp *spot, sameChord bool) int {
	cost := 0
	if p.n != c.n && sp.thin == notThin {
		cost += shapeChange
	}
	if !sp.joined {
		return cost
	}
	lead := distance(p.keys[0], c.keys[0])
	inner := min(p.n, c.n)
	standing := 0
	each := perSemitone
	if sp.passage.Treatment.Leaning == project.LeanSmooth {
		each = smoothSemitone
	}
	for k := 1; k < inner; k++ {
		d := distance(p.keys[k], c.keys[k])
		cost += d * each
		if d > lead+2 {
			cost += innerLeap
		}
		if d == 0 {
			standing++
		}
	}
	if lead > leapFrom {
		cost += spacingCost(p, c, inner)
	}
	if sp.passage.Treatment.Leaning == project.LeanContrary {
		cost += alongCost(p, c, inner)
	}
	if sp.repeats && sp.passage.Treatment.AlternateRepeats && inner > 1 && standing == inner-1 {
		cost += sameRepeat
	}
	return cost + stillCost(p, c, lead, standing, inner, sameChord)
}

// stillCost weighs the inner voices that stay under a moving lead.
func stillCost(p, c *candidate, lead, standing, inner int, sameChord bool) int {
	if lead > 0 && standing > 0 && standing == inner-1 {
		switch {
		case !sameChord:
			return commonTones
		case resolves(p, c) && p.service.Leading:
			return resolvedOverDominant
		case resolves(p, c):
			return resolvedBorrow
		case resolves(c, p):
			return takenOver
		}
	}
	return standingCost(standing, inner-1, lead)
}

// spacingCost weighs how much the intervals of a block change over a leap: a
// section keeps its spacing when it jumps.
func spacingCost(p, c *candidate, inner int) (cost int) {
	for k := 1; k < inner; k++ {
		if distance(p.keys[0]-p.keys[k], c.keys[0]-c.keys[k]) > 2 {
			cost += respaced
		}
	}
	return cost
}

// alongCost weighs the inner voices that move the way the lead does.
func alongCost(p, c *candidate, inner int) (cost int) {
	up := c.keys[0] - p.keys[0]
	for k := 1; k < inner; k++ {
		if up != 0 && (c.keys[k]-p.keys[k])*up > 0 {
			cost += alongLead
		}
	}
	return cost
}

// resolves reports whether p borrowed its lead and c has the note that gave way
// to it.
func resolves(p, c *candidate) bool {
	return p.origin == fromLead && p.service.Family == c.service.Family &&
		p.instead.PC() == c.voices[0].Name().PC()
}

// standingCost weighs inner voices that stay under a moving lead.
func standingCost(standing, inner, lead int) int {
	switch {
	case lead == 0 || inner < 1:
		return 0
	case standing == inner:
		return frozenBlock
	case lead <= 2:
		return standing * standingVoice
	}
	return 0
}

func distance(a, b int16) int {
	if a > b {
		return int(a - b)
	}
	return int(b - a)
}
