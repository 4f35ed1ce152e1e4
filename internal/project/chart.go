package project

import "organbook/internal/theory"

// Chart is one tune with its changes, melody and arrangement. See the package
// comment: a *Chart is never changed in place.
type Chart struct {
	// Title and Composer are free text of one line each.
	Title, Composer string
	// Key is the key at the start; bars may change it.
	Key theory.Key
	// Tempo counts quarter notes a minute, 20 to 400.
	Tempo float64
	// Swing is how late the off-beat eighth comes, as a part of the beat: 0.5
	// is straight, 2/3 a triplet feel; 0.5 to 0.8.
	Swing float64
	// Console names the instrument; see Consoles.
	Console string
	// Bars are in written order; there is at least one.
	Bars []Bar
	// Changes are the chord symbols, ascending by Start, one a position.
	Changes []Change
	// Melody is ascending by Start; notes neither overlap nor leave the bars.
	Melody []Note
	// Passages partition the bars; the first starts at bar 0.
	Passages []Passage
	// Pins are the user's own choices, ascending by Start, each at the start
	// of a melody note.
	Pins []Pin
	// Shelved are the pins of takes that are not in use, ascending by Start and
	// then by take.
	Shelved []ShelvedPin
	// Fingerings are the player's own fingers, ascending by Start and key.
	Fingerings []Fingering
	// Player is who the chart is made for; nil is whoever the program is set
	// to.
	Player *Player
	// Tone is how the instrument is made and heard where that is not as usual;
	// see Sounding.
	Tone *Tone
}

// Bar is one written bar and the marks printed on it.
type Bar struct {
	Meter Meter
	// Length is how long the bar really lasts; a pickup or one half of a
	// split bar is shorter than its meter. Above zero.
	Length Ticks
	// Unnumbered bars (pickups, the second half of a split bar) do not count.
	Unnumbered bool
	// Key, when valid, changes the signature from this bar on.
	Key theory.Key
	// Tempo, above zero, changes the tempo from this bar on.
	Tempo float64
	// Section is the rehearsal mark or section label printed over the bar.
	Section string
	// RepeatStart and RepeatEnd are the repeat signs at the bar's edges.
	RepeatStart, RepeatEnd bool
	// Times is how often a repeated section is played in all, for RepeatEnd
	// bars; 0 means twice.
	Times int
	// Ending lists the passes that play this bar ("1", "1, 2"); an ending
	// runs over consecutive bars with equal lists. nil outside endings.
	Ending []int
	// EndingStart marks the first bar of an ending.
	EndingStart bool
	// Segno, Coda, Fine and ToCoda are the signs at the bar: Segno and Coda
	// stand at its start, Fine and ToCoda at its end.
	Segno, Coda, Fine, ToCoda bool
	// Jump is the instruction at the bar's end.
	Jump Jump
}

// Jump is a written instruction to continue somewhere else.
type Jump uint8

// The jumps of print.
const (
	NoJump Jump = iota
	DaCapo
	DaCapoAlFine
	DaCapoAlCoda
	DalSegno
	DalSegnoAlFine
	DalSegnoAlCoda
)

// Change is a chord symbol and where it takes effect; it holds until the next.
type Change struct {
	Start Ticks
	Chord theory.Chord
}

// Note is one melody note, ties merged. Duration is above zero and may cross
// bar lines; notation splits it again.
type Note struct {
	Start, Duration Ticks
	Pitch           theory.Pitch
}

// End returns the position just after the note.
func (n Note) End() Ticks { return n.Start + n.Duration }

// Passage is a run of whole bars with one treatment, one hand plan and one
// registration. It ends where the next one starts.
type Passage struct {
	Name string
	// First is the index of the passage's first bar.
	First        int
	Treatment    Treatment
	Plan         HandPlan
	Bass         BassStyle
	Registration Registration
	// Takes are the passage's alternative arrangements, empty while there is
	// only one, and Take the index of the one in use; see take.go.
	Takes []Take
	Take  int
}

// HandPlan says which limb plays which layer on which division.
type HandPlan uint8

// The hand plans.
const (
	// Shout: right hand plays the block on the upper manual, left hand the
	// lead an octave lower on the same manual, feet the bass.
	Shout HandPlan = iota
	// SoloOverComp: right hand plays the lead on the upper manual, left hand
	// comps shells on the lower, feet the bass.
	SoloOverComp
	// TwoHandBlock: both hands share an opened block, feet the bass.
	TwoHandBlock
)

// BassStyle says what the feet play.
type BassStyle uint8

// The bass styles.
const (
	// BassRoots holds the root of each change.
	BassRoots BassStyle = iota
	// BassTwoFeel plays roots and fifths in half notes.
	BassTwoFeel
	// BassNone leaves the pedals silent.
	BassNone
)

// Pin is what the user fixed for the melody note that starts at Start: its
// block, or only its voicing, or only its technique. It is kept through every
// re-harmonisation until the note goes or changes pitch.
type Pin struct {
	Start Ticks
	// Strength says how much is fixed.
	Strength PinStrength
	// Voicing is the spread the block was chosen in.
	Voicing theory.Voicing
	// Technique is what a technique pin asks for.
	Technique theory.Technique
	// Voices run from the lead down; empty for pins that fix less than a block.
	Voices []theory.Pitch
}

// PinStrength says how much of a note's block a pin fixes.
type PinStrength uint8

// The strengths of pins.
const (
	// PinBlock fixes every voice.
	PinBlock PinStrength = iota
	// PinVoicing fixes the voicing and leaves the notes to the arranger.
	PinVoicing
	// PinTechnique fixes the technique (home, away, borrowed, approach,
	// diatonic, unison) and leaves the rest to the arranger.
	PinTechnique
)

// Registration is what the three divisions are set to in a passage.
type Registration struct {
	// Name is one of the built-in names or the user's own.
	Name string
	// Upper and Lower hold the nine drawbars 16′ 5⅓′ 8′ 4′ 2⅔′ 2′ 1⅗′ 1⅓′ 1′,
	// each 0 to 8.
	Upper, Lower Drawbars
	// Pedal holds 16′ and 8′, each 0 to 8.
	Pedal [2]uint8
	// Rotary is the speaker's speed.
	Rotary Rotary
	// Swell is the expression pedal, 0 (closed) to 1 (open), where the passage
	// starts.
	Swell float64
	// Glide is how far the pedal moves, evenly, in the course of the passage:
	// towards open above 0, towards closed below, to 0 to 1 in the end.
	Glide float64
	Effects
}

// Drawbars are the nine settings of a manual, 16′ first, 0 to 8.
type Drawbars [9]uint8

// Rotary is the speed the rotary speaker is set to.
type Rotary uint8

// The speeds.
const (
	RotaryStopped Rotary = iota
	RotarySlow
	RotaryFast
)
