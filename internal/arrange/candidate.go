package arrange

import (
	"slices"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// maxVoices bounds a block: four voices and a doubled lead, or a pin.
const maxVoices = 8

// origin says how a candidate came about; its sentence follows from it.
type origin uint8

const (
	fromFamily   origin = iota // the family's own block under the lead
	fromLead                   // the lead is borrowed onto the other chord
	fromInner                  // an inner voice is borrowed
	fromSymbol                 // the chord symbol's own notes
	fromNext                   // a parallel slide into the next block
	fromNoChord                // no chord is in force
	fromPlan                   // the hand plan or voicing asks for a bare lead
	fromRegister               // thinned because a block does not fit
	fromPin                    // the user's own voices
)

// candidate is one block that a note may get, with the working that its name
// and reason are later written from.
type candidate struct {
	origin    origin
	technique theory.Technique
	voicing   theory.Voicing
	service   theory.Service // of family candidates
	chordSide theory.Technique
	note      theory.Name // borrowed note
	instead   theory.Name // the note it replaces
	voices    []theory.Pitch
	keys      [maxVoices]int16
	n         int
	// cost is what the block costs by itself.
	cost int
	// into is the index of the next note's candidate that a slide was made
	// for; -1 for every other candidate.
	into   int
	pinned bool
}

// maker builds the candidates of one note.
type maker struct {
	stage   *stage
	spot    *spot
	voicing theory.Voicing
	out     []candidate
}

// candidates returns the blocks for a note under a voicing. next holds the
// candidates of the following note, for slides into them; it is empty when
// nothing follows closely.
func (s *stage) candidates(sp *spot, voicing theory.Voicing, nextLead theory.Pitch, next []candidate) []candidate {
	m := &maker{stage: s, spot: sp, voicing: voicing}
	m.out = s.standing(m)
	if playable(sp.chord) && !bareVoicing(voicing) {
		m.slides(nextLead, next)
	}
	m.pin()
	return m.out
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
	plan               project.HandPlan
}

// standing returns the candidates that do not depend on the neighbours. They
// are remembered while the search is built, because a tune comes back to the
// same note over the same chord all the time.
func (s *stage) standing(m *maker) []candidate {
	sp := m.spot
	key := standingKey{chord: sp.chord, heard: sp.heard, lead: sp.lead, restless: sp.restless, voicing: m.voicing, plan: sp.passage.Plan}
	if sp.reading != nil {
		key.goal, key.role, key.otherModeAsked = sp.reading.goal, sp.reading.role, sp.reading.otherModeAsked
	}
	if known, ok := s.known[key]; ok {
		return append(make([]candidate, 0, len(known)+slideLimit), known...)
	}
	m.makeStanding()
	if s.known != nil {
		s.known[key] = slices.Clone(m.out)
	}
	return m.out
}

func (m *maker) makeStanding() {
	m.out = make([]candidate, 0, 16)
	switch {
	case !playable(m.spot.chord):
		m.bare(fromNoChord)
	case bareVoicing(m.voicing):
		m.bare(fromPlan)
	default:
		m.families()
		m.symbol()
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
	m.add(candidate{origin: fromSymbol, technique: theory.Diatonic}, theory.Stack(m.spot.lead, names...), cost)
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
		m.addSpread(alone, lead, lostThickness)
		m.addSpread(octaves, both, inOctaves)
	case m.voicing == theory.Octaves:
		m.addSpread(octaves, both, 0)
		m.addSpread(alone, lead, 1)
	default:
		m.addSpread(alone, lead, 0)
	}
}

// add spreads a close block as the voicing asks and keeps it.
func (m *maker) add(c candidate, close []theory.Pitch, cost int) {
	c.voicing = m.voicing
	if m.voicing == theory.ThreePart {
		m.addSpread(c, theory.ThreePartOf(close, m.spot.guides...), cost)
		return
	}
	spread := m.voicing.Spread(close)
	m.addSpread(c, spread, cost)
	if muddy(spread) {
		c.voicing = theory.Close
		m.addSpread(c, close, cost+closerVoicing)
	}
}

// addSpread keeps a block as it is, unless its keys are there already; of two
// ways to the same keys the cheaper one stays.
func (m *maker) addSpread(c candidate, voices []theory.Pitch, cost int) {
	if len(voices) == 0 || len(voices) > maxVoices {
		return
	}
	c.voices, c.n = voices, len(voices)
	for k, v := range voices {
		c.keys[k] = int16(v.Key())
	}
	c.into--
	c.cost = cost + m.stage.ownCost(m.spot, &c)
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
