package paint

import "organbook/internal/project"

// placeTuplets finds the beats whose notes do not divide by two, so that a
// reader of the grid sees that three notes share a beat.
func (l *GridLayout) placeTuplets() {
	chart := l.Realisation.Chart
	for i := range l.Bars {
		bar := &l.Bars[i]
		beat := chart.Bars[i].Meter.Pulse()
		compound := beat != chart.Bars[i].Meter.Beat()
		for t := bar.Start; t < bar.End && !compound; t += beat {
			if n := l.tuplet(t, beat); n > 0 {
				s := &l.Systems[bar.System]
				s.tuplets = append(s.tuplets, tupletMark{bar.x(t), bar.x(min(t+beat, bar.End)), s.Rows.Y, n})
			}
		}
	}
}

// tuplet returns how many equal parts the notes that start within a beat ask
// for, 0 when halving is enough or no small number fits.
func (l *GridLayout) tuplet(start, beat project.Ticks) int {
	chart := l.Realisation.Chart
	first, _ := chart.NoteStarting(start)
	parts := 0
	for i := first; i < len(chart.Melody) && chart.Melody[i].Start < start+beat; i++ {
		offset := chart.Melody[i].Start - start
		if offset%(beat/16) == 0 {
			continue
		}
		if parts = smallestDivision(chart.Melody[first:], start, beat); parts == 0 {
			return 0
		}
		break
	}
	return parts
}

// smallestDivision returns the smallest of 3, 5, 6, 7 and 9 equal parts whose
// lines all starts within the beat lie on.
func smallestDivision(notes []project.Note, start, beat project.Ticks) int {
next:
	for _, n := range []int{3, 5, 6, 7, 9} {
		for i := range notes {
			offset := notes[i].Start - start
			if offset >= beat {
				break
			}
			if offset*project.Ticks(n)%beat != 0 {
				continue next
			}
		}
		return n
	}
	return 0
}
