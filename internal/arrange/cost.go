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
	return leadPrice(sp, c).and(innerDissonance(sp, c)).plus(chargeMud, mud(c)).and(keys).
		plus(chargeReach, s.reachCost(sp, c)).plus(chargeClash, clashes(sp, c)).plus(chargeMissing, missing(sp, c)).plus(chargeRegister, registerCost(sp, c))
}

// registerCost weighs a block, or a doubling, under a lead out of range.
func registerCost(sp *spot, c *candidate) int {
	low, high := sp.passage.Treatment.BlockRange()
	switch lead := int(c.keys[0]); {
	case lead >= low && lead <= high:
		return 0
	case c.n > 2:
		return outOfRegister
	case lead < min(low, project.LowestBlockLead):
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
		case down > 12 && down%12 == 1 && !asksForNinth(sp.heard, sp.lead.Name(), c.voices[k].Name()):
			cost = cost.plus(chargeNinth, minorNinth)
		}
	}
	return cost
}

// asksForNinth reports whether the symbol itself writes the ninth between the
// lead and the note under it: a flat nine over its root, as in C7b9. That both
// are notes of the symbol is not enough: Cmaj7 does not ask for its seventh a
// minor ninth under its root.
func asksForNinth(symbol theory.Chord, lead, under theory.Name) bool {
	root := symbol.Root().PC()
	return symbol.Has(9, -1) && under.PC() == root && lead.PC() == (root+1)%12
}

// innerDissonance looks for semitones and minor ninths among the voices under
// the lead.
func innerDissonance(sp *spot, c *candidate) (cost price) {
	for low := 2; low < c.n; low++ {
		if c.keys[low-1]-c.keys[low] == 1 {
			cost = cost.plus(chargeInnerRub, innerRub)
		}
		for high := 1; high < low; high++ {
			if c.keys[high]-c.keys[low] == 13 && !asksForNinth(sp.heard, c.voices[high].Name(), c.voices[low].Name()) {
				cost = cost.plus(chargeInnerNinth, innerNinth)
			}
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

// clashes weighs the voices under the lead that quarrel with what the symbol
// spells out. Only what passes gets here with any: blocks that stand for the
// chord are never offered with one (see quarrels).
func clashes(sp *spot, c *candidate) int {
	if sp.reading == nil || c.technique == theory.Approach {
		return 0
	}
	if c.technique == theory.Away && !c.service.Leading {
		return 0 // passing: it is not meant to be the symbol
	}
	return clash * quarrelsIn(c.voices, sp.reading.against)
}

// quarrelsIn counts the voices under the lead that are in a set. What the melody
// itself does against its symbol is not the block's doing.
func quarrelsIn(voices []theory.Pitch, against theory.PCSet) (n int) {
	if against == 0 {
		return 0
	}
	against = against.Without(voices[0].Key()) // a doubled lead
	for _, v := range voices[1:] {
		if against.Has(v.Key()) {
			n++
		}
	}
	return n
}

// missing weighs the alterations that a symbol asks for and a whole block that
// stands for it leaves out.
func missing(sp *spot, c *candidate) (cost int) {
	if sp.reading == nil || sp.reading.asked == 0 || c.n < 4 || passes(c) {
		return 0
	}
	left := sp.reading.asked
	for _, v := range c.voices {
		left = left.Without(v.Key())
	}
	if sp.short {
		return missingInPassing * left.Len()
	}
	return missingColour * left.Len()
}

// passes reports whether a block is not meant to be the chord in force.
func passes(c *candidate) bool {
	switch c.technique {
	case theory.Approach, theory.Alone:
		return true
	case theory.Away:
		return !c.service.Leading
	case theory.Home:
		return c.service.Leading
	}
	return c.origin == fromTurn
}

// moveCost is what it costs to go from one block to the next. sp is the spot of
// the second; where the two are not heard as one line, over a rest, only the
// number of voices is compared.
func moveCost(p, c *candidate, sp *spot) int {
	cost := 0
	if p.n != c.n && sp.thin == notThin {
		cost += shapeChange
	}
	if !sp.joined {
		return cost
	}
	if sp.sameChord && changesFamily(p, c) {
		cost += changedFamily
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
		cost += travelled(p, c, k, d, lead) * each
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
	return cost + stillCost(p, c, sp, lead, standing, inner)
}

// changesFamily reports whether two blocks over one chord belong to different
// families: its colour changes with nothing in the changes to say so.
func changesFamily(p, c *candidate) bool { return p.sound != c.sound && p.sound != 0 && c.sound != 0 }

// soundOf numbers the family of a block from 1 on; F#m6 and Gbm6 are one.
func soundOf(c *candidate) uint8 {
	if !usesFamily(c) || !c.service.Family.IsValid() {
		return 0
	}
	return uint8(1 + 4*c.service.Family.Tonic().PC() + int(c.service.Family.Sixth()))
}

// travelled is how far inner voice k, which moves by d, counts as moved: under a
// leap of the lead a voice that leaps along keeps its place in the block, so only
// its departure from that counts.
func travelled(p, c *candidate, k, d, lead int) int {
	if lead <= leapFrom {
		return d
	}
	return min(d, distance(p.keys[0]-p.keys[k], c.keys[0]-c.keys[k]))
}

// stillCost weighs the inner voices that stay under a moving lead.
func stillCost(p, c *candidate, sp *spot, lead, standing, inner int) int {
	if lead > 0 && standing > 0 && standing == inner-1 {
		switch {
		case p.n != c.n: // a block thins or fills up: that is heard as movement
			return standing * standingVoice
		case sp.thin != notThin:
			return frozenRun
		case !sp.sameChord:
			return commonTones
		case resolves(p, c) && (p.service.Leading || isDominant(sp.heard)):
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
	return p.origin == fromLead && (p.sound == c.sound || sharesAway(p, c)) &&
		p.instead.PC() == c.voices[0].Name().PC()
}

// sharesAway reports whether two blocks stand on the diminished chord of one
// target, in its major and its minor mode: what they borrow tells them apart.
func sharesAway(p, c *candidate) bool {
	return p.service.Leading && c.service.Leading && p.service.Family.Tonic().PC() == c.service.Family.Tonic().PC()
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
