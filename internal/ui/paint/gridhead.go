package paint

import (
	"math"
	"strings"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/words"
)

// chordSizes are tried in turn until a chord symbol fits; one that is still too
// wide is cut.
var chordSizes = []float64{SizeHead, SizeBody, SizeSmall, 9, 8}

// chords draws bar numbers, chord symbols and functions.
func (p *gridPainter) chords(s *System) {
	for i := s.FirstBar; i < s.EndBar; i++ {
		if b := &p.l.Bars[i]; b.Number > 0 {
			p.Text(b.X+3, s.Chords.Y+18, itoa(b.Number), Style{Regular, numberSize, p.th.Muted}, AlignLeft)
		}
	}
	for i := range s.labels {
		m := &s.labels[i]
		if m.W < 4 || !p.Shows(m.Rect) {
			continue
		}
		ink := p.th.Text
		if p.st.Chord != nil && *p.st.Chord == m.change {
			p.chordBox(m)
		}
		size := fittingSize(m.text, SemiBold, m.W, chordSizes)
		text := Shorten(m.text, SemiBold, size, m.W)
		p.Text(m.X, m.Y+19, text, Style{SemiBold, size, ink}, AlignLeft)
		label, size := fittingFunction(p.l.Options.functionForms(m), m.W)
		p.Text(m.X, m.Y+33, label, Style{Regular, size, p.th.Muted}, AlignLeft)
	}
}

// chordBox draws the frame of the selected chord.
func (p *gridPainter) chordBox(m *chordLabel) {
	w := math.Max(TextWidth(m.text, SemiBold, SizeHead), TextWidth(m.function, Regular, SizeSmall))
	r := Rect{m.X - 4, m.Y + 3, math.Min(w, m.W) + 8, m.H - 4}
	p.RoundRect(r, 4, p.th.Raised)
	p.StrokeRound(r, 4, 1.5, p.th.Accent)
}

// fittingSize returns the first size at which s fits the width, or the last.
func fittingSize(s string, f Font, width float64, sizes []float64) float64 {
	for _, size := range sizes {
		if TextWidth(s, f, size) <= width {
			return size
		}
	}
	return sizes[len(sizes)-1]
}

// marks draws section labels, endings, jumps and passage names over the bars.
func (p *gridPainter) marks(s *System) {
	if s.Marks.Empty() || !p.Shows(s.Marks) {
		return
	}
	for i := s.FirstBar; i < s.EndBar; i++ {
		p.barMarks(s, i)
	}
	p.changes(s)
}

func (p *gridPainter) barMarks(s *System, i int) {
	bar, b := &p.l.Realisation.Chart.Bars[i], &p.l.Bars[i]
	x := b.X
	base := s.Marks.Y + 13
	if bar.Section != "" {
		x += p.sectionBox(x, s.Marks, bar.Section) + 8
	}
	for _, sign := range signsAtStart(bar) {
		p.sign(Rect{x + 2, s.Marks.Y + 2, signWidth - 4, s.Marks.H - 5}, sign)
		x += signWidth
	}
	if bar.Ending != nil {
		p.ending(s, i)
	}
	p.jump(b, bar, base)
	if passage, ok := p.l.namedHere(s, i); ok {
		x = b.X + p.l.marksLead(i) + p.l.changesWidth(i)
		room := Rect{x + 2, s.Marks.Y, p.l.marksRoom(s, i) - x - 8, s.Marks.H}
		p.TextIn(room, p.passageText(passage), Style{Regular, SizeSmall, p.th.Muted}, AlignLeft)
	}
}

// namedHere reports whether a passage's name stands over bar i, and gives the
// passage's first bar: a passage that starts with a pickup is named over the
// bar after it, where there is room.
func (l *GridLayout) namedHere(s *System, i int) (first int, ok bool) {
	if i > s.FirstBar && l.startsPassage(i-1) && l.isSplinter(i-1) && !l.startsPassage(i) {
		return i - 1, true
	}
	return i, l.startsPassage(i) && (!l.isSplinter(i) || i+1 >= s.EndBar)
}

// marksRoom returns the x up to which the marks over bar i may reach: the next
// bar that has marks of its own.
func (l *GridLayout) marksRoom(s *System, i int) float64 {
	bars := l.Realisation.Chart.Bars
	for j := i; j < s.EndBar; j++ {
		b := &bars[j]
		if j > i && (b.Section != "" || b.Ending != nil || b.Segno || b.Coda || l.startsPassage(j) || len(l.changesAt(j)) > 0) {
			return l.Bars[j].X
		}
		if text := endText(b); text != "" {
			return l.Bars[j].Right() - 5 - endWidth(text)
		}
	}
	return s.Marks.Right()
}

