package arrange

import (
	"slices"

	"organbook/internal/theory"
)

// maxVoices bounds a block: four voices and a doubled lead, or a pin.
const maxVoices = 8

// origin says how a candidate came about; its sentence follows from it.
type origin uint8

const (
	fromFamily     origin = iota // the family's own block under the lead
	fromLead                     // the lead is borrowed onto the other chord
	fromInner                    // an inner voice is borrowed
	fromSymbol                   // the chord symbol's own notes
	fromNext                     // a parallel slide into the next block
	fromTwo                      // two voices are borrowed
	fromTurn                     // the other chord under a held or repeated lead
	fromScale                    // a slide along the scale into the next block
	fromDominant                 // the dominant of the next chord
	fromCommonTone               // a diminished chord on the root
	fromDiminished               // a diminished chord hung under the lead
	fromBlue                     // a blue note over a dominant
	fromRun                      // thinned in a fast run
	fromNoChord                  // no chord is in force
	fromPlan                     // the hand plan or voicing asks for a bare lead
	fromRegister                 // thinned because a block does not fit
	fromPin                      // the user's own voices
)

// candidate is one block that a note may get, with the working that its name
// and reason are later written from.
type candidate struct {
	origin    origin
	technique theory.Technique
	voicing   theory.Voicing
	service   serving // of family candidates
	// sound tells families apart by what they sound, whatever their spelling; 0
	// where the block is of none.
	sound     uint8
	chordSide theory.Technique
	note      theory.Name // borrowed note
	instead   theory.Name // the note it replaces
	// also and alsoInstead are the same of a second borrowed voice.
	also, alsoInstead theory.Name
	voices            []theory.Pitch
	keys              [maxVoices]int16
	n                 int
	// cost is what the block costs by itself, and price its parts: they differ
	// where a pin bars the block.
	cost  int
	price price
	// into is the index of the next note's candidate that a slide was made
	// for; -1 for every other candidate.
	into int
	// back marks an approach over a jump, into the note that it goes back to.
	back   bool
	pinned bool
	// fixed reports a pinned block: an approach among them keeps its voices where
	// the next note has another block than the one it leads into.
	fixed bool
	// thinned reports that the block was thinned to stay clear of mud.
	thinned bool
}

// serving is what a candidate keeps of the service its block comes from.
type serving struct {
	Family  theory.Family
	Leading bool
}

func servingOf(s theory.Service) serving { return serving{s.Family, s.Leading} }

// maker builds the candidates of one note.
type maker struct {
	stage   *stage
	spot    *spot
	voicing theory.Voicing
	// rank is the place of the family that is being tried among those that serve.
	rank int
	out  []candidate
	// remembered says that out belongs to what is remembered and stays as it is:
	// it is copied before anything is added, or changed since a slide to the same
	// keys is cheaper.
	remembered bool
}

// following is the note after a spot, when it follows in the same line: what
// approaches lead into. The zero value is none.
type following struct {
	spot  *spot
	cands []candidate
}

// slideRoom is about how many slides a note has into the next one.
const slideRoom = 8

// candidates returns the blocks for a note under a voicing. next is the note
// that approaches lead into.
func (s *stage) candidates(sp *spot, voicing theory.Voicing, next following) []candidate {
	m := &maker{stage: s, spot: sp, voicing: voicing}
	m.out = s.standing(m)
	if next.spot != nil {
		m.remembered = true
		m.approaches(next)
	}
	if sp.pin != nil {
		m.out = slices.Clone(m.out) // a pin changes candidates that are remembered
		m.pin(next)
	}
	return m.out
}

// approaches offers all that leads into the next note.
func (m *maker) approaches(next following) {
	sp := m.spot
	if !playable(sp.chord) || bareVoicing(m.voicing) || sp.held() {
		return
	}
	if sp.climax || !next.spot.climax { // a climax is approached in the passage's voicing
		m.slides(next.spot.lead, next.cands)
		m.scaleSlides(next.spot.lead, next.cands)
	}
	m.byDominant(next.spot)
	m.commonTone(next.spot)
	m.diminished()
}

