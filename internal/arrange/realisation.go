package arrange

import (
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// Realisation is everything that follows from a chart. Positions are written
// positions; repeats are not unrolled. All slices ascend by Start.
//
// Invariants: Steps has one entry per melody attack, in the same order as
// Chart.Melody (Steps[i] realises Chart.Melody[i]); a step's block and its Moves
// share one lead and fill the note; Spans partition the chart
// from 0 to its end; every Note lies inside the chart.
type Realisation struct {
	Chart    *project.Chart
	Spans    []Span
	Steps    []Step
	Notes    []Note
	Cues     []Cue
	Findings []Finding

	// search keeps the candidates and costs that Alternatives reads.
	search *search
	// standing is for the realisation after the next edit.
	standing standing
	reach    *ReachReport
}

// Span is the stretch over which one chord and one reading of it hold. A
// chart without changes has a single span without a chord.
type Span struct {
	Start, End project.Ticks
	// Chord is the written symbol in force (N.C. included; not valid before
	// any chord exists in the whole chart).
	Chord theory.Chord
	// Function is the short label shown in the chord row, such as "i",
	// "V of i" or "ii, played as V".
	Function phrase.Phrase
	// Target is the chord this one leads to, when it leads anywhere.
	Target theory.Chord
	// Family is the family in force; not valid where none applies (N.C.).
	Family theory.Family
	// Leading reports that the chord works as a dominant of the family: its
	// away notes are the chord's own, its home notes belong to the target.
	Leading bool
	// Reason says in a sentence why this family serves this chord.
	Reason phrase.Phrase
}

// Step is one melody note with the block chosen for it.
type Step struct {
	Start, Duration project.Ticks
	// Bar is the index of the written bar the step starts in.
	Bar int
	// Lead is the melody note as played, octave shift included.
	Lead theory.Pitch
	// Span is the index of the span whose chord the step takes; for an
	// anticipation it is the following one.
	Span int
	// Chord is that span's chord; not valid or N.C. where none is in force.
	Chord theory.Chord
	Block
	// Moves are the later blocks of a held note whose inner voices move under
	// it, ascending; each holds until the next or to the end of the note.
	Moves []Move
	// Anticipates reports that the note takes the chord it is tied into.
	Anticipates bool
	// Pinned reports that the block is the user's own choice.
	Pinned bool
}

// Move is a change of the inner voices under a held lead.
type Move struct {
	Start, Duration project.Ticks
	// Span is the index of the span whose chord the block takes, and Chord that
	// chord.
	Span  int
	Chord theory.Chord
	Block
}

// Length returns how long the step's first block lasts: to its first move or
// the end of the note.
func (s *Step) Length() project.Ticks {
	if len(s.Moves) > 0 {
		return s.Moves[0].Start - s.Start
	}
	return s.Duration
}

// Block is one way to put voices under a lead.
type Block struct {
	// Family is not valid for techniques that need none.
	Family    theory.Family
	Technique theory.Technique
	Voicing   theory.Voicing
	// Voices run from the lead down; at least one.
	Voices []theory.Pitch
	// Name is the block read as a chord, such as "Gm6" or "D7b9#5" (ASCII).
	Name string
	// Reason says in a sentence or two why the block is what it is.
	Reason phrase.Phrase
}

// Alternative is a block the bench offers for a step, with what sets it apart.
type Alternative struct {
	Block
	// Cost is the cost of the whole passage with this block, less the cost of
	// the cheapest one; 0 for the chosen block of an unpinned step.
	Cost int
	// Remark is the difference in a few words: "smoothest", "one voice leaps".
	Remark phrase.Phrase
	// Parts say what the block is charged for, each in a sentence. They add up to
	// Cost, measured from what the chosen block is charged for itself: Cost is
	// the sum of the parts less the sum of the chosen block's.
	Parts []Part
}

// Note is one sounding note with the limb that plays it.
type Note struct {
	Start, Duration project.Ticks
	Key             int
	Division        Division
	Limb            Limb
	Layer           Layer
	// Step is the index of the step the note belongs to, -1 for layers that
	// do not follow the melody (bass, comp).
	Step int
	// Finger is 1 (thumb) to 5 for hands, 0 for feet.
	Finger int
	// Then is the finger that silently takes the held key over, written 5-4;
	// 0 for none.
	Then int
	// Glide reports that the finger or foot slides over from the key before.
	Glide bool
	// Part is the part of the foot, and Cross how it passes the other one.
	Part  reach.Part
	Cross reach.Cross
	// Pitch is the spelled pitch.
	Pitch theory.Pitch
}

// Division, Limb and Severity are what the model of the player calls them.
type (
	Division = reach.Division
	Limb     = reach.Limb
	Severity = reach.Severity
)

// The divisions, limbs and severities.
const (
	Upper = reach.Upper
	Lower = reach.Lower
	Pedal = reach.Pedal

	RightHand = reach.RightHand
	LeftHand  = reach.LeftHand
	LeftFoot  = reach.LeftFoot
	RightFoot = reach.RightFoot

	Caution    = reach.Caution
	Demanding  = reach.Demanding
	Unplayable = reach.Unplayable
)

// Layer is the musical role of a note.
type Layer uint8

// The layers.
const (
	LayerLead Layer = iota
	LayerBlock
	LayerDouble
	LayerComp
	LayerBass
	LayerHold
)

// CueKind says what a cue changes.
type CueKind uint8

// The kinds of cue.
const (
	CueRegistration CueKind = iota
	CueRotary
	CueExpression
)

// Cue is a change of setting at a written position.
type Cue struct {
	Start project.Ticks
	Kind  CueKind
	// Value is the setting in words, as files and screens show it.
	Value string
	// Registration is the whole setting from here on.
	Registration project.Registration
}

// Finding is something a player should know about the realisation.
type Finding struct {
	Start    project.Ticks
	Bar      int
	Limb     Limb
	Severity Severity
	Text     phrase.Phrase
	Remedies []phrase.Phrase
}

var (
	layerWords = [...]string{"lead", "block", "double", "comp", "bass", "hold"}
	cueWords   = [...]string{"registration", "rotary", "expression"}
)

// String returns the layer's word.
func (l Layer) String() string { return layerWords[l] }

// String returns "registration", "rotary" or "expression".
func (k CueKind) String() string { return cueWords[k] }
