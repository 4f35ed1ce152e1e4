package paint

import (
	"math"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// placeLeads gives every melody note its bars.
func (l *GridLayout) placeLeads() {
	melody := l.Realisation.Chart.Melody
	l.leadSegments = make([][]Segment, len(melody))
	h := math.Round(l.Options.RowHeight*1.25) + 4
	pins := l.pinnedStarts()
	for i, n := range melody {
		name := n.Pitch.Name().Pretty()
		l.inSystems(n.Start, n.End(), func(k int) {
			s := &l.Systems[k]
			seg := l.segment(k, n.Start, n.End(), l.RowY(k, n.Pitch.Key())+(l.Options.RowHeight-h)/2, h)
			l.leadSegments[i] = append(l.leadSegments[i], seg)
			s.leads = append(s.leads, leadMark{Segment: seg, note: i, name: name, pinned: pins[n.Start]})
		})
	}
}

func (l *GridLayout) pinnedStarts() map[project.Ticks]bool {
	out := map[project.Ticks]bool{}
	for _, p := range l.Realisation.Chart.Pins {
		out[p.Start] = true
	}
	return out
}

// segment returns the part of a stretch of time in system k, at a height.
func (l *GridLayout) segment(k int, start, end project.Ticks, y, h float64) Segment {
	s := &l.Systems[k]
	x0, x1 := l.xIn(s, start), l.endIn(s, end)
	seg := Segment{System: k, FromBefore: start < s.Start, ToAfter: end > s.End}
	w := math.Max(3, x1-x0-noteGap)
	seg.Rect = Rect{math.Min(x0+1, s.Rows.Right()-w), y, w, h}
	return seg
}

// placeVoices places what the hands play besides the lead.
func (l *GridLayout) placeVoices() {
	h := math.Max(3, math.Round(l.Options.RowHeight*0.62))
	for i := range l.Realisation.Notes {
		n := &l.Realisation.Notes[i]
		if !showsInRows(n) {
			continue
		}
		key := l.shownKey(n)
		l.inSystems(n.Start, n.Start+n.Duration, func(k int) {
			seg := l.segment(k, n.Start, n.Start+n.Duration, l.RowY(k, key)+(l.Options.RowHeight-h)/2, h)
			s := &l.Systems[k]
			s.voices = append(s.voices, voiceMark{seg.Rect, n.Limb, n.Layer, n.Step})
		})
	}
}

// laneOf returns the lane of a limb, top down: right hand, left hand, feet.
func laneOf(limb arrange.Limb) int { return min(int(limb), laneCount-1) }

// placeLanes places the limbs' bars: one for all keys a limb strikes at once.
func (l *GridLayout) placeLanes() {
	var open [laneCount][]laneMark
	for i := range l.Realisation.Notes {
		n := &l.Realisation.Notes[i]
		lane := laneOf(n.Limb)
		marks := open[lane]
		if last := len(marks) - 1; last >= 0 {
			if marks[last].start == n.Start {
				marks[last].end = max(marks[last].end, n.Start+n.Duration)
				continue
			}
			marks[last].end = min(marks[last].end, n.Start)
		}
		open[lane] = append(marks, laneMark{lane: lane, start: n.Start, end: n.Start + n.Duration, limb: n.Limb, division: n.Division})
	}
	for lane := range open {
		for _, m := range open[lane] {
			l.inSystems(m.start, m.end, func(k int) {
				s := &l.Systems[k]
				y := s.Lanes.Y + float64(lane)*laneHeight + (laneHeight-laneBar)/2
				m.Rect = l.segment(k, m.start, m.end, y, laneBar).Rect
				s.laneBar = append(s.laneBar, m)
			})
		}
	}
}

// placeLabels places the chord symbols, each as wide as the room before the
// next or before the end of its bar: the number of the next bar stays free.
func (l *GridLayout) placeLabels() {
	r := l.Realisation
	for i, change := range r.Chart.Changes {
		bar := &l.Bars[l.Ruler.BarAt(change.Start)]
		s := &l.Systems[bar.System]
		x := bar.x(change.Start) + 4
		if change.Start == bar.Start {
			x = bar.X + 4 + l.numberWidth(bar)
		}
		if n := len(s.labels); n > 0 {
			last := &s.labels[n-1]
			last.W = math.Min(last.W, math.Max(0, x-6-last.X))
		}
		s.labels = append(s.labels, chordLabel{
			Rect: Rect{x, s.Chords.Y, math.Max(0, bar.Right()-3-x), s.Chords.H}, change: i,
			text: chordText(change.Chord), function: prettyFunction(functionAt(r.Spans, change.Start)),
		})
	}
}

// functionAt returns the function of the span that holds a position.
func functionAt(spans []arrange.Span, t project.Ticks) string {
	if i := firstSpan(spans, t); i < len(spans) && spans[i].Start <= t {
		return spans[i].Function
	}
	return ""
}

// numberWidth returns the room a bar's number takes before the chord.
func (l *GridLayout) numberWidth(b *GridBar) float64 {
	if b.Number == 0 {
		return 0
	}
	return TextWidth(itoa(b.Number), Regular, numberSize) + 6
}

func chordText(c theory.Chord) string {
	if !c.IsValid() {
		return ""
	}
	if c.IsNone() {
		return "N.C."
	}
	return c.Pretty()
}

// prettyFunction prints the accidental before a roman numeral as a sign:
// "bVI" is shown as "♭VI".
func prettyFunction(s string) string {
	out := []rune(s)
	for i := 0; i+1 < len(out); i++ {
		next := out[i+1]
		if next != 'I' && next != 'V' && next != 'i' && next != 'v' {
			continue
		}
		switch {
		case out[i] == '#':
			out[i] = '♯'
		case out[i] == 'b' && (i == 0 || out[i-1] == ' ' || out[i-1] == '/'):
			out[i] = '♭'
		}
	}
	return string(out)
}

// placeCues places the changes of setting, each as wide as the room before
// the next.
func (l *GridLayout) placeCues() {
	for i := range l.Realisation.Cues {
		cue := &l.Realisation.Cues[i]
		bar := &l.Bars[l.Ruler.BarAt(cue.Start)]
		s := &l.Systems[bar.System]
		x := bar.x(cue.Start) + 4
		if n := len(s.cues); n > 0 {
			last := &s.cues[n-1]
			if wanted := last.X + cueWidth(last) + 10; x < wanted && x < last.X+1 {
				x = wanted // several settings change at once
			}
			last.W = math.Max(0, math.Min(last.W, x-6-last.X))
		}
		label := cueLabel{kind: cue.Kind, text: cue.Value, swell: cue.Registration.Swell, fast: cue.Registration.Rotary, cue: i}
		label.Rect = Rect{x, s.Cues.Y, s.Cues.Right() - x, s.Cues.H}
		s.cues = append(s.cues, label)
	}
}

// cueWidth returns the room a cue wants.
func cueWidth(c *cueLabel) float64 { return cueSignWidth + TextWidth(c.text, Regular, SizeSmall) }

// placeSigns places the findings at the lanes they speak of.
func (l *GridLayout) placeSigns() {
	for i := range l.Realisation.Findings {
		f := &l.Realisation.Findings[i]
		k, x := l.X(f.Start)
		s := &l.Systems[k]
		y := s.Lanes.Y + (float64(laneOf(f.Limb))+0.5)*laneHeight
		s.signs = append(s.signs, findingSign{x + 9, y, f.Severity, i})
	}
}
