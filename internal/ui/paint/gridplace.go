package paint

import (
	"math"

	"organbook/internal/arrange"
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// placed returns system k with what stands in it. That is placed when it is
// first asked for: every edit lays the chart out, and only a few of its systems
// are looked at before the next one.
func (l *GridLayout) placed(k int) *System {
	s := &l.Systems[k]
	if s.placed {
		return s
	}
	s.placed = true
	l.placeLeads(k)
	l.placeVoices(k)
	l.placeLanes(k)
	l.placeLabels(k)
	l.placeCues(k)
	l.placeSigns(k)
	l.placeTuplets(s)
	l.placeChanges(s)
	return s
}

// touches reports whether a stretch of time is shown in a system.
func (s *System) touches(start, end project.Ticks) bool {
	return s.End > start && (s.Start < end || s.Start == start)
}

// placeLeads gives every melody note of a system its bar.
func (l *GridLayout) placeLeads(k int) {
	s, chart := &l.Systems[k], l.Realisation.Chart
	for i := range chart.Melody {
		n := &chart.Melody[i]
		if s.touches(n.Start, n.End()) {
			_, pinned := chart.PinStarting(n.Start)
			s.leads = append(s.leads, leadMark{Segment: l.leadSegment(k, i), note: i, name: n.Pitch.Name().Pretty(), pinned: pinned})
		}
	}
}

// leadSegment returns the part of melody note i in system k.
func (l *GridLayout) leadSegment(k, i int) Segment {
	n, h := &l.Realisation.Chart.Melody[i], l.leadHeight()
	return l.segment(k, n.Start, n.End(), l.RowY(k, n.Pitch.Key())+(l.Options.RowHeight-h)/2, h)
}

// leadHeight returns how tall a melody note is drawn: more than its row.
func (l *GridLayout) leadHeight() float64 { return math.Round(l.Options.RowHeight*1.25) + 4 }

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
func (l *GridLayout) placeVoices(k int) {
	s, h := &l.Systems[k], math.Max(3, math.Round(l.Options.RowHeight*0.62))
	for i := range l.Realisation.Notes {
		n := &l.Realisation.Notes[i]
		if showsInRows(n) && s.touches(n.Start, n.Start+n.Duration) {
			seg := l.segment(k, n.Start, n.Start+n.Duration, l.RowY(k, l.shownKey(n))+(l.Options.RowHeight-h)/2, h)
			s.voices = append(s.voices, voiceMark{seg.Rect, n.Limb, n.Layer, n.Step})
		}
	}
}

// laneOf returns the lane of a limb, top down: right hand, left hand, feet.
func laneOf(limb arrange.Limb) int { return min(int(limb), laneCount-1) }

// placeLanes places the limbs' bars: one for all keys a limb strikes at once,
// until it strikes the next.
func (l *GridLayout) placeLanes(k int) {
	for lane := range laneCount {
		var open *arrange.Note // the first of what is struck at once
		var end project.Ticks
		for i := range l.Realisation.Notes {
			n := &l.Realisation.Notes[i]
			if laneOf(n.Limb) != lane {
				continue
			}
			if open != nil && open.Start == n.Start {
				end = max(end, n.Start+n.Duration)
				continue
			}
			l.placeStroke(k, lane, open, min(end, n.Start))
			open, end = n, n.Start+n.Duration
		}
		l.placeStroke(k, lane, open, end)
	}
}

// placeStroke places what a limb strikes with n, nil for nothing, up to a
// position.
func (l *GridLayout) placeStroke(k, lane int, n *arrange.Note, end project.Ticks) {
	s := &l.Systems[k]
	if n == nil || !s.touches(n.Start, end) {
		return
	}
	y := s.Lanes.Y + float64(lane)*laneHeight + (laneHeight-laneBar)/2
	s.laneBar = append(s.laneBar, laneMark{l.segment(k, n.Start, end, y, laneBar).Rect, n.Limb})
}

// placeLabels places the chord symbols, each as wide as the room before the
// next or before the end of its bar: the number of the next bar stays free.
func (l *GridLayout) placeLabels(k int) {
	s, r := &l.Systems[k], l.Realisation
	for i, change := range r.Chart.Changes {
		bar := &l.Bars[l.Ruler.BarAt(change.Start)]
		if bar.System != k {
			continue
		}
		x := bar.x(change.Start) + 4
		if change.Start == bar.Start {
			x = bar.X + 4 + l.numberWidth(bar)
		}
		if n := len(s.labels); n > 0 {
			last := &s.labels[n-1]
			last.W = math.Min(last.W, math.Max(0, x-6-last.X))
		}
		function := functionAt(r.Spans, change.Start)
		s.labels = append(s.labels, chordLabel{
			Rect: Rect{x, s.Chords.Y, math.Max(0, bar.Right()-3-x), s.Chords.H}, change: i, text: chordText(change.Chord),
			function: prettyFunction(l.Options.say(function)), english: prettyFunction(function.String()),
		})
	}
}

// functionAt returns the function of the span that holds a position.
func functionAt(spans []arrange.Span, t project.Ticks) phrase.Phrase {
	if i := firstSpan(spans, t); i < len(spans) && spans[i].Start <= t {
		return spans[i].Function
	}
	return phrase.Phrase{}
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
func (l *GridLayout) placeCues(k int) {
	s := &l.Systems[k]
	for i := range l.Realisation.Cues {
		cue := &l.Realisation.Cues[i]
		bar := &l.Bars[l.Ruler.BarAt(cue.Start)]
		if bar.System != k {
			continue
		}
		x := bar.x(cue.Start) + 4
		if n := len(s.cues); n > 0 {
			last := &s.cues[n-1]
			if wanted := last.X + cueWidth(last) + 10; x < wanted && x < last.X+1 {
				x = wanted // several settings change at once
			}
			last.W = math.Max(0, math.Min(last.W, x-6-last.X))
		}
		label := cueLabel{kind: cue.Kind, text: l.Options.say(cue.Words()), swell: cue.Registration.Swell, fast: cue.Registration.Rotary, cue: i}
		label.Rect = Rect{x, s.Cues.Y, s.Cues.Right() - x, s.Cues.H}
		s.cues = append(s.cues, label)
	}
}

// cueWidth returns the room a cue wants.
func cueWidth(c *cueLabel) float64 { return cueSignWidth + TextWidth(c.text, Regular, SizeSmall) }

// placeSigns places the findings at the lanes they speak of.
func (l *GridLayout) placeSigns(k int) {
	s := &l.Systems[k]
	for i := range l.Realisation.Findings {
		f := &l.Realisation.Findings[i]
		system, x := l.X(f.Start)
		if system != k {
			continue
		}
		y := s.Lanes.Y + (float64(laneOf(f.Limb))+0.5)*laneHeight
		s.signs = append(s.signs, findingSign{x + 9, y, f.Severity, i})
	}
}
