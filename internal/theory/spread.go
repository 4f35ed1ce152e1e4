package theory

// Spread opens a close block, given from the lead down, and returns the new
// block from the lead down. The lead always stays on top. Voices that a
// voicing moves but that the block does not have are simply not moved, so a
// thin block is never an error; a voice that would fall below MinKey stays.
//
// DoubleLead and Octaves are the only voicings that double a pitch class.
func (v Voicing) Spread(block []Pitch) []Pitch {
	if len(block) == 0 {
		return nil
	}
	switch v {
	case Drop2:
		return drop(block, 1)
	case Drop3:
		return drop(block, 2)
	case Drop24:
		return drop(block, 1, 3)
	case Spread:
		return drop(block, 1, 2)
	case DoubleLead:
		return addBelow(block, block[0].Transpose(octaveDown))
	case Octaves:
		return addBelow(block[:1], block[0].Transpose(octaveDown))
	case ThreePart:
		return ThreePartOf(block)
	case Pair:
		return pairOf(block)
	case Fourths:
		return fourthsOf(block)
	case UnisonVoicing:
		return []Pitch{block[0]}
	}
	return append([]Pitch(nil), block...)
}

var octaveDown = Octave.Invert()

// drop lowers the voices at the given places (0 is the lead) by an octave.
func drop(block []Pitch, places ...int) []Pitch {
	out := append([]Pitch(nil), block...)
	for _, i := range places {
		if i >= len(out) {
			continue
		}
		if p := out[i].Transpose(octaveDown); p.IsValid() {
			out[i] = p
		}
	}
	sortDown(out)
	return out
}

func addBelow(block []Pitch, p Pitch) []Pitch {
	out := append([]Pitch(nil), block...)
	if p.IsValid() {
		out = append(out, p)
	}
	sortDown(out)
	return out
}

// ThreePartOf thins a four-part close block to three voices: the lead and the
// guide notes stay, as far as there is room. Without guides that apply, the
// third voice goes, which leaves the outline of the block.
func ThreePartOf(block []Pitch, guides ...Name) []Pitch {
	out := append([]Pitch(nil), block...)
	for len(out) > 3 {
		gone := leastNeeded(out, guides)
		out = append(out[:gone], out[gone+1:]...)
	}
	return out
}

// leastNeeded returns the place of the voice to leave out: the middle one
// first, then the one under the lead, then the lowest, sparing guide notes.
func leastNeeded(block []Pitch, guides []Name) int {
	order := []int{2, 1, len(block) - 1}
	for _, i := range order {
		if !containsPC(guides, block[i].Name()) {
			return i
		}
	}
	return order[0]
}

func containsPC(names []Name, n Name) bool {
	for _, m := range names {
		if m.PC() == n.PC() {
			return true
		}
	}
	return false
}

// pairOf keeps the lead and one voice: a third below it, or else a sixth, or
// else whatever is nearest to a third.
func pairOf(block []Pitch) []Pitch {
	best, bestScore := -1, 0
	for i, p := range block[1:] {
		if s := pairScore(block[0].Key() - p.Key()); best < 0 || s < bestScore {
			best, bestScore = i+1, s
		}
	}
	if best < 0 {
		return []Pitch{block[0]}
	}
	return []Pitch{block[0], block[best]}
}

// pairScore ranks the interval under the lead, in semitones: thirds, sixths,
// then the rest by their distance from a third.
func pairScore(semitones int) int {
	switch semitones {
	case 3, 4:
		return 0
	case 8, 9:
		return 1
	}
	if semitones < 3 {
		return 20 - semitones
	}
	return semitones
}

// fourthsOf opens the block so that neighbouring voices come as near to
// fourths as its notes allow. With three lower voices there are six orders;
// it tries them all and keeps the first of the best.
func fourthsOf(block []Pitch) []Pitch {
	if len(block) < 3 || len(block) > 5 {
		return append([]Pitch(nil), block...)
	}
	var best []Pitch
	bestScore := 0
	permute(append([]Pitch(nil), block[1:]...), 0, func(order []Pitch) {
		block := stackInOrder(block[0], order)
		if s := fourthsScore(block); best == nil || s < bestScore {
			best, bestScore = block, s
		}
	})
	return best
}

// stackInOrder puts each pitch at its nearest place below the one before it.
func stackInOrder(lead Pitch, order []Pitch) []Pitch {
	block := []Pitch{lead}
	for _, p := range order {
		above := block[len(block)-1].Key()
		key := above - 1 - mod(above-1-p.Key(), 12)
		if q := PitchAt(p.Name(), key); q.IsValid() {
			block = append(block, q)
		}
	}
	return block
}

// fourthsScore sums how far each interval is from a perfect fourth.
func fourthsScore(block []Pitch) int {
	const fourth = 5
	sum := 0
	for i := 1; i < len(block); i++ {
		sum += abs(block[i-1].Key() - block[i].Key() - fourth)
	}
	return sum
}

// permute calls visit with every order of s[from:]; s is restored.
func permute(s []Pitch, from int, visit func([]Pitch)) {
	if from == len(s) {
		visit(s)
		return
	}
	for i := from; i < len(s); i++ {
		s[from], s[i] = s[i], s[from]
		permute(s, from+1, visit)
		s[from], s[i] = s[i], s[from]
	}
}

func abs(a int) int {
	if a < 0 {
		return -a
	}
	return a
}
