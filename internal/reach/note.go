package reach

// Note is one key that a limb plays.
type Note struct {
	// Start and End are in seconds; End lies after Start.
	Start, End float64
	// At and Until are the written positions of start and end.
	At, Until Ticks
	Key       int
	Division  Division
	Limb      Limb
	// Finger is the player's own finger number, 1 (thumb) to 5, which is
	// kept; 0 leaves the choice to the model. Feet have none.
	Finger int
}

// Mark is how one note is played.
type Mark struct {
	// Finger is 1 (thumb) to 5 for hands, 0 for feet.
	Finger int
	// Then is the finger that silently takes the held key over, as "5-4";
	// 0 for none.
	Then int
	// Glide reports that the finger, or the foot, slides over from the key it
	// played before, which keeps the line joined.
	Glide bool
	// Foot is the limb of a pedal note; it may differ from the one planned.
	Foot Limb
	// Part is the part of the foot.
	Part Part
	// Cross says on which side the foot passes the other one.
	Cross Cross
}

// Part is the part of a foot that presses a pedal.
type Part uint8

// The parts.
const (
	NoPart Part = iota
	Toe
	Heel
)

// Cross says how a foot crosses the other one.
type Cross uint8

// The crossings.
const (
	NoCross Cross = iota
	InFront
	Behind
)

var (
	partWords  = [...]string{"", "toe", "heel"}
	crossWords = [...]string{"", "in front", "behind"}
)

// String returns "toe", "heel" or nothing.
func (p Part) String() string { return partWords[p] }

// String returns "in front", "behind" or nothing.
func (c Cross) String() string { return crossWords[c] }
