package reach

// The weights of fingering lines by the rules of Parncutt et al. (1997). With
// the paper's own points (10 or 20 on this scale for each rule) half the notes
// of the scales get their customary finger, because it was made for short
// fragments. These figures were fitted to the scales, the arpeggios of three and
// of four notes and the chromatic runs of the tests, starting from the paper's:
// what draws scales together is few turns of the thumb, thumbs on naturals and few
// weak fingers, and what holds arpeggios together is that nothing but the thumb
// crosses.
const (
	// stretchRule is the cost of each semitone beyond the comfortable span of
	// two fingers.
	stretchRule = 8
	// spanRule is the cost of each semitone beyond the relaxed span of two
	// fingers other than the thumb, which moves freely.
	spanRule = 22
	// fullPosition is the cost of a full change of hand position, over the
	// thumb; a half one costs by its size only.
	fullPosition = 10
	// positionSize is the cost of each semitone by which the hand leaves the
	// comfortable span over three notes.
	positionSize = 20
	// weakFinger is the cost of each note for finger 4 or 5 in a line.
	weakFinger = 40
	// threeFourFive is the cost of these three fingers in a row, in any order.
	threeFourFive = 4
	// threeToFour is the cost of 3 followed by 4.
	threeToFour = 20
	// thumbOnSharp is the cost of the thumb on a sharp, thumbFromNatural what
	// is added for each neighbour in the line that is a natural.
	thumbOnSharp     = 110
	thumbFromNatural = 200
	// fiveFromNatural is the cost of 5 on a sharp for each neighbour in the
	// line that is a natural.
	fiveFromNatural = 60
	// passLevel is the cost of passing the thumb between keys of one height,
	// passUp of passing it from a finger on a natural to a sharp.
	passLevel = 40
	passUp    = 400
)

// The weights that the rules above leave open, on the same scale.
const (
	// beyondPrac is the cost of two notes of a line that no two fingers join:
	// the hand leaps and the line breaks.
	beyondPrac = 40
	// perLeap is the cost of each semitone the hand moves in a leap.
	perLeap = 2
	// crossedFingers is the cost of two fingers crossing where neither is the thumb.
	crossedFingers = 140
	// sameFinger is the cost of one finger on two different keys in a row,
	// which breaks a line; thumbSlides and sharpSlides are what it costs
	// where the finger can glide instead: the thumb to a neighbour, any finger
	// from a sharp down to the natural beside it.
	sameFinger  = 380
	thumbSlides = 270
	sharpSlides = 300
	// otherOnSame is the cost of changing fingers on a repeated key.
	otherOnSame = 10
	// turn is the cost of every pass of the thumb: a line turns as seldom as it
	// can.
	turn = 85
	// turnAtTwo, turnAtFour and turnAtFive are added where the thumb passes
	// finger 2, which leaves it no room, or 4 or 5, which bends the wrist.
	turnAtTwo  = 40
	turnAtFour = 20
	turnAtFive = 120
	// strayThumb is the cost of a thumb that does not come back, in the same
	// octave or the next, to a key of one of the two thumbs before it: patterns
	// that repeat in each octave are easier to keep.
	strayThumb = 60
	// squeezed is the cost of a long finger on a natural between its two
	// sharps when both are played around it: it has to enter the gap.
	squeezed = 200
)

// The weights of chords, on the same scale.
const (
	// holdStretch, holdSpanThumb and holdSpan are the costs of each semitone
	// beyond the comfortable and the relaxed span of two fingers that hold two
	// keys together: the paper's own figures. Lines, where the hand glides on,
	// turned out to care for the comfortable span only.
	holdStretch   = 20
	holdSpanThumb = 10
	holdSpan      = 20
	// outOfHand is the cost of a grip no hand of the profile can take, and
	// perTooWide what each semitone beyond adds: the nearest grip is shown.
	outOfHand  = 10_000
	perTooWide = 100
	// crossedGrip is the cost of each pair of neighbouring keys whose fingers
	// are crossed or the same; only the player's own numbers lead to it.
	crossedGrip = 2_000
	// sharpEdge is the cost of thumb or little finger on a sharp while other
	// fingers are on naturals: the whole hand has to move in.
	sharpEdge = 10
	// fourInChord is the cost of finger 4, which moves least by itself.
	fourInChord = 2
	// threeFourInChord is the cost of 3 on a natural with 4 on a sharp.
	threeFourInChord = 10

	// perShift is the cost of each semitone the hand's place moves between
	// two chords.
	perShift = 4
	// lostOuter and lostInner are the costs of a break in the outer voices of
	// a hand, where no gliding or change of finger joins them: the voice at the
	// little finger is the melody or the bass and is heard to break, the one
	// at the thumb less so.
	lostOuter = 15
	lostInner = 5
	// otherInChord is the cost of another finger on a repeated key, and of
	// each held key whose finger changes in silence (5-4): it needs time and
	// care, but it keeps the line.
	otherInChord = 5
	substitution = 25
	// hastySubstitution is what is added where there is hardly time for it.
	hastySubstitution = 60
	// manualChange is the cost of going to the other manual.
	manualChange = 10
	// tooSoon is the cost of a move the hand has no time for, and perTooSoon
	// what each hundredth of the time it needs beyond adds.
	tooSoon    = 20
	perTooSoon = 1
)
