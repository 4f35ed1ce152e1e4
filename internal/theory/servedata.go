package theory

// Which families serve which chords. Rows are in order of preference within a
// chord's quality; a chord with altered or added tones of its own reorders
// them (see rank). Facts of common practice, from the teaching of sixth and
// diminished scales for arrangers, told in our own sentences.

// place says what is known about where a chord stands.
type place uint8

const (
	// unknown: the symbol alone.
	unknown place = 1 << iota
	// atRest: the chord is a tonic or otherwise goes nowhere.
	atRest
	// downFifth, downSemitone and upTone are the ways a dominant resolves:
	// as V, as the tritone substitute of V, and as the backdoor dominant.
	downFifth
	downSemitone
	upTone

	anywhere  = unknown | atRest | downFifth | downSemitone | upTone
	resolving = downFifth | downSemitone | upTone
)

// serveRow is one fact: chords of these qualities, standing there, are served
// by the family so far above the root.
type serveRow struct {
	on    []Quality
	where place
	// with limits the row to chords that have all these degrees.
	with degreeSet
	at   Interval
	// toTarget replaces at and sixth by the target's own family.
	toTarget bool
	sixth    Sixth
	leading  bool
	// why may name {chord} {root} {home} {away} {sound} {target}.
	why string
}

var (
	restingMajor = []Quality{MajorTriad, MajorSixthChord, MajorSeventhChord}
	restingMinor = []Quality{MinorTriad, MinorSixthChord, MinorMajorSeventh}
	// dominants with a plain fifth, a flat one, a raised one.
	plainDominant = []Quality{DominantSeventh}
	allDominants  = []Quality{DominantSeventh, DominantFlatFive, AugmentedSeventh, AlteredDominant}
	fiveFlat      = []Quality{DominantFlatFive, AlteredDominant}
	fiveRaised    = []Quality{AugmentedSeventh, AlteredDominant}
	diminished    = []Quality{DiminishedTriad, DiminishedSeventh}
)

