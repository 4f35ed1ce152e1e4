package paint

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"organbook/internal/theory"
)

// Signs of notation in the music face.
const (
	trebleClef = "\U0001D11E"
	bassClef   = "\U0001D122"
	blackHead  = "\U0001D158"
)

// The music face draws its staff with lines 0.244 em apart from the base line
// upward, and clefs to that staff; a head's middle lies 0.134 em above the
// base line (measured on the font's outlines).
const (
	musicSpace = 0.244
	headMiddle = 0.134
)

// The diatonic numbers of a clef's lowest line: E4 and G2.
const (
	trebleBottom = 7*4 + 2
	bassBottom   = 7*2 + 4
)

// clefRoom and headRoom are what a clef and heads on both sides of a stem take
// of the width, in spaces, with the air beside them.
const (
	clefRoom = 4.4
	headRoom = 3.4
)

// stemLength is the least length of a stem beyond its last head, in spaces.
const stemLength = 2.5

// grandFrom is how many places beyond one staff the notes may reach in all
// before they are shared out to two.
const grandFrom = 7

// staffGap is the distance between the lowest lines of two joined staves, in
// spaces.
const staffGap = 8

// PaintBlockStaff paints a block on a small staff in a rectangle: note heads
// with their accidentals, ledger lines and a stem, in the clef that needs
// fewer ledger lines or, for a wide block, on both. The size of the staff
// follows from the height.
func PaintBlockStaff(c *Canvas, r Rect, voices []theory.Pitch, th *Theme) {
	notes := validSorted(voices)
	bottom, clef := clefFor(notes)
	if cut, ok := shareOut(notes, bottom); ok {
		paintGrand(c, r, notes, cut, th)
		return
	}
	p := staffPainter{Canvas: c, th: th, bottom: bottom, notes: notes}
	low, high := p.bounds()
	p.fit(r, low, high, p.across())
	p.paint(r, clef)
}

// shareOut returns how many of the notes go to a lower staff: those below
// middle C, when the better single staff would need many ledger lines and both
// staves get a note.
func shareOut(notes []theory.Pitch, bottom int) (lower int, ok bool) {
	lower = slices.IndexFunc(notes, func(n theory.Pitch) bool { return n.Diatonic() >= trebleBottom-2 })
	return lower, lower > 0 && outside(notes, bottom) >= grandFrom
}

// paintGrand paints the first cut notes on a lower staff, the others above.
func paintGrand(c *Canvas, r Rect, notes []theory.Pitch, cut int, th *Theme) {
	upper := staffPainter{Canvas: c, th: th, bottom: trebleBottom, notes: notes[cut:]}
	lower := staffPainter{Canvas: c, th: th, bottom: bassBottom, notes: notes[:cut]}
	_, high := upper.bounds()
	low, _ := lower.bounds()
	upper.fit(r, low-2*staffGap, high, max(upper.across(), lower.across()))
	lower.space, lower.y = upper.space, upper.y+staffGap*upper.space
	upper.paint(r, trebleClef)
	lower.paint(r, bassClef)
	c.VLine(r.X, upper.at(8)-0.5, lower.at(0)+0.5, 1, th.Muted)
}

// validSorted returns the pitches upward, as they are written.
func validSorted(voices []theory.Pitch) []theory.Pitch {
	out := slices.DeleteFunc(slices.Clone(voices), func(v theory.Pitch) bool { return !v.IsValid() })
	slices.SortFunc(out, func(a, b theory.Pitch) int {
		return cmp.Or(a.Diatonic()-b.Diatonic(), a.Name().Alter()-b.Name().Alter())
	})
	return out
}

// clefFor returns the lowest line and the sign of the clef whose staff the
// notes leave less.
func clefFor(notes []theory.Pitch) (bottom int, clef string) {
	if outside(notes, bassBottom) < outside(notes, trebleBottom) {
		return bassBottom, bassClef
	}
	return trebleBottom, trebleClef
}

// outside sums how many places the notes lie beyond a staff.
func outside(notes []theory.Pitch, bottom int) (sum int) {
	for _, n := range notes {
		place := n.Diatonic() - bottom
		sum += max(0, -place) + max(0, place-8)
	}
	return sum
}

// staffPainter paints one block on one staff. Places count lines and spaces
// upward from the lowest line.
type staffPainter struct {
	*Canvas
	th     *Theme
	bottom int
	notes  []theory.Pitch
	ink    color.NRGBA // of the notes; the zero value is the theme's text
	space  float64     // between lines, in units
	y      float64     // of the lowest line
	before map[int]int // alterations by place, of blocks before on the same staff
}

// signReach is how many places an accidental reaches above and below its note: the
// stem of a flat stands tall over its bowl, other signs reach as far both ways.
func signReach(alter int) (above, below int) {
	if alter < 0 {
		return 4, 1
	}
	return 3, 3
}

// bounds returns the lowest and highest place that the notes, their signs and
// stem and the clef's tails reach.
func (p *staffPainter) bounds() (low, high int) {
	low, high = -3, 11
	if len(p.notes) == 0 {
		return low, high
	}
	first, last := p.place(0), p.place(len(p.notes)-1)
	low, high = min(low, first-1), max(high, last+1)
	for i := range p.notes {
		if p.needsSign(i) {
			above, below := signReach(p.alter(i))
			low, high = min(low, p.place(i)-below), max(high, p.place(i)+above)
		}
	}
	if p.stemUp() {
		return low, max(high, last+2*stemLength)
	}
	return min(low, first-2*stemLength), high
}

