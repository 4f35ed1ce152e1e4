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
	into   int
	pinned bool
	// opens reports that the voicing opened for a climax.
	opens bool
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
	out     []candidate
}

// following is the note after a spot, when it follows in the same line: what
// approaches lead into. The zero value is none.
type following struct {
	spot  *spot
	cands []candidate
}

// candidates returns the blocks for a note under a voicing. next is the note
// that approaches lead into.
func (s *stage) candidates(sp *spot, voicing theory.Voicing, next following) []candidate {
	m := &maker{stage: s, spot: sp, voicing: voicing}
	m.out = s.standing(m)
	if playable(sp.chord) && !bareVoicing(voicing) && !sp.held() && next.spot != nil {
		m.slides(next.spot.lead, next.cands)
		m.scaleSlides(next.spot.lead, next.cands)
		m.byDominant(next.spot)
		m.commonTone(next.spot)
	}
	if sp.climax || sp.pin != nil {
		m.out = slices.Clone(m.out) // these change candidates that are remembered
		m.open(next)
		m.pin()
	}
	return m.out
}

// open adds the blocks of the next wider voicing at the climax of a phrase, and
// makes those of the passage's voicing dearer.
func (m *maker) open(next following) {
	wide := opened(m.voicing)
	if !m.spot.climax || wide == m.voicing || m.spot.thin != notThin || m.spot.pin != nil {
		return
	}
	free := *m.spot
	free.climax = false
	for i := range m.out {
		m.out[i].price = m.out[i].price.plus(chargeLeaning, openAtClimax)
		m.out[i].cost = m.out[i].price.total
	}
	for _, c := range m.stage.candidates(&free, wide, following{}) {
		if c.n > 1 && !hasKeys(m.out, &c) {
			c.opens = true
			m.out = append(m.out, c)
		}
	}
}

func hasKeys(list []candidate, c *candidate) bool {
	return slices.ContainsFunc(list, func(d candidate) bool { return d.keys == c.keys && d.n == c.n })
}

// standingKey is everything that a note's candidates depend on, apart from the
// slides into the next note and the pin.
type standingKey struct {
	chord, heard, goal theory.Chord
	role               role
	otherModeAsked     bool
	lead               theory.Pitch
	restless           int
	voicing            theory.Voicing
	// kind is the passage's; the families follow from it and from the span's
	// chords.
	kind    int
	part    part
	repeats bool
	thin    thin
}

// standing returns the candidates that do not depend on the neighbours. They
// are remembered while the search is built, because a tune comes back to the
// same note over the same chord all the time.
func (s *stage) standing(m *maker) []candidate {
	sp := m.spot
	key := standingKey{
		chord: sp.chord, heard: sp.heard, lead: sp.lead, restless: sp.restless, voicing: m.voicing,
		kind: sp.passage.kind, part: sp.part, repeats: sp.repeats && sp.passage.Treatment.AlternateRepeats, thin: sp.thin,
	}
	if sp.reading != nil {
		key.goal, key.role, key.otherModeAsked = sp.reading.goal, sp.reading.role, sp.reading.otherModeAsked
	}
	if known, ok := s.known[key]; ok {
		return append(make([]candidate, 0, len(known)+slideLimit), known...)
	}
	m.makeStanding()
	if s.known != nil {
		// What is remembered ends here: what this note appends lies behind it.
		s.known[key] = m.out[:len(m.out):len(m.out)]
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
	case len(m.spot.colours) > 0 && hasPC(m.spot.tones, m.spot.lead.Name()):
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

// add spreads a close block as the voicing asks and keeps it.
func (m *maker) add(c candidate, close []theory.Pitch, cost price) {
	c.voicing = m.voicing
	if m.voicing == theory.ThreePart {
		m.addSpread(c, theory.ThreePartOf(close, m.spot.guides...), cost)
		return
	}
	spread := m.voicing.Spread(close)
	m.addSpread(c, spread, cost)
	if muddy(spread) {
		c.voicing = theory.Close
		m.addSpread(c, close, cost.plus(chargeCloser, closerVoicing))
	}
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
	c.price = cost.and(m.stage.ownCost(m.spot, &c))
	c.cost = c.price.total
	for i := range m.out {
		if old := &m.out[i]; old.keys == c.keys && old.n == c.n && old.into < 0 && c.into < 0 {
			if c.cost < old.cost {
				*old = c
			}
			return
		}
	}
	m.out = append(m.out, c)
}

func hasPC(names []theory.Name, n theory.Name) bool {
	for _, m := range names {
		if m.PC() == n.PC() {
			return true
		}
	}
	return false
}