// standingKey is everything that a note's candidates depend on, apart from the
// slides into the next note and the pin.
type standingKey struct {
	chord, heard, goal theory.Chord
	// served is what the families follow from, with the passage's kind.
	served         servedKey
	role           role
	otherModeAsked bool
	lead           theory.Pitch
	restless       int
	voicing        theory.Voicing
	// kind is the passage's.
	kind int
	// key spells the families whose spelling the symbol leaves open.
	key     theory.Key
	part    part
	repeats bool
	short   bool
	// open and late say whether the chord is a long dominant, and leads on.
	open, late bool
	// line says that the chord's seventh is asked for by a line inside the chord.
	line bool
	thin thin
}

// standing returns the candidates that do not depend on the neighbours. They
// are remembered while the search is built, because a tune comes back to the
// same note over the same chord all the time, and so are not to be changed.
func (s *stage) standing(m *maker) []candidate {
	sp := m.spot
	key := standingKey{
		chord: sp.chord, heard: sp.heard, lead: sp.lead, restless: sp.restless, voicing: m.voicing,
		kind: sp.passage.kind, part: sp.part, repeats: sp.repeats && sp.passage.Treatment.AlternateRepeats, thin: sp.thin, short: sp.short,
	}
	if sp.reading != nil {
		key.open, key.late, key.line, key.served = sp.reading.open, sp.late, sp.reading.line, sp.reading.served
		key.goal, key.role, key.otherModeAsked, key.key = sp.reading.goal, sp.reading.role, sp.reading.otherModeAsked, sp.reading.key
	}
	if known, ok := s.known[key]; ok {
		return known
	}
	if known, ok := s.before[key]; ok && s.known != nil {
		s.known[key] = known
		return known
	}
	m.makeStanding()
	if s.known != nil {
		s.known[key] = m.out
	}
	return m.out
}

func (m *maker) makeStanding() {
	m.out = make([]candidate, 0, 24)
	switch {
	case !playable(m.spot.chord):
		m.bare(fromNoChord)
	case bareVoicing(m.voicing) && m.spot.thin != notThin:
		m.bare(fromRun)
	case bareVoicing(m.voicing):
		m.bare(fromPlan)
	case m.spot.part == turned:
		m.turns(0)
		if len(m.out) == 0 {
			m.families() // no turn agrees with the symbol: the voices stay
			m.symbol()
		}
		m.bare(fromRegister)
	default:
		m.families()
		if m.spot.repeats && m.spot.passage.Treatment.AlternateRepeats {
			m.turns(alternated)
		}
		m.symbol()
		m.blue()
		m.bare(fromRegister)
	}
}

func bareVoicing(v theory.Voicing) bool { return v == theory.Octaves || v == theory.UnisonVoicing }

// symbol offers a block of the symbol's own notes under the lead, whatever
// the lead is: guide notes first, then colours, the root last.
func (m *maker) symbol() {
	var names []theory.Name
	for _, n := range m.ranked() {
		down := (m.spot.lead.Name().PC() - n.PC() + 12) % 12
		if down <= 1 || len(names) == 3 {
			continue // the lead's own note, or a semitone right under it
		}
		names = append(names, n)
	}
	if len(names) == 0 {
		return
	}
	cost := ownNotes
	switch {
	case !m.onFamily() && m.spot.customary():
		cost = ownTension
	case hasPC(m.spot.tones, m.spot.lead.Name()) && (len(m.spot.colours) > 0 || !m.onHome()),
		isHalfDiminished(m.spot.heard) && m.spot.customary():
		cost = ownColour
	}
	m.add(candidate{origin: fromSymbol, technique: theory.Diatonic}, theory.Stack(m.spot.lead, names...), pay(chargeOwnNotes, cost))
}

