package musicxml

import "organbook/internal/arrange"

// technique is how a note is played: the finger of a hand, and the one that
// silently takes the key over, or the part of a foot.
type technique struct {
	finger, then int    // 0 for none
	foot         string // "toe", "heel" or nothing
	right        bool
}

func techniqueOf(n *arrange.Note) technique {
	return technique{n.Finger, n.Then, n.Part.String(), n.Limb == arrange.RightFoot && n.Part.String() != ""}
}

// write writes the marks of a technique. A mark of the right foot stands above
// the staff, of the left foot below, as organ music is printed.
func (t technique) write(e element) {
	if t.finger > 0 {
		e.number("fingering", int64(t.finger))
	}
	if t.then > 0 {
		e.text("fingering", digit(t.then), "substitution", "yes")
	}
	if t.foot != "" {
		placement := "below"
		if t.right {
			placement = "above"
		}
		e.empty(t.foot, "placement", placement)
	}
}

func digit(n int) string { return string(rune('0' + n)) }
