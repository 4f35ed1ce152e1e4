package theory

// build turns the parts of a symbol into the chord.
func (p *chordParser) build() (Chord, error) {
	base, err := p.base()
	if err != nil {
		return Chord{}, err
	}
	tones := base.changed(p.omits, p.altered, p.adds)
	if tones == 0 {
		return Chord{}, p.fail(len(p.in), "a chord that leaves every note out")
	}
	return Chord{root: p.root, tones: tones}.WithBass(p.bass), nil
}

// changed applies the changes of a symbol: a degree that is altered or left
// out loses the base's forms, and then the new ones join.
func (s degreeSet) changed(omits, altered, adds degreeSet) degreeSet {
	s &^= omits
	for _, number := range degreeNumbers {
		if mask := degreeMask(number); altered&mask != 0 {
			s &^= mask
		}
	}
	return s | altered | adds
}

// base returns the degrees that triad, number, suspension and "alt" stand for.
func (p *chordParser) base() (degreeSet, error) {
	if p.alt {
		return p.alteredBase()
	}
	s := degreeBit(1, 0) | p.third() | p.fifth()
	if p.number == 6 {
		s |= degreeBit(6, 0)
	}
	if p.stack() >= 7 {
		s |= p.seventh()
	}
	return s | p.extensions(), nil
}

func (p *chordParser) alteredBase() (degreeSet, error) {
	plain := p.triad == noTriad || p.triad == dominantWord
	if !plain || p.major || p.sus != 0 || p.number != 0 && p.number != 7 {
		return 0, p.fail(len(p.in), "alt beside a quality other than 7")
	}
	return altered, nil
}

// third returns the third, or what a suspension puts in its place.
func (p *chordParser) third() degreeSet {
	switch {
	case p.sus != 0:
		return p.sus
	case p.triad == powerTriad:
		return 0
	case p.isMinor():
		return degreeBit(3, -1)
	}
	return degreeBit(3, 0)
}

func (p *chordParser) isMinor() bool {
	return p.triad == minorTriad || p.triad == diminishedTriad || p.triad == halfDiminishedTriad
}

func (p *chordParser) fifth() degreeSet {
	switch p.triad {
	case diminishedTriad, halfDiminishedTriad:
		return degreeBit(5, -1)
	case augmentedTriad:
		return degreeBit(5, 1)
	}
	return degreeBit(5, 0)
}

// stack returns how far the chord reaches in thirds: 0 for a triad or sixth,
// else 7, 9, 11 or 13. Some words imply the seventh.
func (p *chordParser) stack() int {
	switch {
	case p.number >= 7:
		return p.number
	case p.triad == halfDiminishedTriad, p.triad == dominantWord:
		return 7
	case p.number == 0 && (p.triangle || p.major && p.triad != noTriad):
		return 7
	case p.number == 0 && p.sus.has(4, 0) && p.altered.has(9, -1) && !(p.adds | p.altered).any(6):
		return 7 // Csusb9 is a dominant
	}
	return 0
}

func (p *chordParser) seventh() degreeSet {
	switch {
	case p.major:
		return degreeBit(7, 0)
	case p.triad == diminishedTriad:
		return degreeBit(7, -2)
	}
	return degreeBit(7, -1)
}

// extensions returns what 9, 11 and 13 stack above the seventh. The eleventh
// is left out where it would double a suspended fourth or, in a thirteenth,
// grate against a major third.
func (p *chordParser) extensions() (s degreeSet) {
	n := p.stack()
	if n >= 9 {
		s |= degreeBit(9, 0)
	}
	if p.sus == 0 && (n == 11 || n == 13 && p.isMinor()) {
		s |= degreeBit(11, 0)
	}
	if n == 13 {
		s |= degreeBit(13, 0)
	}
	return s
}
