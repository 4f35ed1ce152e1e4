package reach

// The weights of pedalling, on a scale of their own. Toes that take turns are
// the rule; everything else has to be worth it.
const (
	// heelWeight is the cost of each note for a heel: it is slower and lower.
	heelWeight = 8
	// heelToe is the cost of the same foot joining two pedals by heel and toe,
	// perSlot what each natural's pitch between them adds.
	heelToe = 20
	perSlot = 6
	// slideOff is the cost of a toe sliding from a sharp to the natural beside
	// it, slideOn of a slide between naturals.
	slideOff = 28
	slideOn  = 55
	// footLeap is the cost of a foot leaping from one pedal to another, which
	// breaks the line; perSlot is added.
	footLeap = 45
	// otherFoot is the cost of changing feet on a repeated pedal.
	otherFoot = 20
	// crossing is the cost of a foot landing beyond the other one where it
	// plays, crossingIdle where it does not, and can move away; perCrossed is
	// added for each natural's pitch beyond.
	crossing     = 9
	crossingIdle = 5
	perCrossed   = 5
	// travel is the cost of each natural's pitch a free foot moves.
	travel = 1
	// wrongSide is the cost of each natural's pitch a foot plays more than an
	// octave beyond the middle of the board.
	wrongSide = 3
	// startAcross is the cost of each natural's pitch beyond the middle where a foot
	// begins: a line from low C begins with the left toe, even if turns would cross
	// less the other way round.
	startAcross = 2
	// footSubstitution is the cost of changing feet silently on a held pedal.
	footSubstitution = 60
	// oneFootTwo is the cost of two pedals for toe and heel of one foot.
	oneFootTwo = 50
	// beyondFoot is the cost of what no foot can do: two pedals too far apart
	// for one, or a hold that another foot would have to play.
	beyondFoot = 5_000
	// footHaste is the cost of a move a foot has no time for.
	footHaste = 150
)

// footSpan is how far apart toe and heel of one foot press, in pitches of
// naturals: a third.
const footSpan = 2.0
