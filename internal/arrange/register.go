package arrange

// The range in which a block may hang under the lead. Below the lower limit
// the lower voices of even a close block fall under their low limits; above
// the upper one a section would leave the lead to itself. C4 is 60.
const (
	lowestBlockLead  = 55
	highestBlockLead = 91
)
