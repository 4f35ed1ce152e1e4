package arrange

// The weights of the search, in one place. They are whole numbers on one
// scale, where 1 is one inner voice moving by one semitone; the cheapest path
// through the candidates is the realisation. The order of magnitude matters
// more than the figure: what must not happen costs thousands, what an arranger
// avoids costs tens, what he prefers costs units.
const (
	// pinBroken keeps every candidate but the pin out of the path.
	pinBroken = 1_000_000
	// minorNinth is the cost of a minor ninth under the lead, the one
	// interval that spoils any block. Only a pin or a symbol that asks for
	// both notes gets it.
	minorNinth = 5_000
	// outOfReach is the cost of a block the planned hands cannot take in.
	outOfReach = 400
	// offTheKeys is the cost of each voice outside the manual's compass.
	offTheKeys = 600
	// tooLow is the cost of each interval under its low limit, where it turns
	// to mud.
	tooLow = 60
	// outOfRegister is the cost of a block under a lead outside the range that
	// the treatment gives, and lowDoubling that of two voices where the lead is
	// low already.
	outOfRegister = 200
	lowDoubling   = 10
	// threeLow and pairLow are the costs of a block thinned to three or two voices
	// because more would be muddy: each step down is a loss, and the lead alone
	// the last.
	threeLow = 10
	pairLow  = 22
	// lostThickness is the cost of a lead that plays alone where a block is
	// possible: thinning is the last way out.
	lostThickness = 70
	// inOctaves is lostThickness for a lead doubled in octaves.
	inOctaves = 65

	// clash is the cost of a voice against a tension or alteration the symbol
	// asks for, such as a flat nine under a 13 chord written with its 9.
	clash = 26
	// missingColour is the cost of each alteration that the symbol asks for and
	// the block leaves out, missingInPassing the same under a note of a beat at
	// most, where the movement of the voices may be worth more.
	missingColour    = 9
	missingInPassing = 4
	// rub is the cost of a semitone right under the lead: it hides the lead.
	rub = 20
	// seventhUnder is the cost of each voice a major seventh under the lead: it
	// is heard, but it does no harm.
	seventhUnder = 3
	// innerRub is the cost of a semitone between inner voices: spice at most.
	innerRub = 4
	// innerNinth is the cost of a minor ninth between inner voices, which an
	// opened block can have where the close one had a semitone or a seventh: it
	// is as hard as one under the lead, only less in the open.
	innerNinth = 24
	// lostGuide is the cost of each guide note (third, seventh or sixth) that
	// a borrowed voice pushed out of its chord, and lostGuideHeld the same under a
	// note of more than a beat, which is heard as harmony.
	lostGuide     = 24
	lostGuideHeld = 40

	// borrowInnerFreely replaces borrowInner where the passage borrows freely,
	// leanToBorrow is taken off instead where it leans that way, and borrowSecond
	// is the cost of a second borrowed voice.
	borrowInnerFreely = 3
	// borrowInnerTension is the cost of a second borrowed voice that brings a
	// customary tension to a dominant.
	borrowInnerTension = 12
	leanToBorrow       = 4
	borrowSecond       = 4

	// suspended replaces lostGuide where the fourth stands for the third: that is
	// a suspension, and the third is heard in it.
	suspended = 6

	// borrowLead is the cost of borrowing the lead onto a home chord: the
	// family's own block moves more.
	borrowLead = 7
	// borrowOverDominant is the same over a dominant, where an away note is the
	// chord and a home note of the target is the natural thing to borrow.
	borrowOverDominant = 2
	// borrowInner is the cost of changing an inner voice that nothing asks for,
	// and borrowInnerTone the same where the new note is one of the symbol's
	// own, such as the root or fifth of a dominant.
	borrowInner     = 16
	borrowInnerTone = 6
	// borrowInnerAsked is the same where the symbol spells the note out as its
	// colour, such as the ninth of Fm9.
	borrowInnerAsked = 3
	// targetInPassing is the cost of the target's home block over a dominant: it
	// gives the resolution away, so it only passes, where a borrowed note would
	// leave the inner voices standing.
	targetInPassing = 20
	// borrowTension replaces borrowLead under a note of the symbol, and under a
	// customary tension of a dominant: they are at home on it.
	borrowTension = 3
	// foreignAway is the cost of the away block of any family but the best: it
	// leads somewhere else.
	foreignAway = 14
	// awayOverDominant is the cost of the away block of a resting family over a
	// dominant that moves: such a family lends the dominant its home chord, and
	// its away chord points elsewhere.
	awayOverDominant = 26
	// awayUnderTone is the cost of the away block under a note of the symbol, such
	// as a written major seventh: that note has no need to pass.
	// awayUnderColour is the same under a tension that the symbol spells out, such as
	// the ninth of Am9, which was written to be heard.
	awayUnderTone   = 7
	awayUnderColour = 16
	// ownNotes is the cost of a block of the symbol's own notes in place of a
	// family's, and ownTension what is left of it under a lead that is off the
	// family but a customary tension of the symbol, such as the thirteenth of a
	// dominant.
	ownNotes   = 20
	ownTension = 2
	// ownColour is the cost of the symbol's own notes under a lead that is one of
	// them where the symbol spells out tensions, and under one that is not on the
	// home chord, such as a written major seventh or the eleventh of a
	// half-diminished chord.
	ownColour = 12
	// otherMode is the cost of borrowing from the target in its other mode, and
	// otherModeAsked the same after a half-diminished two, which has promised
	// minor.
	otherMode      = 8
	otherModeAsked = 2
	// secondFamily is the cost of each place a family stands down the list of
	// those that serve the chord.
	secondFamily = 12
	// earlyFlatNine replaces secondFamily for the flat ninth of a long dominant on
	// its way to a major third, before it leads on.
	earlyFlatNine = 7
	// brightNine is what a family with a natural ninth costs over a dominant
	// that leads to minor, or was prepared by a half-diminished two.
	brightNine = 8
	// slideUnasked is the cost of an approach under a note of the family.
	slideUnasked = 15
	// slideFromTension is added where the lead is a customary tension, such as the
	// thirteenth of a dominant, or the third of the target's other mode, and so has
	// a chord of its own.
	slideFromTension = 10
	// slide is the cost of an approach by semitone under a note that has no
	// other home, and slideByTone the same by whole tone, which is further from
	// the chord that is in force.
	slide       = 1
	slideByTone = 5
	// slideAlongScale is the cost of a slide along the scale of the key: it has
	// less pull than one by semitone, and stays in the key.
	slideAlongScale = 4
	// approachByDominant is the cost of the next chord's dominant under a note
	// that is off the family, approachUnasked the same where the note has a home.
	approachByDominant = 4
	approachUnasked    = 16
	// commonToneApproach is the cost of the diminished chord on the root under a
	// note that is off the family.
	commonToneApproach = 6
	// hungDiminished is the cost of a diminished chord hung under a passing note
	// that nothing else explains.
	hungDiminished = 12
	// blueNote is the cost of a blue third or fifth over a dominant's own notes:
	// it is heard as colour where a slide would be heard as passing.
	blueNote = 6

	// restlessBeat, restlessLength and restlessEnd are what an away block costs
	// as a resting place: on a strong beat, on a long note, and at the end of a
	// phrase. Off the beat and in passing it costs nothing.
	restlessBeat   = 9
	restlessLength = 8
	restlessEnd    = 20

	// perSemitone is the cost of moving one inner voice by one semitone.
	perSemitone = 1
	// innerLeap is the cost of each inner voice that leaps further than the
	// lead by more than a whole tone.
	innerLeap = 4
	// standingVoice is the cost of each inner voice that stays while the lead
	// moves by step: a block moves as one.
	standingVoice = 3
	// frozenBlock is the cost of the same inner voices all staying under a
	// moving lead.
	frozenBlock = 60
	// frozenRun replaces frozenBlock in a fast run, where the pair under the lead
	// goes by too quickly to be heard standing.
	frozenRun = 15
	// commonTones replaces frozenBlock where the chord changes under the lead:
	// what two chords share may be held over.
	commonTones = 17
	// resolvedBorrow replaces frozenBlock where a borrowed lead moves to the very
	// note it took the place of: a suspension resolving over its chord. Over a
	// dominant it is resolvedOverDominant, since there an inner voice can move
	// from the flat ninth to the root as well.
	resolvedBorrow       = 15
	resolvedOverDominant = 18
	// takenOver is the same the other way round: the lead moves to a borrowed
	// note that takes its place.
	takenOver = 30
	// closerVoicing is the cost of closing up a wide voicing whose lower voices
	// would be muddy.
	closerVoicing = 16
	// smoothSemitone replaces perSemitone where the passage leans to smoothness.
	smoothSemitone = 3
	// alongLead is the cost of each inner voice that moves the way the lead does,
	// where the passage leans to contrary motion.
	alongLead = 3
	// respaced is the cost of each interval of a block that changes by more than
	// a whole tone over a leap, and leapFrom the widest step that is no leap.
	respaced = 2
	leapFrom = 5
	// turnedGuide is the cost of a turn that loses the third or seventh of the
	// dominant it stands for.
	turnedGuide = 5
	// alternated is the cost of turning to the family's other chord under a
	// repeated note, and sameRepeat that of not doing so where the passage asks
	// for it.
	alternated = 3
	sameRepeat = 12
	// shapeChange is the cost of a change in the number of voices.
	shapeChange = 6
	// changedFamily is the cost of going on in another family over the same chord.
	changedFamily = 5
	// brokenSlide is the cost of an approach that does not reach the block it
	// was made for.
	brokenSlide = 2_000
	// pinnedAstray is the same for an approach that the user pinned: its voices
	// stay, so it is only a pity.
	pinnedAstray = 25
)
