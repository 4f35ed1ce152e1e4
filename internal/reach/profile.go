package reach

import "fmt"

// Stretch is how far a hand opens, measured between the middles of the outer
// keys it holds.
type Stretch struct {
	// Comfortable can be held again and again, Maximal can just be reached.
	Comfortable, Maximal Millimetres
}

// Feet says which feet are free for the pedals.
type Feet uint8

// The feet that play.
const (
	// BothFeet play; the expression pedal is left alone.
	BothFeet Feet = iota
	// LeftOnly leaves the right foot on the expression pedal.
	LeftOnly
	// NoFeet leaves the pedals silent.
	NoFeet
)

// Touch says how notes of one hand are joined.
type Touch uint8

// The touches.
const (
	// Legato joins notes without a gap, as organists play lines.
	Legato Touch = iota
	// Detached lifts between notes, which leaves time to move.
	Detached
)

// Profile describes the player.
type Profile struct {
	// Name is what a list shows.
	Name string
	// Hands are the stretches of the right and the left hand.
	Hands [2]Stretch
	Feet  Feet
	Touch Touch
	// Speed is how fast the limbs move as a part of a trained player's speed:
	// 1 is a trained player; 0.3 to 2.
	Speed float64
	// BusyLimbs cannot play at all.
	BusyLimbs [limbs]bool
	// ThumbBridge allows a hand to play on the upper manual while its thumb
	// plays on the lower one.
	ThumbBridge bool
}

// The limits of a profile.
const (
	// MinStretch and MaxStretch bound a maximal stretch: a sixth and a
	// thirteenth of naturals.
	MinStretch, MaxStretch Millimetres = 5 * 23.5, 12 * 23.5
	// MinSpeed and MaxSpeed bound Speed.
	MinSpeed, MaxSpeed = 0.3, 2.0
)

// The hand sizes. Span studies of adult pianists put most hands between an
// easy octave and a tenth; a small hand holds an octave with ease and just
// reaches a ninth, a large one holds a tenth with ease.
var (
	smallHand  = Stretch{Naturals(8), Naturals(9)}
	mediumHand = Stretch{Naturals(9), Naturals(10)}
	largeHand  = Stretch{Naturals(10), Naturals(11)}
)

// Profiles lists the built-in players in menu order.
func Profiles() []Profile {
	of := func(name string, h Stretch) Profile {
		return Profile{Name: name, Hands: [2]Stretch{h, h}, Speed: 1}
	}
	return []Profile{of("small", smallHand), of("medium", mediumHand), of("large", largeHand)}
}

// DefaultProfile returns the player of medium hands.
func DefaultProfile() Profile { return Profiles()[1] }

// ProfileByName returns a built-in player.
func ProfileByName(name string) (Profile, bool) {
	for _, p := range Profiles() {
		if p.Name == name {
			return p, true
		}
	}
	return Profile{}, false
}

// free reports whether a limb can play.
func (p *Profile) free(limb Limb) bool {
	switch {
	case p.BusyLimbs[limb]:
		return false
	case limb == LeftFoot:
		return p.Feet != NoFeet
	case limb == RightFoot:
		return p.Feet == BothFeet
	}
	return true
}

// Naturals returns the stretch from one natural to the n-th counted from it,
// itself included, as intervals are counted: 8 is the octave, 9 the ninth.
func Naturals(n int) Millimetres { return millimetres((n - 1) * naturalPitch) }

// WidestOf returns the widest stretch that an interval of so many semitones
// takes anywhere on a manual.
func WidestOf(semitones int) (widest Millimetres) {
	for key := 60; key < 72; key++ {
		widest = max(widest, Distance(key, key+semitones))
	}
	return widest
}

// Check returns an error that says which figure of the profile no player has.
func (p Profile) Check() error {
	for i, h := range p.Hands {
		if !(h.Maximal >= MinStretch && h.Maximal <= MaxStretch) {
			return fmt.Errorf("the %v's maximal stretch of %.0f mm is not between %.0f and %.0f mm", Limb(i), h.Maximal, MinStretch, MaxStretch)
		}
		if !(h.Comfortable > 0 && h.Comfortable <= h.Maximal) {
			return fmt.Errorf("the %v's comfortable stretch of %.0f mm is not between 0 and its maximal %.0f mm", Limb(i), h.Comfortable, h.Maximal)
		}
	}
	if !(p.Speed >= MinSpeed && p.Speed <= MaxSpeed) {
		return fmt.Errorf("the speed %.2f is not between %.1f and %.1f", p.Speed, MinSpeed, MaxSpeed)
	}
	return nil
}
