package paint

import (
	"image/color"
	"math"
	"strconv"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// Sizes of the grid's small type and signs, in units.
const (
	numberSize   = 10.0
	signRadius   = 5.5
	cueSignWidth = 17.0
	noteRadius   = 3.0
)

// gridPainter paints one layout on one canvas.
type gridPainter struct {
	*Canvas
	l  *GridLayout
	th *Theme
	st *GridState
}

// PaintGrid paints the part of a grid that the canvas shows, ground included.
// st may be nil.
func PaintGrid(c *Canvas, l *GridLayout, th *Theme, st *GridState) {
	if st == nil {
		st = &GridState{}
	}
	p := gridPainter{c, l, th, st}
	p.Clear(th.Ground)
	for k := range l.Systems {
		if p.Shows(l.Systems[k].Rect.Inset(-systemGap / 2)) {
			p.system(k)
		}
	}
}

func (p *gridPainter) system(k int) {
	s := p.l.placed(k)
	p.rows(s)
	p.verticals(s)
	p.caretRow(k)
	p.voices(s)
	p.leads(s)
	p.barLines(s)
	p.marks(s)
	p.chords(s)
	p.lanes(s)
	p.strain(s)
	p.cues(s)
	p.signs(s)
	p.tuplets(s)
	p.passage(k)
	p.caret(k)
	p.ghosts(k)
}

// rows tints the rows of pitch by the family in force, span by span.
func (p *gridPainter) rows(s *System) {
	spans := p.l.Realisation.Spans
	for i := firstSpan(spans, s.Start); i < len(spans) && spans[i].Start < s.End; i++ {
		r := p.l.spanRect(s, &spans[i])
		switch {
		case !p.Shows(r):
		case spans[i].Family.IsValid():
			p.tint(s, r, &spans[i])
		default:
			p.plainRows(s, r)
		}
	}
	p.octaves(s)
}

// spanRect returns the rows a span covers in a system; its ends at bar lines
// reach the line.
func (l *GridLayout) spanRect(s *System, span *arrange.Span) Rect {
	x0, x1 := l.xIn(s, span.Start), l.xIn(s, span.End)
	if bar := &l.Bars[max(s.FirstBar, l.Ruler.BarAt(span.Start))]; span.Start <= bar.Start {
		x0 = bar.X
	}
	if last := &l.Bars[min(s.EndBar-1, l.Ruler.BarAt(span.End-1))]; span.End >= last.End {
		x1 = last.Right()
	}
	return Rect{x0, s.Rows.Y, x1 - x0, s.Rows.H}
}

// firstSpan returns the index of the first span that ends after t.
func firstSpan(spans []arrange.Span, t project.Ticks) int {
	lo, hi := 0, len(spans)
	for lo < hi {
		if mid := (lo + hi) / 2; spans[mid].End > t {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return lo
}

// tint fills the rows of one span: home plain, away hatched, the rest bare.
func (p *gridPainter) tint(s *System, r Rect, span *arrange.Span) {
	var steps [12]int8 // 0 bare, 1 home, 2 away
	for pc := range steps {
		if step, ok := span.Family.StepOf(pc); ok {
			steps[pc] = 1 + int8(step%2)
		}
	}
	h := p.l.Options.RowHeight
	for key := s.Low; key <= s.High; key++ {
		row := Rect{r.X, s.Rows.Y + float64(s.High-key)*h, r.W, h}
		switch steps[key%12] {
		case 1:
			p.FillRect(row, p.th.HomeRow)
		case 2:
			p.FillRect(row, p.th.AwayRow)
			p.Hatch(row, 6, 1, p.th.AwayHatch)
		}
	}
}

// plainRows shades the rows of sharps where no family is in force, so that
// pitches can be told on empty rows.
func (p *gridPainter) plainRows(s *System, r Rect) {
	h := p.l.Options.RowHeight
	for key := s.Low; key <= s.High; key++ {
		if isSharp(key) {
			p.FillRect(Rect{r.X, s.Rows.Y + float64(s.High-key)*h, r.W, h}, withAlpha(p.th.Hair, 0.55))
		}
	}
}

// octaves names each C beside the rows and draws its lower edge.
func (p *gridPainter) octaves(s *System) {
	h := p.l.Options.RowHeight
	for key := (s.Low + 11) / 12 * 12; key <= s.High; key += 12 {
		y := s.Rows.Y + float64(s.High-key+1)*h
		p.HLine(s.Rows.X-6, s.Rows.X, y, 1, p.th.Line)
		p.Text(s.Rows.X-8, y-1, "C"+itoa(key/12-1), Style{Regular, 9, p.th.Muted}, AlignRight)
	}
	p.HLine(s.Rows.X, s.Rows.Right(), s.Rows.Y, 1, p.th.Hair)
	p.HLine(s.Rows.X, s.Rows.Right(), s.Rows.Bottom()-1, 1, p.th.Hair)
}

// verticals draws the beats.
func (p *gridPainter) verticals(s *System) {
	chart := p.l.Realisation.Chart
	for i := s.FirstBar; i < s.EndBar; i++ {
		b := &p.l.Bars[i]
		if !p.Shows(b.Rect) {
			continue
		}
		bar := &chart.Bars[i]
		pulse, before := bar.Meter.Pulse(), project.Ticks(0)
		if bar.Unnumbered { // counted from its end
			before = max(0, bar.Meter.Length()-bar.Length)
		}
		for t := b.Start + pulse; t < b.End; t += pulse {
			ink := p.th.Line
			if bar.Meter.StartsGroup(before + t - b.Start) {
				ink = p.th.BarLine
			}
			p.VLine(b.x(t), s.Rows.Y, s.Rows.Bottom(), 1, ink)
		}
	}
}

// voices draws what the hands play under the lead.
func (p *gridPainter) voices(s *System) {
	for i := range s.voices {
		v := &s.voices[i]
		if !p.Shows(v.Rect) {
			continue
		}
		p.RoundRect(v.Rect, v.H/2, p.th.Limb(v.limb))
		if v.limb == arrange.LeftHand && v.W > 6 {
			mid := Rect{v.X + 2, v.CentreY() - 0.5, v.W - 4, 1}
			p.FillRect(mid, p.th.Ground)
		}
	}
}

// leads draws the melody.
func (p *gridPainter) leads(s *System) {
	for i := range s.leads {
		m := &s.leads[i]
		if p.Shows(m.Rect.Inset(-5)) {
			p.lead(m)
		}
	}
}

// nameSize is the type size of a note's name in a mark of a height: it grows with
// the rows, and in flat ones stays inside its mark, signs included.
func nameSize(height float64) float64 { return math.Max(7.5, math.Min(15, height/1.2)) }

func (p *gridPainter) lead(m *leadMark) {
	fill, ink := p.th.Lead, p.th.OnLead
	p.RoundRect(m.Rect, noteRadius, fill)
	// A note that goes on has an open end.
	if m.ToAfter {
		p.FillRect(Rect{m.Right() - 4, m.Y, 4 + noteGap, m.H}, fill)
	}
	if m.FromBefore {
		p.FillRect(Rect{m.X - 1, m.Y, 5, m.H}, fill)
	}
	room := m.W - 2
	if m.pinned {
		room -= 9
		p.pin(m.Right()-6, m.CentreY(), ink)
	}
	size := nameSize(m.H)
	if w := TextWidth(m.name, SemiBold, size); w <= room && !m.FromBefore {
		x := m.X + math.Min(m.H*5/12, (room-w+2)/2)
		p.Text(x, m.CentreY()+size*capHeight/2, m.name, Style{SemiBold, size, ink}, AlignLeft)
	}
	if p.st.Selected[m.note] {
		p.StrokeRound(m.Rect.Inset(-3), noteRadius+3, 2, p.th.Accent)
	}
}

// pin draws the sign of the user's own choice: a head on a needle.
func (p *gridPainter) pin(x, y float64, ink color.NRGBA) {
	p.Disc(x, y-1.5, 2.6, ink)
	p.VLine(x-0.5, y+0.5, y+4.5, 1, ink)
}

// barLines draws bar lines, repeats and ends.
func (p *gridPainter) barLines(s *System) {
	chart := p.l.Realisation.Chart
	for i := s.FirstBar; i < s.EndBar; i++ {
		b := &p.l.Bars[i]
		p.barLine(s, b.X)
		if p.l.endsSection(i) {
			p.barLine(s, b.Right()-3)
		}
		if chart.Bars[i].RepeatStart {
			p.repeat(s, b.X, 1)
		}
		if chart.Bars[i].RepeatEnd {
			p.repeat(s, b.Right(), -1)
			if n := chart.Bars[i].Times; n > 2 {
				p.Text(b.Right()-10, s.Rows.Y-4, itoa(n)+"×", Style{SemiBold, SizeSmall, p.th.Text}, AlignRight)
			}
		}
	}
	last := s.EndBar - 1
	right := p.l.Bars[last].Right()
	p.barLine(s, right)
	if last == len(chart.Bars)-1 && !chart.Bars[last].RepeatEnd {
		p.VLine(right-7, s.Rows.Y, s.Rows.Bottom(), 1, p.th.Text)
		p.VLine(right-4, s.Rows.Y, s.Rows.Bottom(), 4, p.th.Text)
	}
}

func (p *gridPainter) barLine(s *System, x float64) {
	p.VLine(x-1, s.Chords.Y+2, s.Lanes.Bottom(), 1, p.th.BarLine)
}

// repeat draws a repeat sign whose dots stand on the side dir of x.
func (p *gridPainter) repeat(s *System, x, dir float64) {
	left := x - 1
	if dir < 0 {
		left = x - 4
	}
	p.VLine(left, s.Rows.Y, s.Rows.Bottom(), 4, p.th.Text)
	p.VLine(x+6*dir-0.5, s.Rows.Y, s.Rows.Bottom(), 1, p.th.Text)
	for _, dy := range []float64{-8, 8} {
		p.Disc(x+11*dir, s.Rows.CentreY()+dy, 2.5, p.th.Text)
	}
}

// lanes draws the limbs' bars with their patterns, and the lanes' letters.
func (p *gridPainter) lanes(s *System) {
	for lane, limb := range []arrange.Limb{arrange.RightHand, arrange.LeftHand, arrange.LeftFoot} {
		y := s.Lanes.Y + (float64(lane)+0.5)*laneHeight
		p.Text(s.Lanes.X-8, y+SizeSmall*capHeight/2, "RLF"[lane:lane+1], Style{SemiBold, SizeSmall, p.th.Limb(limb)}, AlignRight)
	}
	for i := range s.laneBar {
		if m := &s.laneBar[i]; p.Shows(m.Rect) {
			p.Limb(m.Rect, m.limb, noteRadius, p.th)
		}
	}
}

// Limb fills a rounded rectangle in a limb's colour and pattern: the right
// hand plain, the left striped, the left foot dotted, the right foot dotted
// and ringed.
func (c *Canvas) Limb(r Rect, limb arrange.Limb, radius float64, th *Theme) {
	c.RoundRect(r, radius, th.Limb(limb))
	inner := Rect{r.X + 1, r.Y, r.W - 2, r.H}
	ink := withAlpha(th.OnLimb, 0.62)
	switch limb {
	case arrange.LeftHand:
		c.Stripes(inner, max(1, int(r.H/3.5)), 1, ink)
	case arrange.LeftFoot:
		c.Dots(Rect{r.X + 1.5, r.Y, r.W - 3, r.H}, 6, 1.5, ink)
	case arrange.RightFoot:
		c.Dots(r.Inset(2), 6, 1.5, ink)
		c.StrokeRound(r, radius, 1.5, ink)
	}
}

// signs draws the findings.
func (p *gridPainter) signs(s *System) {
	for i := range s.signs {
		p.Finding(s.signs[i].x, s.signs[i].y, signRadius, s.signs[i].severity, p.th)
	}
}

// Finding draws the sign of a finding around a point, on a plate of ground.
func (c *Canvas) Finding(x, y, radius float64, severity arrange.Severity, th *Theme) {
	side := 2*radius + 3
	c.RoundRect(Rect{x - side/2 - 1, y - side/2, side + 2, side}, 3, th.Ground)
	c.FindingSign(x, y, radius, severity, th)
}

// FindingSign draws the bare sign: a triangle for a caution, a diamond for
// what is demanding, an octagon for what cannot be played.
func (c *Canvas) FindingSign(x, y, radius float64, severity arrange.Severity, th *Theme) {
	switch severity {
	case arrange.Unplayable:
		c.Octagon(x, y, radius, th.Unplayable)
	case arrange.Demanding:
		c.Diamond(x, y, radius, th.Caution)
	default:
		c.Triangle(x, y, radius, th.Caution)
	}
}

// tuplets draws the number over a group and a bracket as wide as the group, on a
// strip of ground of its own: the tints of the rows would swallow both.
func (p *gridPainter) tuplets(s *System) {
	for _, m := range s.tuplets {
		text := itoa(m.number)
		half := TextWidth(text, SemiBold, SizeSmall)/2 + 3
		x0, x1, y := m.x0+2, m.x1-3, m.y+4
		mid := (x0 + x1) / 2
		p.FillRect(Rect{x0 - 1, m.y, x1 - x0 + 2, tupletHeight}, p.th.Ground)
		p.HLine(x0, mid-half, y, tupletLine, p.th.Text)
		p.HLine(mid+half, x1, y, tupletLine, p.th.Text)
		p.VLine(x0, y, m.y+tupletHeight-1, tupletLine, p.th.Text)
		p.VLine(x1-tupletLine, y, m.y+tupletHeight-1, tupletLine, p.th.Text)
		p.Text(mid, m.y+9, text, Style{SemiBold, SizeSmall, p.th.Text}, AlignCentre)
	}
}

// tupletHeight is what a bracket takes of the free rows on top, tupletLine how
// thick it is.
const tupletHeight, tupletLine = 10.0, 1.5

func itoa(n int) string { return strconv.Itoa(n) }
