package paint

import (
	"math"
	"sort"

	"organbook/internal/theory"
)

// Signs of notation in the music face.
const (
	trebleClef = "\U0001D11E"
	bassClef   = "\U0001D122"
	blackHead  = "\U0001D158"
)

// bottomLine is the diatonic number of a clef's lowest line: E4 and G2.
const (
	trebleBottom = 7*4 + 2
	bassBottom   = 7*2 + 4
)

// PaintBlockStaff paints a block on a small staff in a rectangle: the clef
// that needs fewer ledger lines, note heads with their accidentals, ledger
// lines and one stem. Space between lines follows from the height.
func PaintBlockStaff(c *Canvas, r Rect, voices []theory.Pitch, th *Theme) {
	notes := validSorted(voices)
	bottom, clef := clefFor(notes)
	p := staffPainter{Canvas: c, th: th, bottom: bottom}
	p.fit(r, notes)
	p.lines(r)
	p.clef(r, clef)
	p.block(r, notes)
}

// validSorted returns the pitches upward.
func validSorted(voices []theory.Pitch) []theory.Pitch {
	var out []theory.Pitch
	for _, v := range voices {
		if v.IsValid() {
			out = append(out, v)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Diatonic() < out[j].Diatonic() })
	return out
}

// clefFor returns the lowest line and the sign of the clef whose staff the
// notes leave less.
func clefFor(notes []theory.Pitch) (bottom int, clef string) {
	outside := func(bottom int) (sum int) {
		for _, n := range notes {
			place := n.Diatonic() - bottom
			sum += max(0, -place) + max(0, place-8)
		}
		return sum
	}
	if outside(bassBottom) < outside(trebleBottom) {
		return bassBottom, bassClef
	}
	return trebleBottom, trebleClef
}

// staffPainter paints one staff.
type staffPainter struct {
	*Canvas
	th     *Theme
	bottom int
	space  float64 // between lines
	y      float64 // of the lowest line
}

// fit chooses the space so that the notes and the clef have room.
func (p *staffPainter) fit(r Rect, notes []theory.Pitch) {
	low, high := -3, 11 // places, with room for the clef's tails
	for _, n := range notes {
		place := n.Diatonic() - p.bottom
		low, high = min(low, place-1), max(high, place+1)
	}
	p.space = math.Min(10, 2*r.H/float64(high-low))
	p.space = math.Max(3, math.Floor(p.space*p.scale)/p.scale)
	used := float64(high-low) / 2 * p.space
	p.y = r.Y + (r.H-used)/2 + float64(high)/2*p.space
	p.y = math.Round(p.y*p.scale) / p.scale
}

// at returns the y of a diatonic place above the lowest line.
func (p *staffPainter) at(place int) float64 { return p.y - float64(place)*p.space/2 }

func (p *staffPainter) lines(r Rect) {
	for i := 0; i < 5; i++ {
		p.HLine(r.X, r.Right(), p.at(2*i)-0.5, 1, p.th.Muted)
	}
}

// clef draws the clef on its line. The music face has the em of four spaces.
func (p *staffPainter) clef(r Rect, clef string) {
	line := p.at(2)
	if clef == bassClef {
		line = p.at(6)
	}
	p.Text(r.X+p.space*0.5, line, clef, Style{Music, 4 * p.space, p.th.Text}, AlignLeft)
}

// block draws the heads on one stem, seconds on both sides of it, and the
// accidentals in columns before them.
func (p *staffPainter) block(r Rect, notes []theory.Pitch) {
	if len(notes) == 0 {
		return
	}
	head := TextWidth(blackHead, Music, 4*p.space)
	x := r.X + math.Max(p.space*6.4, r.W*0.56)
	displaced := displace(notes)
	p.stem(x+head, notes)
	p.ledgers(x, head, notes)
	for i, n := range notes {
		hx := x
		if displaced[i] {
			hx += head - 0.5
		}
		p.Text(hx, p.at(n.Diatonic()-p.bottom), blackHead, Style{Music, 4 * p.space, p.th.Text}, AlignLeft)
	}
	p.accidentals(x, notes)
}

// displace tells which heads stand right of the stem: every second one of a
// run of neighbouring notes.
func displace(notes []theory.Pitch) []bool {
	out := make([]bool, len(notes))
	for i := 1; i < len(notes); i++ {
		out[i] = notes[i].Diatonic()-notes[i-1].Diatonic() <= 1 && !out[i-1]
	}
	return out
}

// stem draws an upward stem from the lowest head to an octave above the
// highest.
func (p *staffPainter) stem(x float64, notes []theory.Pitch) {
	low, high := p.at(notes[0].Diatonic()-p.bottom), p.at(notes[len(notes)-1].Diatonic()-p.bottom)
	p.VLine(x-1, high-2.6*p.space, low-0.15*p.space, math.Max(1, p.space*0.12), p.th.Text)
}

func (p *staffPainter) ledgers(x, head float64, notes []theory.Pitch) {
	low, high := notes[0].Diatonic()-p.bottom, notes[len(notes)-1].Diatonic()-p.bottom
	for place := -2; place >= low; place -= 2 {
		p.HLine(x-p.space*0.4, x+head+p.space*0.4, p.at(place)-0.5, 1, p.th.Text)
	}
	for place := 10; place <= high; place += 2 {
		p.HLine(x-p.space*0.4, x+head+p.space*0.4, p.at(place)-0.5, 1, p.th.Text)
	}
}

// accidentals draws the signs before the heads, top down, each in the nearest
// column where it touches none above it.
func (p *staffPainter) accidentals(x float64, notes []theory.Pitch) {
	const clear = 6 // places between two signs in one column
	var lowest []int
	for i := len(notes) - 1; i >= 0; i-- {
		sign := accidentalSign(notes[i].Name().Alter())
		if sign == "" {
			continue
		}
		place := notes[i].Diatonic() - p.bottom
		column := 0
		for column < len(lowest) && lowest[column]-place < clear {
			column++
		}
		if column == len(lowest) {
			lowest = append(lowest, 0)
		}
		lowest[column] = place
		right := x - p.space*0.35 - float64(column)*p.space*1.15
		p.Text(right, p.at(place), sign, Style{Music, 4 * p.space, p.th.Text}, AlignRight)
	}
}

// accidentalSign returns the sign of an alteration, empty for a natural.
func accidentalSign(alter int) string {
	signs := map[int]string{-3: "♭\U0001D12B", -2: "\U0001D12B", -1: "♭", 1: "♯", 2: "\U0001D12A", 3: "♯\U0001D12A"}
	return signs[alter]
}
