package arrange

// The kinds of charge.
const (
	chargeOther chargeKind = iota
	chargeNinth
	chargeRub
	chargeSeventhUnder
	chargeInnerRub
	chargeInnerNinth
	chargeMud
	chargeKeys
	chargeReach
	chargeClash
	chargeMissing
	chargeRegister
	chargeThin
	chargeBorrow
	chargeBorrowInner
	chargeGuide
	chargeUnrest
	chargeTarget
	chargeForeign
	chargeOwnTone
	chargeFamily
	chargeOwnNotes
	chargeOtherMode
	chargeBright
	chargeSlide
	chargeCloser
	chargeLow
	chargeLeaning
	// What follows is charged between two blocks.
	chargeShape
	chargeColour
	chargeMovement
	chargeLeap
	chargeStanding
	chargeFrozen
	chargeSpacing
	chargeRepeat
	chargeContrary
)

// chargeTexts says what each charge is for. A negative charge is a taste of the
// passage that the block meets.
var chargeTexts = [...]string{
	chargeOther:        "other costs",
	chargeNinth:        "a minor ninth lies under the lead",
	chargeRub:          "a semitone right under the lead hides it",
	chargeSeventhUnder: "a major seventh lies under the lead",
	chargeInnerRub:     "two inner voices rub by a semitone",
	chargeInnerNinth:   "a minor ninth lies between inner voices",
	chargeMud:          "an interval lies below its low limit and turns to mud",
	chargeKeys:         "a voice lies outside the manual",
	chargeReach:        "the planned hand cannot take the block in",
	chargeClash:        "a voice lies against a tension that the symbol asks for",
	chargeMissing:      "an alteration that the symbol asks for is left out",
	chargeRegister:     "the lead lies outside the range of blocks",
	chargeThin:         "the lead loses the block under it",
	chargeBorrow:       "the lead is borrowed onto the family's other chord",
	chargeBorrowInner:  "an inner voice is borrowed",
	chargeGuide:        "a guide note of the chord gives way",
	chargeUnrest:       "the note asks for rest and the block wants to move",
	chargeTarget:       "the block gives the resolution away",
	chargeForeign:      "the away chord points away from this chord's own goal",
	chargeOwnTone:      "the away chord passes under a note that the symbol itself has",
	chargeFamily:       "another family serves the chord better",
	chargeOwnNotes:     "the symbol's own notes move less than a family does",
	chargeOtherMode:    "the note comes from the target's other mode",
	chargeBright:       "a natural ninth over a dominant on its way to minor",
	chargeSlide:        "the block is not the chord's own and only leads on",
	chargeCloser:       "the voicing closes up to stay clear of mud",
	chargeLow:          "the block is thinned to stay clear of mud",
	chargeLeaning:      "the taste the passage leans towards",
	chargeShape:        "the number of voices changes",
	chargeColour:       "the chord changes its colour by another family",
	chargeMovement:     "inner voices move",
	chargeLeap:         "an inner voice leaps further than the lead",
	chargeStanding:     "inner voices stand still under a moving lead",
	chargeFrozen:       "the whole block stands still under a moving lead",
	chargeSpacing:      "the spacing of the block changes over a leap",
	chargeRepeat:       "the same block repeats under a repeated note",
	chargeContrary:     "inner voices move along with the lead",
}
