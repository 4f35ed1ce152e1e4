package project

// ReachWeight says how strongly the player's reach bears on the choice of
// blocks in a passage.
type ReachWeight uint8

// The weights.
const (
	// ReachUsual avoids what is out of reach, and wide blocks a little.
	ReachUsual ReachWeight = iota
	// ReachStrict keeps within comfort wherever the harmony allows it.
	ReachStrict
	// ReachIgnored writes for any hands; the report still tells.
	ReachIgnored
)

// ReachWeights lists the weights in menu order.
var ReachWeights = []ReachWeight{ReachUsual, ReachStrict, ReachIgnored}

var reachWords = []string{"usual", "strict", "ignored"}

// String returns the word files use: "usual", "strict", "ignored".
func (w ReachWeight) String() string { return reachWords[w] }

// ParseReachWeight reads a word written by ReachWeight.String.
func ParseReachWeight(s string) (ReachWeight, error) {
	return parseWord[ReachWeight]("reach", reachWords, s)
}

// The range in which a block may hang under the lead unless a treatment gives
// its own, as keys (C4 is 60). Below the lower limit the lower voices of even a
// close block fall under their low limits; above the upper one a section would
// leave the lead to itself.
const (
	LowestBlockLead  = 55
	HighestBlockLead = 91
)

// The outermost keys that a treatment may give for the range.
const minBlockLead, maxBlockLead = 36, 108

// BlockRange returns the lowest and the highest lead, as keys, that gets a
// block.
func (t *Treatment) BlockRange() (low, high int) {
	low, high = LowestBlockLead, HighestBlockLead
	if t.BlocksFrom != 0 {
		low = t.BlocksFrom
	}
	if t.BlocksTo != 0 {
		high = t.BlocksTo
	}
	return low, high
}

// blockRange checks the range of a treatment.
func (k *checker) blockRange(where string, t *Treatment) {
	for _, key := range []int{t.BlocksFrom, t.BlocksTo} {
		if key != 0 && (key < minBlockLead || key > maxBlockLead) {
			k.add(where, "a limit of the lead at key %d is outside %d to %d", key, minBlockLead, maxBlockLead)
			return
		}
	}
	if low, high := t.BlockRange(); low > high {
		k.add(where, "the lead's lowest key for blocks, %d, is above its highest, %d", low, high)
	}
}
