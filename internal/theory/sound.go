package theory

// soundOver names a set of pitch classes as a chord on c's root, which the
// bass plays: F A♭ C D over B♭ is B♭9. Where a class could be two degrees, the
// rest of the set decides, and the chord's own reading where that is open.
func soundOver(c Chord, block PCSet) Chord {
	above := block.Transpose(-c.root.PC()).With(0)
	// A fifth that nothing contradicts is heard whether it is played or not.
	if eleventh := c.tones.has(11, 1); eleventh || !above.Has(6) && !above.Has(8) {
		above = above.With(7)
	}
	var tones degreeSet
	for pc := 0; pc < 12; pc++ {
		if above.Has(pc) {
			tones |= readDegree(above, pc)
		}
	}
	return Chord{root: c.root, tones: tones}
}

// readDegree says which degree a class is, pc semitones above the root.
func readDegree(above PCSet, pc int) degreeSet {
	switch {
	case pc == 3 && above.Has(4):
		return degreeBit(9, 1)
	case pc == 5 && !above.Has(3) && !above.Has(4):
		return degreeBit(4, 0)
	case pc == 6 && above.Has(7):
		return degreeBit(11, 1)
	case pc == 8 && (above.Has(7) || above.Has(6)):
		return degreeBit(13, -1)
	case pc == 9 && (above.Has(10) || above.Has(11)):
		return degreeBit(13, 0)
	case pc == 9 && above.Has(3) && above.Has(6) && !above.Has(4) && !above.Has(7):
		return degreeBit(7, -2)
	}
	return plainDegrees[pc]
}

// plainDegrees is what each class is above the root when nothing else decides.
var plainDegrees = [12]degreeSet{
	degreeBit(1, 0), degreeBit(9, -1), degreeBit(9, 0), degreeBit(3, -1),
	degreeBit(3, 0), degreeBit(11, 0), degreeBit(5, -1), degreeBit(5, 0),
	degreeBit(5, 1), degreeBit(6, 0), degreeBit(7, -1), degreeBit(7, 0),
}
