package project

import "fmt"

// Player describes who a chart is made for, where that differs from the one
// the program is set to. It says the same as the reach model's profile.
type Player struct {
	// Name is one line of text.
	Name string
	// Right and Left are how far the hands open.
	Right, Left Stretch
	// LeftFootOnly leaves the right foot on the expression pedal, NoFeet leaves
	// the pedals silent.
	LeftFootOnly, NoFeet bool
	// Detached asks for no joined notes.
	Detached bool
	// ThumbBridge allows a thumb on the lower manual while its hand plays on
	// the upper one.
	ThumbBridge bool
	// Speed is a part of a trained player's, MinSpeed to MaxSpeed.
	Speed float64
}

// Stretch is how far a hand opens, in millimetres between the middles of the
// outer keys, MinStretch to MaxStretch.
type Stretch struct {
	Comfortable, Maximal float64
}

// The limits of a player.
const (
	// MinStretch and MaxStretch bound a stretch, in millimetres.
	MinStretch, MaxStretch = 100.0, 300.0
	// MinSpeed and MaxSpeed bound a speed.
	MinSpeed, MaxSpeed = 0.3, 2.0
)

// SetPlayer makes a chart for a player of its own; nil for the one the program
// is set to.
type SetPlayer struct{ Player *Player }

// Name returns "set player".
func (SetPlayer) Name() string { return "set player" }

// Apply fails for a player whose figures are out of range.
func (e SetPlayer) Apply(c *Chart) (*Chart, error) {
	return c.with(func(d *Chart) {
		d.Player = nil
		if e.Player != nil {
			p := *e.Player
			d.Player = &p
		}
	})
}

func (k *checker) player() {
	p := k.c.Player
	if p == nil {
		return
	}
	const where = "the player"
	k.text(where, p.Name, MaxLabel)
	for _, s := range [2]Stretch{p.Right, p.Left} {
		if !(s.Comfortable >= MinStretch && s.Comfortable <= s.Maximal && s.Maximal <= MaxStretch) {
			k.add(where, "a hand that opens %v and at most %v mm is outside %v to %v", s.Comfortable, s.Maximal, MinStretch, MaxStretch)
		}
	}
	if !(p.Speed >= MinSpeed && p.Speed <= MaxSpeed) {
		k.add(where, "speed %v is outside %v to %v", p.Speed, MinSpeed, MaxSpeed)
	}
}

// samePlayer reports whether two charts are made for the same player.
func samePlayer(p, q *Player) bool {
	if p == nil || q == nil {
		return p == q
	}
	return *p == *q
}

// wirePlayer is a player in a file; stretches are pairs of millimetres,
// comfortable and maximal.
type wirePlayer struct {
	Name         string    `json:"name,omitempty"`
	Right        []float64 `json:"right"`
	Left         []float64 `json:"left"`
	LeftFootOnly bool      `json:"leftFootOnly,omitempty"`
	NoFeet       bool      `json:"noFeet,omitempty"`
	Detached     bool      `json:"detached,omitempty"`
	ThumbBridge  bool      `json:"thumbBridge,omitempty"`
	Speed        float64   `json:"speed"`
}

func wirePlayerOf(p *Player) wirePlayer {
	pair := func(s Stretch) []float64 { return []float64{s.Comfortable, s.Maximal} }
	return wirePlayer{p.Name, pair(p.Right), pair(p.Left), p.LeftFootOnly, p.NoFeet, p.Detached, p.ThumbBridge, p.Speed}
}

func (w *wirePlayer) player() (*Player, error) {
	if w == nil {
		return nil, nil
	}
	p := &Player{Name: w.Name, LeftFootOnly: w.LeftFootOnly, NoFeet: w.NoFeet, Detached: w.Detached, ThumbBridge: w.ThumbBridge, Speed: w.Speed}
	for _, hand := range []struct {
		from []float64
		to   *Stretch
	}{{w.Right, &p.Right}, {w.Left, &p.Left}} {
		if len(hand.from) != 2 {
			return nil, fmt.Errorf("player: a stretch has two figures, comfortable and maximal")
		}
		*hand.to = Stretch{hand.from[0], hand.from[1]}
	}
	return p, nil
}
