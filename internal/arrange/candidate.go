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
	// otherMode reports that the family is the target's in its other mode.
	otherMode bool
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

// candidates returns the blocks for note i under a voicing. next holds the
// candidates of the following note, for slides into them; it is empty when
// nothing follows closely.
func (s *stage) candidates(sp *spot, voicing theory.Voicing, nextLead theory.Pitch, next []candidate) []candidate {
	m := &maker{stage: s, spot: sp, voicing: voicing, out: make([]candidate, 0, 12)}
	if !playable(sp.chord) {
		m.bare(fromNoChord)
	} else if bareVoicing(voicing) {
		m.bare(fromPlan)
	} else {
		m.families()
		m.symbol()
		m.slides(nextLead, next)
		m.bare(fromRegister)
	}
	m.pin()
	return m.out
}

func bareVoicing(v theory.Voicing) bool { return v == theory.Octaves || v == theory.UnisonVoicing }

// servedBy bounds how many families of a chord are tried.
const servedBy = 4

func (m *maker) families() {
	for rank, sv := range m.spot.services[:min(servedBy, len(m.spot.services))] {
		if sv.Leading {
			m.leading(sv, rank*secondFamily)
		} else {
			m.resting(sv, rank*secondFamily+m.brightness(sv))
		}
	}
	m.otherMode()
}

// brightness is brightNine for a family that puts a natural ninth over a
// dominant on its way to minor.
func (m *maker) brightness(sv theory.Service) int {
	r := m.spot.reading
	minor := r.otherModeAsked || isMinor(r.goal) || isHalfDiminished(r.goal)
	if r.role != roleFive || !minor || !isDominant(m.spot.heard) {
		return 0
	}
	ninth := degreeName(m.spot.heard, degreeForm{9, 0})
	home := sv.Family.Home()
	if hasPC(home[:], ninth) && !hasPC(m.spot.tones, ninth) {
		return brightNine
	}
	return 0
}

// otherMode offers the one note that the target's other mode adds: its third,
// on the dominant's diminished chord.
func (m *maker) otherMode() {
	if other := m.spot.reading.otherMode; m.inOtherMode() {
		cost := otherMode
		if m.spot.reading.otherModeAsked {
			cost = otherModeAsked
		}
		from := len(m.out)
		m.borrowed(other, cost+borrowOverDominant)
		for i := range m.out[from:] {
			m.out[from+i].otherMode = true
		}
	}
}

// leading offers the blocks of a dominant: its family's away chord, with a
// home note of the target borrowed where the melody has one.
func (m *maker) leading(sv theory.Service, cost int) {
	voices, side, ok := sv.Family.Block(m.spot.lead)
	if !ok {
		return
	}
	if side == theory.Away {
		m.add(candidate{origin: fromFamily, technique: theory.Away, service: sv, chordSide: side}, voices, cost)
		m.inner(sv, cost)
		return
	}
	m.borrowed(sv, cost+borrowOverDominant)
	m.add(candidate{origin: fromFamily, technique: theory.Home, service: sv, chordSide: side}, voices,
		cost+targetInPassing+m.spot.restless)
}

// resting offers the blocks of a chord that is the family's home: home under
// home notes, away under away notes in passing, and away notes borrowed onto
// the home chord where they must rest.
func (m *maker) resting(sv theory.Service, cost int) {
	voices, side, ok := sv.Family.Block(m.spot.lead)
	if !ok {
		return
	}
	own := candidate{origin: fromFamily, technique: side, service: sv, chordSide: side}
	if side == theory.Home {
		m.add(own, m.overDominant(sv, voices), cost)
		m.inner(sv, cost)
		return
	}
	away := cost + m.spot.restless
	if cost > 0 {
		away += foreignAway
	}
	m.add(own, voices, away)
	m.borrowed(sv, cost+borrowLead)
}

// overDominant spells a resting chord that stands for a dominant with another
// root as that dominant's own degrees: G#m6 over G7 reads Ab B Eb F.
func (m *maker) overDominant(sv theory.Service, voices []theory.Pitch) []theory.Pitch {
	if sv.Leading || !isDominant(m.spot.heard) || sv.Family.Tonic() == m.spot.heard.Root() {
		return voices
	}
	for i, v := range voices[1:] {
		voices[i+1] = theory.PitchAt(spellOver(m.spot.heard, v.Name().PC()), v.Key())
	}
	return voices
}

func (m *maker) borrowed(sv theory.Service, cost int) {
	for _, b := range sv.Family.BorrowLead(m.spot.lead) {
		b.Voices = m.overDominant(sv, b.Voices)
		m.addBorrowed(fromLead, sv, b, cost)
	}
}

// inner offers borrowed inner voices, for the family that serves best only.
func (m *maker) inner(sv theory.Service, cost int) {
	if cost > 0 {
		return
	}
	for _, b := range sv.Family.BorrowInner(m.spot.lead) {
		price := borrowInner + m.spot.restless
		if sv.Leading && hasPC(m.spot.tones, b.Note) {
			price = borrowInnerTone
		}
		m.addBorrowed(fromInner, sv, b, cost+price)
	}
}

