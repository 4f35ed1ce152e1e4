package reach

// Compass is the range of one keyboard in MIDI keys, both ends included. A
// keyboard the console lacks has Highest below Lowest.
type Compass struct{ Lowest, Highest int }

// Keys returns the number of keys, 0 for a keyboard that is not there.
func (k Compass) Keys() int { return max(0, k.Highest-k.Lowest+1) }

// Has reports whether a MIDI key lies on the keyboard.
func (k Compass) Has(key int) bool { return key >= k.Lowest && key <= k.Highest }

// Console is an instrument as far as the player's body meets it.
type Console struct {
	Upper, Lower, Pedal Compass
	// Split, above zero, is the first key of the upper division where both
	// divisions share one manual.
	Split int
	// LowerOffset is how far the lower manual's keys stand to the right of
	// the upper manual's keys of the same pitch. Staggered manuals whose
	// pitches are aligned have 0.
	LowerOffset Millimetres
	// Board is the form of the pedalboard.
	Board Board
}

// The consoles whose compasses are customary.
var (
	// FullConsole has two manuals of five octaves and two octaves of pedals.
	FullConsole = Console{Upper: Compass{36, 96}, Lower: Compass{36, 96}, Pedal: Compass{36, 60}}
	// ShortConsole has staggered manuals of 44 keys and one octave of pedals.
	ShortConsole = Console{Upper: Compass{53, 96}, Lower: Compass{41, 84}, Pedal: Compass{36, 48}}
	// ConcertConsole has two manuals of five octaves and a concave,
	// radiating board of 32 pedals.
	ConcertConsole = Console{Upper: Compass{36, 96}, Lower: Compass{36, 96}, Pedal: Compass{36, 67}, Board: Concave}
	// SingleConsole has one manual of 73 keys, split, and no pedals.
	SingleConsole = Console{Upper: Compass{55, 100}, Lower: Compass{28, 54}, Pedal: Compass{0, -1}, Split: 55}
)

// Compass returns the range of a division.
func (c Console) Compass(d Division) Compass { return [...]Compass{c.Upper, c.Lower, c.Pedal}[d] }

// sameManual reports whether two manual divisions are keys of one manual.
func (c Console) sameManual(d, e Division) bool {
	return d == e || c.Split > 0 && d != Pedal && e != Pedal
}

// middle returns the place of a key along its keyboard, in hundredths of a
// millimetre on one scale for both manuals.
func (c Console) middle(d Division, key int) int {
	switch d {
	case Pedal:
		return pedalMiddle(key)
	case Lower:
		return middleOf(key) + hundredths(c.LowerOffset)
	}
	return middleOf(key)
}

// Key returns the outline of a key as the player finds it. Left counts on one
// scale for both manuals, from the middle of MIDI key 0 of the upper one, and
// from the middle of the board for the pedals; see ManualKey and PedalKey.
func (c Console) Key(d Division, key int) KeyShape {
	if d == Pedal {
		return PedalKey(key, c.Pedal, c.Board)
	}
	s := ManualKey(key)
	if d == Lower {
		s.Left += c.LowerOffset
	}
	return s
}
