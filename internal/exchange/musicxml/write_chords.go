package musicxml

import (
	"slices"
	"sort"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// chord is one written note, chord or rest of a voice in a bar.
type chord struct {
	span
	voice *voice
	// heads run from the highest to the lowest; a rest has none.
	heads []*head
	// wholeBar marks a rest that fills its bar.
	wholeBar bool
	// tupletStart and tupletStop mark the ends of the bracket.
	tupletStart, tupletStop bool
	// beams holds a word for each beam from the outermost on.
	beams []string
}

// head is one note of a chord.
type head struct {
	pitch theory.Pitch
	staff int
	// technique is empty on the later parts of a tied note.
	technique
	// tieStop and tieStart connect the note to the one before and after.
	tieStop, tieStart bool
	// accidental is the sign to print, empty for none.
	accidental string
}

// barOf returns what a voice plays in the bar that starts at a position of
// the piece. A voice with nothing to play returns a rest of the whole bar.
func (v *voice) barOf(start project.Ticks, g *grid) []*chord {
	notes := v.sounding(start, start+g.length)
	if len(notes) == 0 {
		w, ok := valueOf(g.length)
		if !ok {
			w = written{}
		}
		return []*chord{{span: span{0, g.length, w, nil}, voice: v, wholeBar: true}}
	}
	var out []*chord
	for _, s := range g.spans(places(notes, start, g.length)) {
		out = append(out, v.chordAt(s, notes, start))
	}
	markBrackets(out)
	g.beam(out)
	return out
}

// sounding returns the notes that sound between two positions.
func (v *voice) sounding(from, to project.Ticks) (out []voiceNote) {
	first := sort.Search(len(v.notes), func(i int) bool { return v.notes[i].start >= from-v.longest })
	for _, n := range v.notes[first:] {
		if n.start >= to {
			break
		}
		if n.end > from {
			out = append(out, n)
		}
	}
	return out
}

// places returns the positions in the bar where any note starts or ends, and
// the ends of the bar.
func places(notes []voiceNote, start, length project.Ticks) []project.Ticks {
	out := []project.Ticks{0, length}
	for _, n := range notes {
		out = append(out, max(0, n.start-start), min(length, n.end-start))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// chordAt returns the notes that sound through a span.
func (v *voice) chordAt(s span, notes []voiceNote, start project.Ticks) *chord {
	c := &chord{span: s, voice: v}
	from, to := s.from+start, s.to+start
	for _, n := range notes {
		if n.start > from || n.end < to {
			continue
		}
		h := &head{pitch: n.pitch, staff: n.staff, tieStop: n.start < from, tieStart: n.end > to}
		if !h.tieStop {
			h.technique = n.technique
		}
		c.heads = append(c.heads, h)
	}
	slices.SortStableFunc(c.heads, func(a, b *head) int { return b.pitch.Key() - a.pitch.Key() })
	return c
}

// markBrackets marks where each tuplet begins and ends.
func markBrackets(chords []*chord) {
	for i, c := range chords {
		if c.tuplet == nil {
			continue
		}
		c.tupletStart = i == 0 || chords[i-1].tuplet != c.tuplet
		c.tupletStop = i+1 == len(chords) || chords[i+1].tuplet != c.tuplet
	}
}

// beam joins flagged notes within each felt beat, or within a tuplet.
func (g *grid) beam(chords []*chord) {
	for i := 0; i < len(chords); {
		j := i + 1
		for j < len(chords) && chords[i].flagged() && chords[j].flagged() && g.sameBeam(chords[i], chords[j]) {
			j++
		}
		if j > i+1 {
			beamGroup(chords[i:j])
		}
		i = j
	}
}

func (c *chord) flagged() bool { return c.value.flags > 0 && len(c.heads) > 0 }

func (g *grid) sameBeam(a, b *chord) bool {
	if a.tuplet != b.tuplet {
		return false
	}
	u := g.units[g.pulse]
	return a.tuplet != nil || (a.from+g.origin)/u == (b.from+g.origin)/u
}

// beamGroup writes the beams of a group of at least two notes. Beam k runs
// over neighbours that have at least k flags; alone it is a hook, to the left
// except at the front.
func beamGroup(group []*chord) {
	for i, c := range group {
		for k := 1; k <= c.value.flags; k++ {
			left := i > 0 && group[i-1].value.flags >= k
			right := i+1 < len(group) && group[i+1].value.flags >= k
			switch {
			case left && right:
				c.beams = append(c.beams, "continue")
			case left:
				c.beams = append(c.beams, "end")
			case right:
				c.beams = append(c.beams, "begin")
			case i == 0:
				c.beams = append(c.beams, "forward hook")
			default:
				c.beams = append(c.beams, "backward hook")
			}
		}
	}
}
