package paint

import (
	"fmt"
	"math"
)

// The kinds of change that stand over a bar, in the order they are written;
// Hit.Index tells them.
const (
	ChangeOfMeter = iota
	ChangeOfKey
	ChangeOfTempo
)

// changeMark is a change of meter, key or tempo in words over its bar.
type changeMark struct {
	Rect
	kind, bar int
	text      string
}

const (
	changeGap  = 10.0 // between changes at the same bar
	changeLead = 2.0  // from the bar line
)

// changesAt returns what changes at a bar: meter, key and tempo as they are
// from there on. The first bar's are told by the chart's head.
func (l *GridLayout) changesAt(i int) []changeMark {
	if i == 0 {
		return nil
	}
	chart := l.Realisation.Chart
	var out []changeMark
	add := func(kind int, text string) { out = append(out, changeMark{kind: kind, bar: i, text: text}) }
	b := &chart.Bars[i]
	if b.Meter != chart.Bars[i-1].Meter {
		add(ChangeOfMeter, b.Meter.String())
	}
	if key := l.Ruler.KeyOfBar(i); b.Key.IsValid() && key != l.Ruler.KeyOfBar(i-1) {
		add(ChangeOfKey, key.Pretty())
	}
	if b.Tempo > 0 && b.Tempo != chart.TempoAt(l.Ruler.BarStart(i-1)) {
		add(ChangeOfTempo, tempoText(b.Tempo))
	}
	return out
}

// tempoText writes a tempo as print does.
func tempoText(tempo float64) string { return fmt.Sprintf("♩ = %g", math.Round(tempo*10)/10) }

func changeWidth(text string) float64 { return TextWidth(text, SemiBold, SizeSmall) }

// changesWidth is the room that the changes at a bar want, none without any.
func (l *GridLayout) changesWidth(i int) (width float64) {
	for _, m := range l.changesAt(i) {
		width += changeWidth(m.text) + changeGap
	}
	return width
}

// placeChanges places the changes behind the other marks of their bar, each as
// wide as its words, the last one as wide as there is room.
func (l *GridLayout) placeChanges(s *System) {
	for i := s.FirstBar; i < s.EndBar; i++ {
		x, right := l.Bars[i].X+l.marksLead(i)+changeLead, l.marksRoom(s, i)-4
		for _, m := range l.changesAt(i) {
			m.Rect = Rect{x, s.Marks.Y, math.Min(changeWidth(m.text), math.Max(0, right-x)), s.Marks.H}
			s.changes = append(s.changes, m)
			x = m.Right() + changeGap
		}
	}
}

// marksLead is the width of what stands over a bar before its changes: section,
// signs and the passes of an ending.
func (l *GridLayout) marksLead(i int) (width float64) {
	bar := &l.Realisation.Chart.Bars[i]
	if bar.Section != "" {
		width += sectionWidth(bar.Section) + 8
	}
	width += signWidth * float64(len(signsAtStart(bar)))
	if bar.EndingStart {
		width += 8 + TextWidth(endingText(bar.Ending), Regular, SizeSmall)
	}
	return width
}

// changes draws the changes of meter, key and tempo over their bars.
func (p *gridPainter) changes(s *System) {
	for i := range s.changes {
		m := &s.changes[i]
		p.Text(m.X, m.Y+13, Shorten(m.text, SemiBold, SizeSmall, m.W+0.5), Style{SemiBold, SizeSmall, p.th.Text}, AlignLeft)
	}
}

// changeAt returns the change at x among those over the bars.
func (s *System) changeAt(x float64) *changeMark {
	for i := range s.changes {
		if m := &s.changes[i]; x >= m.X-changeGap/2 && x < m.Right()+changeGap/2 {
			return m
		}
	}
	return nil
}