// across is the width that a clef and the block need, in spaces.
func (p *staffPainter) across() float64 { return clefRoom + p.columns().room() + headRoom }

// fit chooses the space so that the places from low to high fill the height
// and the width holds the spaces across.
func (p *staffPainter) fit(r Rect, low, high int, across float64) {
	p.space = min(10, 2*r.H/float64(high-low), r.W/across)
	p.space = math.Max(2.5, math.Floor(p.space*p.scale)/p.scale)
	used := float64(high-low) / 2 * p.space
	p.y = r.Y + (r.H-used)/2 + float64(high)/2*p.space
	p.y = math.Round(p.y*p.scale) / p.scale
}

// paint draws the lines, the clef and the notes.
func (p *staffPainter) paint(r Rect, clef string) {
	for i := 0; i < 5; i++ {
		p.HLine(r.X, r.Right(), p.at(2*i)-0.5, 1, p.th.Muted)
	}
	p.sign(r.X+p.space*0.5, p.at(0), clef, 1, AlignLeft)
	p.block(r)
}

func (p *staffPainter) place(i int) int { return p.notes[i].Diatonic() - p.bottom }

// at returns the y of a place.
func (p *staffPainter) at(place int) float64 { return p.y - float64(place)*p.space/2 }

// sign draws a sign of the music face with its base line at y.
func (p *staffPainter) sign(x, y float64, s string, size float64, align Align) {
	p.Text(x, y, s, Style{Music, size * p.space / musicSpace, p.colour()}, align)
}

// colour is what notes are drawn in.
func (p *staffPainter) colour() color.NRGBA {
	if p.ink.A != 0 {
		return p.ink
	}
	return p.th.Text
}

// stemUp reports the stem's direction: away from the outer note that lies
// farther from the middle line.
func (p *staffPainter) stemUp() bool { return p.place(0)+p.place(len(p.notes)-1) < 8 }

// block draws the heads on one stem, seconds on both sides of it, and the
// accidentals in columns before them.
func (p *staffPainter) block(r Rect) {
	if len(p.notes) == 0 {
		return
	}
	signs := p.columns()
	x := p.space * (clefRoom + signs.room())
	if !p.stemUp() && slices.Contains(p.displaced(), true) {
		x += p.space * (headRoom - 1) / 2 // a head stands before the stem
	}
	p.blockAt(r.X+math.Max(x, r.W*0.58), signs)
}

// blockAt draws the block with the heads of the stem's usual side at x.
func (p *staffPainter) blockAt(x float64, signs signColumns) {
	size := p.space / musicSpace
	head := TextWidth(blackHead, Music, size) - 0.1*size // less the face's side bearings
	heads := p.headPlaces(x, head)
	for i, hx := range heads {
		p.ledger(hx, head, p.place(i))
	}
	for i, hx := range heads {
		p.sign(hx-0.05*size, p.at(p.place(i))+headMiddle*size, blackHead, 1, AlignLeft)
	}
	p.stem(x, head)
	p.accidentals(slices.Min(heads), signs)
}

// headPlaces returns the left edge of each head when the ones on the stem's
// usual side stand at x.
func (p *staffPainter) headPlaces(x, head float64) []float64 {
	out := make([]float64, len(p.notes))
	for i, other := range p.displaced() {
		out[i] = x
		if other && p.stemUp() {
			out[i] += head - 0.6
		} else if other {
			out[i] -= head - 0.6
		}
	}
	return out
}

// displaced tells which heads stand on the other side of the stem: every
// second one of a run of neighbours, counted from where the stem starts.
func (p *staffPainter) displaced() []bool {
	out := make([]bool, len(p.notes))
	if p.stemUp() {
		for i := 1; i < len(out); i++ {
			out[i] = p.place(i)-p.place(i-1) <= 1 && !out[i-1]
		}
		return out
	}
	for i := len(out) - 2; i >= 0; i-- {
		out[i] = p.place(i+1)-p.place(i) <= 1 && !out[i+1]
	}
	return out
}

// stem draws the stem through all heads.
func (p *staffPainter) stem(x, head float64) {
	low, high := p.at(p.place(0)), p.at(p.place(len(p.notes)-1))
	width := math.Max(1, p.space*0.13)
	if p.stemUp() {
		p.VLine(x+head-width, high-stemLength*p.space, low-0.15*p.space, width, p.colour())
		return
	}
	p.VLine(x, high+0.15*p.space, low+stemLength*p.space, width, p.colour())
}

// ledger draws the lines a head outside the staff stands on.
func (p *staffPainter) ledger(x, head float64, place int) {
	line := func(place int) { p.HLine(x-p.space*0.35, x+head+p.space*0.35, p.at(place)-0.5, 1, p.th.Muted) }
	for k := -2; k >= place; k -= 2 {
		line(k)
	}
	for k := 10; k <= place; k += 2 {
		line(k)
	}
}
