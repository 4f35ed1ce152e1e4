package paint

import "slices"

// accidental is how a sign is drawn: the size beside the face's own and the
// height of its middle (for flats, of its bowl) in hundredths of the em.
type accidental struct {
	sign   string
	size   float64
	middle float64
}

// accidentals by alteration, from three flats to three sharps; the face's
// sharp is drawn for text and somewhat too tall for a staff.
var accidentals = map[int]accidental{
	-3: {"♭\U0001D12B", 0.95, 0.107},
	-2: {"\U0001D12B", 0.95, 0.107},
	-1: {"♭", 0.95, 0.107},
	0:  {"♮", 1, 0.096},
	1:  {"♯", 0.85, 0.178},
	2:  {"\U0001D12A", 1, 0.131},
	3:  {"♯\U0001D12A", 0.85, 0.178},
}

// signBearing is the part of a sign's advance beyond its ink, in spaces, that
// the next column may take (the face leaves 0.16 on each side of a sharp).
const signBearing = 0.16

// width returns what a sign takes beside another, in spaces.
func (a accidental) width() float64 {
	return TextWidth(a.sign, Music, a.size/musicSpace) - signBearing
}

// signColumns is where the accidentals of a block stand, in columns counted
// leftward from the heads.
type signColumns struct {
	of     []int     // the column of each note; -1 is a note without a sign
	widths []float64 // of the columns, each its widest sign's, in spaces
}

// room is the width of all columns, in spaces.
func (s signColumns) room() float64 { return s.before(len(s.widths)) }

// before is the distance of column k from the heads, in spaces.
func (s signColumns) before(k int) (sum float64) {
	for _, w := range s.widths[:k] {
		sum += w
	}
	return sum
}

// columns staggers the accidentals as engravers do: the highest stands nearest
// to the heads, then the lowest, then inward by turns, each in the nearest
// column whose signs it does not touch.
func (p *staffPainter) columns() signColumns {
	const clear = 6 // places between two signs in one column
	s := signColumns{of: make([]int, len(p.notes))}
	for i := range s.of {
		s.of[i] = -1
	}
	var taken [][]int
	for _, i := range p.inward() {
		touches := func(place int) bool { return max(place-p.place(i), p.place(i)-place) < clear }
		k := slices.IndexFunc(taken, func(places []int) bool { return !slices.ContainsFunc(places, touches) })
		if k < 0 {
			k = len(taken)
			taken, s.widths = append(taken, nil), append(s.widths, 0)
		}
		taken[k] = append(taken[k], p.place(i))
		s.of[i], s.widths[k] = k, max(s.widths[k], accidentals[p.alter(i)].width())
	}
	return s
}

// inward lists the notes that need a sign: the highest, the lowest, the second
// highest and so on.
func (p *staffPainter) inward() (order []int) {
	var signed []int
	for i := range p.notes {
		if p.needsSign(i) {
			signed = append(signed, i)
		}
	}
	for top := true; len(signed) > 0; top = !top {
		at := 0
		if top {
			at = len(signed) - 1
		}
		order = append(order, signed[at])
		signed = slices.Delete(signed, at, at+1)
	}
	return order
}

// needsSign reports whether a note is altered, or a natural where an altered note
// stands in the same place or stood there before, which without a sign would be
// read as altered, too.
func (p *staffPainter) needsSign(i int) bool {
	return p.alter(i) != 0 || p.before[p.place(i)] != 0 ||
		i > 0 && p.place(i-1) == p.place(i) || i+1 < len(p.notes) && p.place(i+1) == p.place(i)
}

// remember notes which places the notes alter, for blocks after them on the same
// staff.
func (p *staffPainter) remember() {
	if p.before == nil {
		p.before = map[int]int{}
	}
	for i := range p.notes {
		if i == 0 || p.place(i-1) != p.place(i) || p.alter(i) != 0 {
			p.before[p.place(i)] = p.alter(i)
		}
	}
}

func (p *staffPainter) alter(i int) int { return p.notes[i].Name().Alter() }

// accidentals draws the signs in their columns left of x.
func (p *staffPainter) accidentals(x float64, signs signColumns) {
	for i, k := range signs.of {
		if k < 0 {
			continue
		}
		a := accidentals[p.alter(i)]
		right := x - p.space*(0.15+signs.before(k))
		p.sign(right, p.at(p.place(i))+a.middle*a.size*p.space/musicSpace, a.sign, a.size, AlignRight)
	}
}
