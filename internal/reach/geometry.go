package reach

// The measures of manuals, in hundredths of a millimetre: whole numbers, so
// that equal distances compare equal wherever they lie on the keyboard.
//
// An octave of 164.5 mm is the customary modern span, on organs as on pianos,
// whose national standards ask for 164 to 165; seven naturals share it evenly.
// The other measures are customary for organ manuals, which are shallower than
// a piano's. The outer sharps of a group stand off the middle of their gap,
// outward, so that the naturals between them keep a usable width.
const (
	naturalPitch = 2350 // from the middle of a natural to that of the next
	octaveWidth  = 7 * naturalPitch
	naturalGap   = 100   // between the fronts of two naturals
	naturalDepth = 12800 // visible length of a natural
	sharpDepth   = 8200  // length of a sharp
	sharpWidth   = 1370  // at the foot of a sharp
	sharpLean    = 190   // of the outer sharps of a group
	sharpRise    = 1200  // of a sharp above the naturals
	keyFall      = 950   // how far a key goes down
)

// naturalsBelow counts the naturals of an octave below each pitch class, a
// sharp counting as its lower neighbour.
var naturalsBelow = [12]int{0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6}

// sharpLeans is how far each sharp stands to the right of the middle of its
// gap.
var sharpLeans = [12]int{1: -sharpLean, 3: sharpLean, 6: -sharpLean, 10: sharpLean}

// octaveOf returns the octave a key lies in, counted from MIDI key 0.
func octaveOf(key int) int { return (key - pitchClass(key)) / 12 }

// naturalIndex counts naturals from MIDI key 0 to the natural that is key or
// lies just below it.
func naturalIndex(key int) int { return octaveOf(key)*7 + naturalsBelow[pitchClass(key)] }

// middleOf returns the middle of a manual key in hundredths of a millimetre to
// the right of the middle of MIDI key 0. It is symmetric about every D.
func middleOf(key int) int {
	x := naturalIndex(key) * naturalPitch
	if isSharp(key) {
		x += naturalPitch/2 + sharpLeans[pitchClass(key)]
	}
	return x
}

// millimetres turns hundredths into millimetres.
func millimetres(hundredths int) Millimetres { return Millimetres(hundredths) / 100 }

// hundredths turns millimetres into hundredths, rounded.
func hundredths(m Millimetres) int {
	if m < 0 {
		return -hundredths(-m)
	}
	return int(m*100 + 0.5)
}

// Distance returns how far apart the middles of two manual keys are.
func Distance(key, other int) Millimetres {
	return millimetres(max(middleOf(key)-middleOf(other), middleOf(other)-middleOf(key)))
}

// KeyShape is the outline of one key seen from above, in millimetres: Left
// and Width along the keyboard, Front and Depth away from the player, and how
// far its top stands above the naturals. Rise is how far the board has risen at
// a pedal's place. Naturals are given whole; the sharps lie over them.
type KeyShape struct {
	Key          int
	Sharp        bool
	Left, Width  Millimetres
	Front, Depth Millimetres
	Height, Rise Millimetres
}

// Middle returns where a finger or foot is put down along the keyboard.
func (s KeyShape) Middle() Millimetres { return s.Left + s.Width/2 }

// ManualKey returns the outline of a manual key. Left counts from the middle
// of MIDI key 0, Front from the front edge of the naturals.
func ManualKey(key int) KeyShape {
	x := middleOf(key)
	if isSharp(key) {
		return KeyShape{
			Key: key, Sharp: true,
			Left: millimetres(x - sharpWidth/2), Width: millimetres(sharpWidth),
			Front: millimetres(naturalDepth - sharpDepth), Depth: millimetres(sharpDepth),
			Height: millimetres(sharpRise),
		}
	}
	const width = naturalPitch - naturalGap
	return KeyShape{Key: key, Left: millimetres(x - width/2), Width: millimetres(width), Depth: millimetres(naturalDepth)}
}