// sectionBox draws a section label on a small plate and returns its width.
func (p *gridPainter) sectionBox(x float64, band Rect, text string) float64 {
	r := Rect{x, band.Y + 1, sectionWidth(text), band.H - 3}
	p.RoundRect(r, 4, p.th.Text)
	p.TextIn(Rect{r.X, r.Y, r.W, r.H}, text, Style{SemiBold, SizeSmall, p.th.Ground}, AlignCentre)
	return r.W
}

func sectionWidth(text string) float64 {
	return math.Max(TextWidth(text, SemiBold, SizeSmall)+12, 18)
}

// signWidth is the room of a segno or coda over a bar.
const signWidth = 20.0

// sign draws a sign of notation as high as a rectangle, at its left. The face
// keeps its signs far over the base line and of many sizes.
func (p *gridPainter) sign(r Rect, sign string) {
	top, bottom := inkBand(Music, markHeight, sign)
	size := markHeight * r.H / (bottom - top)
	p.Text(r.X, r.Bottom()-bottom*size/markHeight, sign, Style{Music, size, p.th.Text}, AlignLeft)
}

func signsAtStart(bar *project.Bar) (out []string) {
	if bar.Segno {
		out = append(out, "\U0001D10B")
	}
	if bar.Coda {
		out = append(out, "\U0001D10C")
	}
	return out
}

// ending draws the bracket of a numbered ending over one bar. It stops before an
// instruction at the bar's end, which stands in its line.
func (p *gridPainter) ending(s *System, i int) {
	bars, b := p.l.Realisation.Chart.Bars, &p.l.Bars[i]
	y := s.Marks.Y + 2
	p.HLine(b.X+1, p.l.bracketEnd(i), y, 1, p.th.Muted)
	if bars[i].EndingStart {
		p.VLine(b.X+1, y, y+12, 1, p.th.Muted)
		p.Text(b.X+6, y+12, endingText(bars[i].Ending), Style{Regular, SizeSmall, p.th.Text}, AlignLeft)
	}
	last := i+1 == len(bars) || bars[i+1].EndingStart || bars[i+1].Ending == nil
	if last && bars[i].RepeatEnd && endText(&bars[i]) == "" {
		p.VLine(b.Right()-4, y, y+12, 1, p.th.Muted)
	}
}

// bracketEnd is the x up to which the bracket over bar i is drawn.
func (l *GridLayout) bracketEnd(i int) float64 {
	b := &l.Bars[i]
	if text := endText(&l.Realisation.Chart.Bars[i]); text != "" {
		return b.Right() - 5 - endWidth(text) - endGap
	}
	return b.Right() - 3
}

// endingText writes the passes of an ending as "1. 2."
func endingText(passes []int) string {
	words := make([]string, len(passes))
	for i, n := range passes {
		words[i] = itoa(n) + "."
	}
	return strings.Join(words, " ")
}

// jumpWords are the instructions as print shows them.
var jumpWords = map[project.Jump]string{
	project.DaCapo: "D.C.", project.DaCapoAlFine: "D.C. al Fine", project.DaCapoAlCoda: "D.C. al Coda",
	project.DalSegno: "D.S.", project.DalSegnoAlFine: "D.S. al Fine", project.DalSegnoAlCoda: "D.S. al Coda",
}

// endText returns the instructions at a bar's end.
func endText(bar *project.Bar) string {
	var words []string
	if bar.ToCoda {
		words = append(words, "To Coda")
	}
	if bar.Fine {
		words = append(words, "Fine")
	}
	if w := jumpWords[bar.Jump]; w != "" {
		words = append(words, w)
	}
	return strings.Join(words, " · ")
}

// endGap keeps the instructions at a bar's end away from what stands before them.
const endGap = 8.0

func endWidth(text string) float64 { return TextWidth(text, SemiBold, SizeSmall) }

// jump draws the instructions at a bar's end.
func (p *gridPainter) jump(b *GridBar, bar *project.Bar, base float64) {
	p.Text(b.Right()-5, base, endText(bar), Style{SemiBold, SizeSmall, p.th.Text}, AlignRight)
}

// passageText names the passage at bar i: its name, treatment and plan in
// pictures that stand alone, and the octave it sounds at in any case.
func (p *gridPainter) passageText(i int) string {
	chart := p.l.Realisation.Chart
	passage := &chart.Passages[chart.PassageAt(i)]
	var parts []string
	if p.l.Options.Passages {
		if passage.Name != "" && passage.Name != chart.Bars[i].Section {
			parts = append(parts, passage.Name)
		}
		parts = append(parts, p.l.Options.word(words.Plan(passage.Plan)), p.l.Options.word(words.Voicing(passage.Treatment.Voicing)))
		if passage.Registration.Name != "" {
			parts = append(parts, passage.Registration.Name)
		}
	}
	if octave := p.l.octaveText(i); octave != "" {
		parts = append(parts, p.l.Options.word("sounds "+octave))
	}
	return strings.Join(parts, " · ")
}