// ranked returns the symbol's notes in the order a block needs them: guide
// notes, then the rest from the top down, the root last.
func (m *maker) ranked() []theory.Name {
	out := slices.Clone(m.spot.guides)
	for _, n := range slices.Backward(m.spot.tones) {
		if !hasPC(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// bare offers the lead by itself and in octaves. Where a block is possible
// that is the last way out; where the plan or voicing asks for it, or there is
// no chord, it is the only way.
func (m *maker) bare(from origin) {
	alone := candidate{origin: from, technique: theory.Alone, voicing: theory.UnisonVoicing}
	octaves := alone
	octaves.voicing = theory.Octaves
	lead := []theory.Pitch{m.spot.lead}
	both := theory.Octaves.Spread(lead)
	switch {
	case from == fromRegister:
		m.addSpread(alone, lead, pay(chargeThin, lostThickness))
		m.addSpread(octaves, both, pay(chargeThin, inOctaves))
	case m.voicing == theory.Octaves:
		m.addSpread(octaves, both, price{})
		m.addSpread(alone, lead, pay(chargeThin, lostThickness))
	default:
		m.addSpread(alone, lead, price{})
	}
}

// add spreads a close block as the voicing asks and keeps it, unless it stands
// for the symbol and has a note against it.
func (m *maker) add(c candidate, close []theory.Pitch, cost price) {
	if m.quarrels(&c, close) {
		return
	}
	close = m.inKey(close)
	c.voicing = m.voicing
	if m.voicing == theory.ThreePart {
		three := theory.ThreePartOf(close, m.spot.guides...)
		m.addSpread(c, three, cost)
		if muddy(three) {
			c.voicing, c.thinned = theory.Pair, true
			m.addSpread(c, theory.Pair.Spread(close), cost.plus(chargeLow, pairLow))
		}
		return
	}
	spread := m.voicing.Spread(close)
	m.addSpread(c, spread, cost)
	if !muddy(spread) {
		return
	}
	if m.voicing != theory.Close {
		c.voicing = theory.Close
		m.addSpread(c, close, cost.plus(chargeCloser, closerVoicing))
	}
	if muddy(close) {
		m.thinner(c, close, cost)
	}
}

// inKey writes the raised ninth and fifth under the lead of a dominant whose
// symbol says no more than "alt" as its key has them: Bb and Eb over G7alt in C
// minor, where A# and D# would be as right, and G and D over B7alt in E minor,
// where F## and C## could hardly be read.
func (m *maker) inKey(close []theory.Pitch) []theory.Pitch {
	if !isAlt(m.spot.heard) {
		return close
	}
	close = slices.Clone(close)
	for i, v := range close[1:] {
		switch pc := v.Name().PC(); (pc - m.spot.heard.Root().PC() + 12) % 12 {
		case 3, 8:
			close[i+1] = theory.PitchAt(m.spot.reading.key.Spell(pc), v.Key())
		}
	}
	return close
}

// thinner offers what is left of a block that is muddy where it lies: three
// voices, then the lead and one of them.
func (m *maker) thinner(c candidate, close []theory.Pitch, cost price) {
	c.thinned = true
	if m.voicing != theory.Pair {
		c.voicing = theory.ThreePart
		m.addSpread(c, theory.ThreePartOf(close, m.spot.guides...), cost.plus(chargeLow, threeLow))
	}
	c.voicing = theory.Pair
	m.addSpread(c, theory.Pair.Spread(close), cost.plus(chargeLow, pairLow))
}

// quarrels reports whether a block has a note against what the symbol spells out.
// The symbol's own word wins over any family, so such a block is no candidate,
// unless it only passes: under a note too long for that it would be heard as the
// chord.
func (m *maker) quarrels(c *candidate, voices []theory.Pitch) bool {
	if m.spot.reading == nil || c.technique == theory.Approach || quarrelsIn(voices, m.spot.reading.against) == 0 {
		return false
	}
	return !passes(c) || c.origin == fromTurn || !m.spot.short
}

// addSpread keeps a block as it is, unless its keys are there already; of two
// ways to the same keys the cheaper one stays.
func (m *maker) addSpread(c candidate, voices []theory.Pitch, cost price) {
	if len(voices) == 0 || len(voices) > maxVoices {
		return
	}
	c.voices, c.n = voices, len(voices)
	for k, v := range voices {
		c.keys[k] = int16(v.Key())
	}
	c.into--
	c.sound = soundOf(&c)
	c.price = cost.and(m.stage.ownCost(m.spot, &c))
	c.cost = c.price.total
	for i := range m.out {
		if old := &m.out[i]; old.keys == c.keys && old.n == c.n && old.into < 0 && c.into < 0 {
			if c.cost < old.cost {
				m.ownOut()
				m.out[i] = c
			}
			return
		}
	}
	m.ownOut()
	m.out = append(m.out, c)
}

// ownOut copies out if it belongs to what is remembered.
func (m *maker) ownOut() {
	if m.remembered {
		m.out = append(make([]candidate, 0, len(m.out)+slideRoom), m.out...)
		m.remembered = false
	}
}

func hasPC(names []theory.Name, n theory.Name) bool {
	for _, m := range names {
		if m.PC() == n.PC() {
			return true
		}
	}
	return false
}
