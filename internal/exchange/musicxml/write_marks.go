package musicxml

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// mark is something over the staves at a position in a bar.
type mark struct {
	at project.Ticks
	// write writes it; offset is how far behind the cursor it stands.
	write func(e element, offset project.Ticks)
}

// marks returns the marks of bar i in the order of their positions.
func (s *scribe) marks(i int, start, length project.Ticks) []mark {
	marks := s.barMarks(i)
	marks = append(marks, s.cueMarks(start, length)...)
	marks = append(marks, s.harmonies(start, length)...)
	slices.SortStableFunc(marks, func(a, b mark) int { return int(a.at - b.at) })
	return marks
}

// barMarks returns what stands at the front of bar i.
func (s *scribe) barMarks(i int) (marks []mark) {
	b := &s.chart.Bars[i]
	add := func(write func(element)) {
		marks = append(marks, mark{0, func(e element, _ project.Ticks) { write(e) }})
	}
	if b.Section != "" {
		add(func(e element) {
			writeDirection(e, 0, func(e element) { e.text("rehearsal", b.Section) }, nil)
		})
	}
	if b.Segno {
		add(func(e element) { s.writeSign(e, i, "segno") })
	}
	if b.Coda {
		add(func(e element) { s.writeSign(e, i, "coda") })
	}
	if i == 0 || b.Tempo > 0 {
		add(func(e element) { s.writeTempo(e, i) })
	}
	return marks
}

// writeDirection writes a direction over the upper staff; sound, if any,
// writes what it means for playing.
func writeDirection(e element, offset project.Ticks, kind, sound func(element)) {
	e.in("direction", func(e element) {
		e.in("direction-type", kind)
		if offset > 0 {
			e.number("offset", int64(offset))
		}
		e.number("staff", 1)
		if sound != nil {
			sound(e)
		}
	}, "placement", "above")
}

func (s *scribe) writeSign(e element, i int, sign string) {
	writeDirection(e, 0, func(e element) { e.empty(sign) }, func(e element) {
		e.empty("sound", sign, signName(sign, s.signs[i]))
	})
}

// writeTempo writes the metronome mark of bar i, and over the first bar the
// swing too.
func (s *scribe) writeTempo(e element, i int) {
	tempo := s.chart.Bars[i].Tempo
	if tempo <= 0 {
		tempo = s.chart.Tempo
	}
	quarters := strconv.FormatFloat(tempo, 'f', -1, 64)
	swings := i == 0 && s.chart.Swing > project.MinSwing
	e.in("direction", func(e element) {
		if swings {
			e.in("direction-type", func(e element) { e.text("words", "Swing") })
		}
		e.in("direction-type", func(e element) { writeMetronome(e, quarters) })
		e.number("staff", 1)
		if !swings {
			e.empty("sound", "tempo", quarters)
			return
		}
		e.in("sound", func(e element) { writeSwing(e, s.chart.Swing) }, "tempo", quarters)
	}, "placement", "above")
}

func writeMetronome(e element, quarters string) {
	e.in("metronome", func(e element) {
		e.text("beat-unit", "quarter")
		e.text("per-minute", quarters)
	})
}

// writeSwing writes the swing as the ratio of the two eighths of a beat.
func writeSwing(e element, swing float64) {
	first, second := swingRatio(swing)
	e.in("swing", func(e element) {
		e.number("first", first)
		e.number("second", second)
		e.text("swing-type", "eighth")
	})
}

// swingRatio returns the smallest whole numbers whose ratio is the swing's to
// a thousandth of a beat, so that a triplet feel is written as 2 to 1.
func swingRatio(swing float64) (first, second int64) {
	for beat := int64(2); ; beat++ {
		first := int64(math.Round(swing * float64(beat)))
		if first < beat && math.Abs(float64(first)/float64(beat)-swing) < 0.0005 || beat == 1000 {
			return first, max(1, beat-first)
		}
	}
}

// cueMarks returns the changes of registration, rotary speaker and swell that
// start in a bar, as words.
func (s *scribe) cueMarks(start, length project.Ticks) (marks []mark) {
	cues := s.r.Cues
	first := sort.Search(len(cues), func(i int) bool { return cues[i].Start >= start })
	for _, q := range cues[first:] {
		if q.Start >= start+length {
			break
		}
		marks = append(marks, mark{q.Start - start, func(e element, offset project.Ticks) {
			writeDirection(e, offset, func(e element) { e.text("words", cueWords(q)) }, nil)
		}})
	}
	return marks
}

// cueWords says what a cue changes, except for registrations, whose name says
// it.
func cueWords(q arrange.Cue) string {
	if q.Kind == arrange.CueRegistration {
		return q.Value
	}
	return q.Kind.String() + ": " + q.Value
}

// harmonies returns the chord symbols that start in a bar.
func (s *scribe) harmonies(start, length project.Ticks) (marks []mark) {
	first, _ := s.chart.ChangeStarting(start)
	for _, x := range s.chart.Changes[first:] {
		if x.Start >= start+length {
			break
		}
		marks = append(marks, mark{x.Start - start, func(e element, offset project.Ticks) {
			e.in("harmony", func(e element) { writeHarmony(e, x.Chord, offset) })
		}})
	}
	return marks
}

func writeHarmony(e element, c theory.Chord, offset project.Ticks) {
	if c.IsNone() || !c.IsValid() {
		// The standard wants a root even where there is none; it is not shown.
		e.in("root", func(e element) { e.text("root-step", "C", "text", "") })
		e.text("kind", theory.KindNone.String(), "text", theory.NoChord().String())
	} else {
		kind, degrees := c.Kind()
		writeName(e, "root", c.Root())
		e.text("kind", kind.String(), "text", quality(c))
		if c.HasSlash() {
			writeName(e, "bass", c.Bass())
		}
		for _, d := range degrees {
			writeDegree(e, d)
		}
	}
	if offset > 0 {
		e.number("offset", int64(offset))
	}
	e.number("staff", 1)
}

func writeName(e element, part string, n theory.Name) {
	e.in(part, func(e element) {
		e.text(part+"-step", n.Letter().String())
		if n.Alter() != 0 {
			e.number(part+"-alter", int64(n.Alter()))
		}
	})
}

// writeDegree writes a degree; it is not shown, because the text of the kind
// holds the whole symbol.
func writeDegree(e element, d theory.Degree) {
	e.in("degree", func(e element) {
		e.number("degree-value", int64(d.Number))
		e.number("degree-alter", int64(d.Alter))
		e.text("degree-type", d.Op.String())
	}, "print-object", "no")
}

// quality returns the printed symbol without its root and bass.
func quality(c theory.Chord) string {
	return strings.TrimPrefix(c.WithoutBass().String(), c.Root().String())
}