// cues draws the changes of setting under the lanes.
func (p *gridPainter) cues(s *System) {
	for i := range s.cues {
		m := &s.cues[i]
		if m.W < cueSignWidth || !p.Shows(m.Rect) {
			continue
		}
		p.cueSign(m)
		p.TextIn(Rect{m.X + cueSignWidth, m.Y, m.W - cueSignWidth, m.H}, m.text, Style{Regular, SizeSmall, p.th.Muted}, AlignLeft)
	}
}

// cueSign draws what kind of setting changes: drawbars, the speaker's turn,
// or the swell's level.
func (p *gridPainter) cueSign(m *cueLabel) {
	y := m.CentreY()
	switch m.kind {
	case arrange.CueRegistration:
		for i, w := range []float64{12, 8, 10} {
			p.FillRect(Rect{m.X, y - 5 + 4*float64(i), w, 2}, p.th.Muted)
		}
	case arrange.CueRotary:
		p.Ring(m.X+6, y, 5.5, 1.4, p.th.Muted)
		p.rotarySign(m.X+6, y, m.fast)
	case arrange.CueExpression:
		for i := 0; i < 4; i++ {
			h := 2 + 2.6*float64(i)
			ink := p.th.Muted
			if float64(i) >= m.swell*4 {
				ink = p.th.Line
			}
			p.FillRect(Rect{m.X + 3.4*float64(i), y + 5 - h, 2.4, h}, ink)
		}
	}
}

// rotarySign fills the speaker's circle: empty when it stands, half when it
// turns slowly, whole when fast.
func (p *gridPainter) rotarySign(x, y float64, speed project.Rotary) {
	switch speed {
	case project.RotarySlow:
		half := []Point{}
		for i := 0; i <= 12; i++ {
			a := -math.Pi/2 - math.Pi*float64(i)/12
			half = append(half, Point{x + 4.6*math.Cos(a), y + 4.6*math.Sin(a)})
		}
		p.Polygon(half, p.th.Muted)
	case project.RotaryFast:
		p.Disc(x, y, 3.6, p.th.Muted)
	}
}

// passage draws the line over the bars of the passage in force and the loop.
func (p *gridPainter) passage(k int) {
	s := &p.l.Systems[k]
	if p.st.Passage != nil && *p.st.Passage < len(p.l.Realisation.Chart.Passages) {
		first, end := p.l.Realisation.Chart.PassageBars(*p.st.Passage)
		first, end = max(first, s.FirstBar), min(end, s.EndBar)
		if first < end {
			x := p.l.Bars[first].X
			p.HLine(x, p.l.Bars[end-1].Right(), s.Chords.Y, 2, p.th.Accent)
		}
	}
	if from, to := max(p.st.LoopStart, s.Start), min(p.st.LoopEnd, s.End); from < to {
		x0, x1 := p.l.xIn(s, from), p.l.endIn(s, to)
		p.FillRect(Rect{x0, s.Lanes.Bottom(), x1 - x0, 2}, p.th.Accent)
	}
}

// caretRow lights the row where the next note will stand, and a bare row
// under the pointer.
func (p *gridPainter) caretRow(k int) {
	s := &p.l.Systems[k]
	if h := p.st.Hover; h.Kind == HitRow && h.System == k {
		b := &p.l.Bars[h.Bar]
		p.FillRect(Rect{b.X, p.l.RowY(k, h.Key), b.W, p.l.Options.RowHeight}, withAlpha(p.th.Text, 0.14))
	}
	c := p.st.Caret
	if c == nil || c.Key < s.Low || c.Key > s.High || c.At < s.Start || c.At >= s.End {
		return
	}
	x0, x1 := p.l.xIn(s, c.At), p.l.endIn(s, c.At+max(c.Length, 1))
	h := math.Round(p.l.Options.RowHeight*1.25) + 4
	r := Rect{x0 + 1, p.l.RowY(k, c.Key) + (p.l.Options.RowHeight-h)/2, math.Max(6, x1-x0-noteGap), h}
	p.RoundRect(r, noteRadius, withAlpha(p.th.Accent, 0.28))
	p.StrokeRound(r, noteRadius, 1, p.th.Accent)
}

// caret draws the line where the next note will start.
func (p *gridPainter) caret(k int) {
	s, c := &p.l.Systems[k], p.st.Caret
	if c == nil || c.At < s.Start || c.At >= s.End {
		return
	}
	p.VLine(p.l.xIn(s, c.At)-1, s.Rows.Y, s.Lanes.Bottom(), 2, p.th.Accent)
}
