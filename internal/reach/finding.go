package reach

import "organbook/internal/phrase"

// Severity orders findings.
type Severity uint8

// The severities.
const (
	// Caution is something to know.
	Caution Severity = iota
	// Demanding can be played, near a limit.
	Demanding
	// Unplayable is beyond a limit of the player or the console.
	Unplayable
)

// Kind says what a finding is about.
type Kind uint8

// The kinds of finding.
const (
	// Wide is a stretch of a hand.
	Wide Kind = iota
	// Shape is a chord within the hand's stretch that no fingers fit, because
	// of a gap between neighbouring fingers.
	Shape
	// TooMany is more keys than a limb takes at once.
	TooMany
	// Fast is a move with too little time for it.
	Fast
	// Numbers are finger numbers of the player's own that cross.
	Numbers
	// TwoManuals is a hand on two manuals at once.
	TwoManuals
	// SameKey is a key that two limbs want at once.
	SameKey
	// Crossed are hands that cross on one manual.
	Crossed
	// OffKeys is a key the console lacks.
	OffKeys
	// NoLimb is a note for a limb that is not free.
	NoLimb
	// WideFeet are pedals too far apart for the foot that has to take them.
	WideFeet
	// Control is a control that a limb has no time for.
	Control
	// Strain is sustained load.
	Strain
)

// Remedy is a way out that a kind of finding suggests. Whether it helps is
// for the caller to verify by trying.
type Remedy uint8

// The remedies.
const (
	// DropDoubling leaves out a doubled lead.
	DropDoubling Remedy = iota
	// OtherHandLowest gives the lowest voice to the other hand.
	OtherHandLowest
	// DropTwoAcross opens the block and shares it between two hands.
	DropTwoAcross
	// ThinToThree leaves three voices.
	ThinToThree
	// ShiftOctave moves the lead and its block by an octave.
	ShiftOctave
	// OtherBlock takes another block for this note.
	OtherBlock
	// OtherPlan shares the layers out differently between the limbs.
	OtherPlan
	// Slower lowers the tempo.
	Slower
	// SimplerBass gives the feet fewer notes.
	SimplerBass
	// FreeNumbers gives up the player's own finger numbers here.
	FreeNumbers
	// OtherConsole takes an instrument that has the keys.
	OtherConsole
	// KeepSetting leaves the control as it is.
	KeepSetting
	// CloserVoicing takes a closer voicing.
	CloserVoicing
	// OtherTake uses another take of the passage.
	OtherTake
	// MoveControl sees to the control where a limb is free nearby.
	MoveControl
	// ShorterNote ends the note before a control in time for it.
	ShorterNote
)

// Finding is something a player should know.
type Finding struct {
	Kind     Kind
	Severity Severity
	Limb     Limb
	// At and Until are the written positions of the first and the last
	// moment concerned, At where it starts; Count is how many moments there
	// are, 1 or more. Other fields describe the worst of them, which is Worst.
	At, Until, Worst Ticks
	Count            int
	// Notes are indexes into the piece's notes.
	Notes []int
	// Low and High are the keys concerned; equal for one key.
	Low, High int
	// Division is where they lie.
	Division Division
	// Asked and Limit are the stretch or the move asked for and what the
	// player has, in millimetres; zero where the finding is of another kind.
	Asked, Limit Millimetres
	// Need and Time are the seconds a move takes and those there are.
	Need, Time float64
	// Pace is the seconds there are where a swing is played evenly; 0 where the
	// finding is of another kind.
	Pace float64
	// OtherManual reports that the move goes to the other manual.
	OtherManual bool
	// Keys and MaxKeys are the keys asked for at once and the fingers or feet
	// there are.
	Keys, MaxKeys int
	// TempoRatio is the part of the tempo at which the move can be made; 0
	// where no tempo helps.
	TempoRatio float64
	// Text is the finding in a sentence.
	Text phrase.Phrase
	// Remedies are ways out worth trying, the best first.
	Remedies []Remedy
}

var (
	severityWords = [...]string{"caution", "demanding", "unplayable"}
	kindWords     = [...]string{
		"stretch", "shape", "too many keys", "speed", "finger numbers", "two manuals", "same key", "crossed hands",
		"compass", "no limb", "pedal stretch", "control", "strain",
	}
	remedyWords = [...]string{
		"drop the doubling", "give the lowest voice to the other hand", "open the block over two hands (drop 2)",
		"thin the block to three voices", "move the lead by an octave", "take another block", "plan the hands differently",
		"play slower", "give the feet fewer notes", "give up the finger numbers here", "choose a console that has the keys",
		"leave the setting as it is", "choose a closer voicing", "use another take", "make the change where a limb is free", "end the note before it sooner",
	}
)

// String returns "caution", "demanding" or "unplayable".
func (s Severity) String() string { return severityWords[s] }

// String returns the kind in words.
func (k Kind) String() string { return kindWords[k] }

// String returns the remedy as an instruction.
func (r Remedy) String() string { return remedyWords[r] }

// remediesOf lists what is worth trying for a kind, best first.
func remediesOf(k Kind) []Remedy {
	switch k {
	case Wide, Shape:
		return []Remedy{OtherHandLowest, DropTwoAcross, ThinToThree, OtherBlock, OtherTake, CloserVoicing, OtherPlan}
	case TooMany:
		return []Remedy{DropDoubling, OtherHandLowest, ThinToThree, OtherTake, OtherPlan}
	case Fast:
		return []Remedy{OtherBlock, ThinToThree, OtherTake, OtherPlan, SimplerBass, Slower}
	case Numbers:
		return []Remedy{FreeNumbers}
	case TwoManuals, Crossed:
		return []Remedy{OtherPlan, ShiftOctave, OtherTake, OtherBlock}
	case SameKey:
		return []Remedy{DropDoubling, OtherPlan, OtherTake, OtherBlock}
	case OffKeys:
		return []Remedy{ShiftOctave, OtherConsole}
	case NoLimb, WideFeet:
		return []Remedy{SimplerBass, OtherPlan}
	case Control:
		return []Remedy{MoveControl, ShorterNote, KeepSetting, OtherPlan}
	}
	return []Remedy{ThinToThree, Slower, OtherTake, OtherPlan}
}
