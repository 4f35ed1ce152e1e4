package musicxml

import "strconv"

// write writes the chord as consecutive notes, the highest first, or as one
// rest.
func (c *chord) write(e element) {
	if len(c.heads) == 0 {
		c.writeRest(e)
		return
	}
	for i, h := range c.heads {
		e.in("note", func(e element) { c.writeHead(e, h, i == 0) })
	}
}

// writeRest writes a rest. Only the first voice of a staff shows its rests:
// those of the others would stand for nothing a player needs to see.
func (c *chord) writeRest(e element) {
	var hidden []string
	if !c.voice.first {
		hidden = []string{"print-object", "no"}
	}
	e.in("note", func(e element) {
		if c.wholeBar {
			e.empty("rest", "measure", "yes")
		} else {
			e.empty("rest")
		}
		e.number("duration", int64(c.to-c.from))
		e.number("voice", int64(c.voice.number))
		if !c.wholeBar {
			c.writeValue(e, "")
		}
		e.number("staff", int64(c.voice.staff))
		c.writeNotations(e, nil, true)
	}, hidden...)
}

func (c *chord) writeHead(e element, h *head, first bool) {
	if !first {
		e.empty("chord")
	}
	writePitch(e, h)
	e.number("duration", int64(c.to-c.from))
	if h.tieStop {
		e.empty("tie", "type", "stop")
	}
	if h.tieStart {
		e.empty("tie", "type", "start")
	}
	e.number("voice", int64(c.voice.number))
	c.writeValue(e, h.accidental)
	e.number("staff", int64(h.staff))
	if first {
		for i, b := range c.beams {
			e.text("beam", b, "number", strconv.Itoa(i+1))
		}
	}
	c.writeNotations(e, h, first)
}

func writePitch(e element, h *head) {
	e.in("pitch", func(e element) {
		n := h.pitch.Name()
		e.text("step", n.Letter().String())
		if n.Alter() != 0 {
			e.number("alter", int64(n.Alter()))
		}
		e.number("octave", int64(h.pitch.Octave()))
	})
}

// writeValue writes what the note looks like: its value, dot, accidental and
// the ratio of its tuplet. A length that no note value has is written without
// them; its duration still tells it exactly.
func (c *chord) writeValue(e element, accidental string) {
	if c.value.name != "" {
		e.text("type", c.value.name)
		if c.value.dotted {
			e.empty("dot")
		}
	}
	if accidental != "" {
		e.text("accidental", accidental)
	}
	if c.tuplet != nil {
		e.in("time-modification", func(e element) {
			e.number("actual-notes", c.tuplet.actual)
			e.number("normal-notes", c.tuplet.normal)
		})
	}
}

// writeNotations writes ties, tuplet brackets and fingers or feet, when there are
// any. Brackets are written once a chord.
func (c *chord) writeNotations(e element, h *head, first bool) {
	bracket := first && (c.tupletStart || c.tupletStop)
	tied := h != nil && (h.tieStart || h.tieStop)
	played := h != nil && h.technique != technique{}
	if !bracket && !tied && !played {
		return
	}
	e.in("notations", func(e element) {
		if tied && h.tieStop {
			e.empty("tied", "type", "stop")
		}
		if tied && h.tieStart {
			e.empty("tied", "type", "start")
		}
		if bracket && c.tupletStart {
			e.empty("tuplet", "type", "start", "bracket", "yes")
		}
		if bracket && c.tupletStop {
			e.empty("tuplet", "type", "stop")
		}
		if played {
			e.in("technical", h.technique.write)
		}
	})
}