var serveRows = []serveRow{
	// Chords at rest.
	{on: restingMajor, where: anywhere, at: Unison, sixth: MajorSixthFamily,
		why: "At rest {chord} plays as {home}, and {away} is the chord that wants to return to it."},
	{on: restingMajor, where: anywhere, with: degrees("#11"), at: MajorSixth, sixth: MinorSixthFamily,
		why: "{home} over {root} sounds as {sound} and brings the raised eleventh that the symbol asks for."},
	{on: restingMajor, where: anywhere, with: degrees("b5"), at: MajorSixth, sixth: MinorSixthFamily,
		why: "{home} over {root} sounds as {sound} and brings the lowered fifth that the symbol asks for."},
	{on: []Quality{AugmentedMajorSeventh}, where: anywhere, at: MajorSixth, sixth: MinorSixthFamily,
		why: "The scale of {home}, the minor chord on the sixth, holds the raised fifth and the major seventh of {chord}."},
	{on: restingMinor, where: anywhere, at: Unison, sixth: MinorSixthFamily,
		why: "At rest {chord} plays as {home}, and {away} is the chord that wants to return to it."},
	{on: []Quality{MinorTriad}, where: anywhere, with: degrees("#5"), at: MinorSixth, sixth: MajorSixthFamily,
		why: "{home} over {root} has the raised fifth that the symbol asks for as its root."},
	{on: []Quality{MinorTriad}, where: unknown | resolving, at: MinorThird, sixth: MajorSixthFamily,
		why: "Where {chord} is on its way it may play as a minor seventh: {home} over {root} sounds as {sound}."},
	{on: []Quality{MinorSeventhChord}, where: atRest, at: Unison, sixth: MinorSixthFamily,
		why: "As a tonic {chord} rests as {home}, with the sixth in place of the seventh."},
	{on: []Quality{MinorSeventhChord}, where: anywhere, at: MinorThird, sixth: MajorSixthFamily,
		why: "A minor seventh is the sixth chord on its third: {home} over {root} sounds as {sound}."},
	{on: []Quality{MinorSeventhChord}, where: unknown | resolving, at: Unison, sixth: MinorSixthFamily,
		why: "If {chord} is a tonic it rests as {home}, with the sixth in place of the seventh."},
	{on: []Quality{HalfDiminished}, where: anywhere, at: MinorThird, sixth: MinorSixthFamily,
		why: "A half-diminished chord is the minor sixth chord on its third: {home} over {root} sounds as {sound}."},
	{on: []Quality{Power}, where: anywhere, at: Unison, sixth: MajorSixthFamily,
		why: "{chord} has no third, so the major {home} fits as well as the minor one."},
	{on: []Quality{Power}, where: anywhere, at: Unison, sixth: MinorSixthFamily,
		why: "{chord} has no third, so the minor {home} fits as well as the major one."},

	// Dominants on their way down a fifth.
	{on: allDominants, where: downFifth, toTarget: true, leading: true,
		why: "{chord} leads to {target}, so it borrows from that family: {away} over {root} sounds as {sound}."},
	{on: allDominants, where: downFifth, at: PerfectFifth, sixth: MinorSixthFamily,
		why: "The minor sixth chord on the fifth opens the dominant: {home} over {root} sounds as {sound}."},
	{on: allDominants, where: downFifth, at: raisedUnison, sixth: MinorSixthFamily,
		why: "The minor sixth chord on the raised root is the altered sound: {home} over {root} sounds as {sound}."},

	// Dominants that come from above or from behind keep a natural ninth,
	// because their ninth belongs to the key they fall into.
	{on: allDominants, where: downSemitone | upTone, at: PerfectFifth, sixth: MinorSixthFamily,
		why: "A dominant that does not fall a fifth keeps its natural ninth: {home} over {root} sounds as {sound}."},
	{on: allDominants, where: downSemitone | upTone, toTarget: true, leading: true,
		why: "{chord} shares its diminished chord with the dominant of {target}: {away} over {root} sounds as {sound}."},

	// Dominants that stay, and those of which nothing is known.
	{on: plainDominant, where: unknown | atRest, at: Unison, sixth: DominantFamily,
		why: "A dominant that stays where it is, as in the blues, rests as {home} and moves through {away}."},
	{on: fiveRaised, where: unknown | atRest, at: raisedUnison, sixth: MinorSixthFamily,
		why: "The minor sixth chord on the raised root is the altered sound: {home} over {root} sounds as {sound}."},
	{on: fiveFlat, where: anywhere, at: Unison, sixth: DominantFlatFiveFamily,
		why: "{home} carries the tritone above the root that {chord} asks for, and is its own tritone substitute."},
	{on: []Quality{AugmentedSeventh}, where: anywhere, at: Unison, sixth: DominantFlatFiveFamily,
		why: "The scale of {home} runs in whole tones from root to seventh, with the raised fifth of {chord} on the way."},
	{on: allDominants, where: unknown | atRest, at: PerfectFifth, sixth: MinorSixthFamily,
		why: "The minor sixth chord on the fifth opens the dominant: {home} over {root} sounds as {sound}."},
	{on: allDominants, where: unknown, at: PerfectFourth, sixth: MajorSixthFamily, leading: true,
		why: "If {chord} falls a fifth to a major chord, {away} over {root} sounds as {sound} and leads there."},
	{on: allDominants, where: unknown, at: PerfectFourth, sixth: MinorSixthFamily, leading: true,
		why: "If {chord} falls a fifth to a minor chord, {away} over {root} sounds as {sound} and leads there."},
	{on: []Quality{DominantSeventh, DominantFlatFive}, where: unknown | atRest | downSemitone | upTone, at: raisedUnison, sixth: MinorSixthFamily,
		why: "The minor sixth chord on the raised root is the altered sound: {home} over {root} sounds as {sound}."},
	{on: plainDominant, where: resolving, at: Unison, sixth: DominantFamily,
		why: "{chord} may also stay on its own root, as {home} moving through {away}."},

	// Suspensions.
	{on: []Quality{SuspendedSeventh}, where: anywhere, with: degrees("b9"), at: MinorSeventh, sixth: MinorSixthFamily,
		why: "The minor sixth chord on the seventh keeps the fourth and the flat ninth: {home} over {root} sounds as {sound}."},
	{on: []Quality{SuspendedSeventh}, where: anywhere, at: MinorSeventh, sixth: MajorSixthFamily,
		why: "The sixth chord on the seventh keeps the fourth: {home} over {root} sounds as {sound}."},
	{on: []Quality{SuspendedSeventh}, where: resolving, toTarget: true, leading: true,
		why: "When the fourth resolves, {away} over {root} sounds as {sound} and leads to {target}."},
	{on: []Quality{SuspendedSeventh}, where: unknown, at: PerfectFourth, sixth: MajorSixthFamily, leading: true,
		why: "If the fourth resolves on the way to the chord a fifth below, {away} over {root} sounds as {sound}."},
	{on: []Quality{Suspended}, where: unknown | resolving, with: degrees("4"), at: MinorSeventh, sixth: MajorSixthFamily,
		why: "The sixth chord on the seventh keeps the fourth: {home} over {root} sounds as {sound}."},
	{on: []Quality{Suspended}, where: anywhere, with: degrees("4"), at: PerfectFourth, sixth: MajorSixthFamily,
		why: "The sixth chord on the fourth keeps the suspension at rest: {home} over {root} sounds as {sound}."},
	{on: []Quality{Suspended}, where: anywhere, with: degrees("2"), at: Unison, sixth: MajorSixthFamily,
		why: "The second of {chord} is the first away note of the family, and {home} is where it rests."},
	{on: []Quality{Suspended}, where: anywhere, at: Unison, sixth: MajorSixthFamily,
		why: "{chord} resolves on its own root, where {home} rests."},

	// Diminished and augmented chords, all of them on their way.
	{on: diminished, where: resolving, toTarget: true, leading: true,
		why: "{chord} is the diminished chord of the family of {target}, so it is that family's away chord itself."},
	{on: diminished, where: anywhere, at: MinorSecond, sixth: MinorSixthFamily, leading: true,
		why: "A diminished chord leads a semitone up: {chord} is the away chord of the minor family there."},
	{on: diminished, where: anywhere, at: MinorSecond, sixth: MajorSixthFamily, leading: true,
		why: "A diminished chord leads a semitone up: {chord} is the away chord of the major family there."},
	{on: []Quality{Augmented}, where: unknown | resolving, at: raisedUnison, sixth: MinorSixthFamily,
		why: "As a dominant with a raised fifth {chord} is altered: {home} over {root} sounds as {sound}."},
	{on: []Quality{Augmented}, where: resolving, toTarget: true, leading: true,
		why: "{chord} leads to {target}, so it borrows from that family: {away} over {root} sounds as {sound}."},
	{on: []Quality{Augmented}, where: anywhere, at: MajorSixth, sixth: MinorSixthFamily,
		why: "The scale of {home}, the minor chord on the sixth, holds all three notes of {chord}."},
}

// raisedUnison leads to the altered dominant's family: Bm6 over Bb7.
var raisedUnison = NewInterval(0, 1)
