package reach

// span is what two fingers of a hand can hold between them, in semitones from
// the lower finger's key to the higher finger's. Below zero the fingers cross:
// the thumb has passed under.
type span struct {
	minPrac, minComf, minRel int
	maxRel, maxComf, maxPrac int
}

// handSpans are the spans of the right hand by finger pair, of Parncutt,
// Sloboda, Clarke, Raekallio and Desain, "An ergonomic model of keyboard
// fingering for melodic fragments", Music Perception 14 (1997), table 1:
// practical, comfortable and relaxed spans.
var handSpans = [6][6]span{
	1: {
		2: {-5, -3, 1, 5, 8, 10},
		3: {-4, -2, 3, 7, 10, 12},
		4: {-3, -1, 5, 9, 12, 14},
		5: {-1, 1, 7, 10, 13, 15},
	},
	2: {
		3: {1, 1, 1, 2, 3, 5},
		4: {1, 1, 3, 4, 5, 7},
		5: {2, 2, 5, 6, 8, 10},
	},
	3: {
		4: {1, 1, 1, 2, 2, 4},
		5: {1, 1, 3, 4, 5, 7},
	},
	4: {
		5: {1, 1, 1, 2, 3, 5},
	},
}

// tableComfort and tableReach are the stretches that the table's hand has from
// thumb to little finger: 13 and 15 semitones in octaves of 164.5 mm.
const (
	tableComfort = 13 * octaveWidth / 12
	tableReach   = 15 * octaveWidth / 12
)

// spansOf returns the table scaled to a hand. The widest spans grow with its
// maximal stretch, the comfortable and relaxed ones with its comfortable one;
// spans between neighbouring fingers and crossings are nearly the same in all
// hands and stay.
func spansOf(h Stretch) (table [6][6]span) {
	table = handSpans
	comfort, reach := hundredths(h.Comfortable), hundredths(h.Maximal)
	for f := 1; f <= 5; f++ {
		for g := f + 1; g <= 5; g++ {
			s := &table[f][g]
			if f > 1 && g == f+1 {
				continue
			}
			s.maxRel = scaled(s.maxRel, comfort, tableComfort)
			s.maxComf = max(s.maxRel, scaled(s.maxComf, comfort, tableComfort))
			s.maxPrac = max(s.maxComf, scaled(s.maxPrac, reach, tableReach))
		}
	}
	// Between thumb and little finger the stretch in millimetres decides: which
	// intervals it takes in depends on where they lie.
	outer := &table[1][5]
	for outer.maxPrac = outer.maxComf; narrowestOf(outer.maxPrac+1) <= h.Maximal; outer.maxPrac++ {
	}
	return table
}

// narrowestOf returns the narrowest stretch that an interval of so many
// semitones takes anywhere on a manual.
func narrowestOf(semitones int) Millimetres {
	narrowest := Distance(60, 60+semitones)
	for key := 61; key < 72; key++ {
		narrowest = min(narrowest, Distance(key, key+semitones))
	}
	return narrowest
}

// scaled returns n*to/from, rounded.
func scaled(n, to, from int) int { return (n*to + from/2) / from }
