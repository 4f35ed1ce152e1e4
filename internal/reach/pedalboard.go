package reach

import "math"

// The measures of pedalboards, in millimetres. The pitch of 63.5 mm between
// naturals (2½ inches), the concavity and the radiation of 8 ft 6 in and the
// 32 keys are what the concert pedalboard's standard asks for; flat parallel
// boards of one or two octaves are built to nearly the same pitch. Lengths are
// of what the foot can use, and customary.
const (
	pedalPitch        Millimetres = 63.5
	pedalNaturalWide  Millimetres = 37
	pedalSharpWide    Millimetres = 26
	pedalNaturalDepth Millimetres = 480 // in front of the sharps' ends and beside them
	pedalSharpDepth   Millimetres = 140
	pedalSharpRise    Millimetres = 40
	pedalFall         Millimetres = 13
	concertRadius     Millimetres = 2591 // 8 ft 6 in, of concavity and radiation
)

// Board is the form of a pedalboard.
type Board uint8

// The forms.
const (
	// Flat boards have parallel keys in one plane.
	Flat Board = iota
	// Concave boards rise toward both ends and their keys radiate from a
	// point behind the bench.
	Concave
)

// pedalSlot returns where a pedal stands, in pitches of naturals; sharps stand
// half-way between their neighbours.
func pedalSlot(key int) float64 {
	slot := float64(naturalIndex(key))
	if isSharp(key) {
		slot += 0.5
	}
	return slot
}

// pedalMiddle returns where a pedal is pressed along the board, in hundredths
// of a millimetre.
func pedalMiddle(key int) int { return int(math.Round(pedalSlot(key) * float64(pedalPitch) * 100)) }

// PedalDistance returns how far apart two pedals are where toes press them.
func PedalDistance(key, other int) Millimetres {
	return Millimetres(math.Abs(pedalSlot(key)-pedalSlot(other))) * pedalPitch
}

// PedalKey returns the outline of a pedal of a board with the given compass.
// Left counts from the middle of the board, Front from the players' end of
// the naturals.
func PedalKey(key int, board Compass, form Board) KeyShape {
	middle := (pedalSlot(board.Lowest) + pedalSlot(board.Highest)) / 2
	at := Millimetres(pedalSlot(key)-middle) * pedalPitch
	s := KeyShape{Key: key, Sharp: isSharp(key), Width: pedalNaturalWide, Depth: pedalNaturalDepth}
	if s.Sharp {
		s.Width, s.Front, s.Depth = pedalSharpWide, pedalNaturalDepth-pedalSharpDepth/2, pedalSharpDepth
		s.Height = pedalSharpRise
	}
	s.Left = at - s.Width/2
	if form == Concave {
		s.Rise = concertRadius - Millimetres(math.Sqrt(float64(concertRadius*concertRadius-at*at)))
	}
	return s
}
