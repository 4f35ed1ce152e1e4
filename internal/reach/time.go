package reach

// The times limbs need, in seconds, for a trained player. Studies of aimed
// movements find a fixed part and one that grows with distance; keyboard
// players repeat whole-hand strokes about seven times a second and cover an
// octave in a fifth of a second. The figures are our estimates from that; the
// player's speed scales them.
const (
	// strokeTime is the least time from one stroke of a hand to the next.
	strokeTime = 0.10
	// handPerMetre is the time a hand takes for a metre along the manual.
	handPerMetre = 0.60
	// manualTime is what going to the other manual adds.
	manualTime = 0.10
	// fingerTime is the least time between two notes that different fingers
	// of one hand play.
	fingerTime = 0.065
	// substitutionTime is what a silent change of fingers on a held key takes.
	substitutionTime = 0.20
	// controlTime is what pulling drawbars takes, there and back; a single touch
	// beside the keys, of a switch or a registration that is stored, takes
	// switchTime.
	controlTime = 0.60
	switchTime  = 0.35
	// footStroke, footPerMetre and heelTime are for feet: the least time
	// between two strokes of one foot, the time for a metre along the board,
	// and the least time from toe to heel or back.
	footStroke   = 0.14
	footPerMetre = 0.45
	heelTime     = 0.11
)

// moveTime is the least time between two strokes of a hand that moves so many
// hundredths of a millimetre between them.
func (h *hand) moveTime(shift int) float64 {
	return (strokeTime + handPerMetre*float64(shift)/100_000) / h.profile.Speed
}