func (m *maker) addBorrowed(from origin, sv theory.Service, b theory.Borrowing, cost int) {
	switch {
	case !hasPC(m.spot.guides, b.Instead):
	case m.suspends(b):
		cost += suspended
	default:
		cost += lostGuide
	}
	m.add(candidate{
		origin: from, technique: theory.Borrowed, service: sv,
		chordSide: b.Chord, note: b.Note, instead: b.Instead,
	}, b.Voices, cost)
}

// suspends reports whether a borrowing puts the symbol's fourth in place of its
// third.
func (m *maker) suspends(b theory.Borrowing) bool {
	return b.Note.PC() == degreeName(m.spot.heard, degreeForm{4, 0}).PC() &&
		b.Instead.PC() == m.spot.guides[0].PC()
}

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
	if !m.onFamily() && m.spot.customary() {
		cost = ownTension
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

// slides offers parallel approaches into the candidates of the next note: a
// whole block moved by a semitone, or by a tone under a note that is on no
// family of the chord.
func (m *maker) slides(nextLead theory.Pitch, next []candidate) {
	if len(next) == 0 {
		return
	}
	by := theory.Between(nextLead, m.spot.lead)
	size := max(by.Semitones(), -by.Semitones())
	outside := !m.onFamily() && !m.inOtherMode()
	if size < 1 || size > 2 || size == 2 && !outside {
		return
	}
	cost, limit := slideUnasked, 2
	switch {
	case outside && size == 1:
		cost, limit = slide, 5
	case outside:
		cost, limit = slideByTone, 5
	}
	for _, i := range cheapest(next, limit) {
		if voices := theory.Slide(next[i].voices, by); voices != nil {
			voices = readable(voices, m.spot.lead)
			m.addSpread(candidate{origin: fromNext, technique: theory.Approach, voicing: next[i].voicing, into: i + 1},
				voices, cost+m.spot.restless)
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

// inOtherMode reports whether the lead is off the family but on the target's
// home chord in its other mode.
func (m *maker) inOtherMode() bool {
	if m.onFamily() || !m.spot.reading.otherMode.Family.IsValid() {
		return false
	}
	_, ok := m.spot.reading.otherMode.Family.StepOf(m.spot.lead.Name().PC())
	return ok
}

// onFamily reports whether the lead is on the scale of the family that serves
// best.
func (m *maker) onFamily() bool {
	if len(m.spot.services) == 0 {
		return false
	}
	_, ok := m.spot.services[0].Family.StepOf(m.spot.lead.Name().PC())
	return ok
}

// cheapest returns the indexes of up to limit whole blocks that cost least by
// themselves, in ascending order of cost. Bare leads and unasked slides are no
// goals for a slide.
func cheapest(list []candidate, limit int) []int {
	var out []int
	for i := range list {
		if list[i].n > 1 && !list[i].pinned && list[i].cost < pinBroken || list[i].pinned {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return list[a].cost - list[b].cost })
	return out[:min(limit, len(out))]
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

// pin puts the user's own block among the candidates and bars all others.
func (m *maker) pin() {
	p := m.spot.pin
	if p == nil {
		return
	}
	voices := pinnedVoices(p, m.spot.lead)
	for i := range m.out {
		m.out[i].cost += pinBroken
	}
	own := candidate{origin: fromPin, technique: theory.Diatonic, voicing: p.Voicing, voices: voices, n: len(voices), into: -1}
	for k, v := range voices {
		own.keys[k] = int16(v.Key())
	}
	m.recognise(&own)
	own.pinned, own.cost = true, 0
	m.out = append(m.out, own)
}

// recognise finds out what a pinned block is by looking for its keys among
// the candidates of its voicing.
func (m *maker) recognise(own *candidate) {
	free := *m.spot
	free.pin = nil
	for _, c := range m.stage.candidates(&free, own.voicing, theory.Pitch{}, nil) {
		if c.n == own.n && c.keys == own.keys {
			voices := own.voices
			*own = c
			own.voices = voices
			return
		}
	}
	if own.n == 1 {
		own.technique = theory.Alone
	}
}

// pinnedVoices returns the pin's voices moved by octaves to lie under the
// lead, at most maxVoices of them.
func pinnedVoices(p *project.Pin, lead theory.Pitch) []theory.Pitch {
	octaves := (lead.Key() - p.Voices[0].Key()) / 12
	out := make([]theory.Pitch, 0, len(p.Voices))
	for _, v := range p.Voices[:min(len(p.Voices), maxVoices)] {
		if q := v.Transpose(theory.NewInterval(7*octaves, 12*octaves)); q.IsValid() {
			out = append(out, q)
		}
	}
	return out
}

func hasPC(names []theory.Name, n theory.Name) bool {
	for _, m := range names {
		if m.PC() == n.PC() {
			return true
		}
	}
	return false
}
