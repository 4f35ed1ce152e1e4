package musicxml

import "organbook/internal/arrange"

// technique is how a note is played: the finger of a hand, and the one that
// silently takes the key over, or the part of a foot.
type technique struct {
	finger, then int    // 0 for none
	foot         string // "toe", "heel" or nothing
	right        bool
	cross        string // "in front", "behind" or nothing
	glide        bool   // the finger or foot slides there from the note before
}

func techniqueOf(n *arrange.Note) technique {
	return technique{n.Finger, n.Then, n.Part.String(), n.Limb == arrange.RightFoot && n.Part.String() != "", n.Cross.String(), n.Glide}
}

// write writes the marks of a technique. Slides, and how feet pass each other,
// have no marks of their own in the standard and are written in words. A mark of the right foot stands above
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
	if t.cross != "" {
		e.text("other-technical", t.cross)
	}
	if t.glide {
		e.text("other-technical", "slide")
	}
}

func digit(n int) string { return string(rune('0' + n)) }
