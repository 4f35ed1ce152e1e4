package musicxml

import (
	"slices"
	"strconv"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// scribe writes the bars of one realisation, in order.
type scribe struct {
	r      *arrange.Realisation
	chart  *project.Chart
	ruler  *project.Ruler
	voices []*voice
	// keys holds the key in force in each bar.
	keys []theory.Key
	// clefs holds the sign of each staff, G or F.
	clefs [staffCount]string
	// key and meter are what the bar before had.
	key   theory.Key
	meter project.Meter
	// signs numbers the segno and coda signs by their bars.
	signs map[int]int
	// uncounted is how many bars without a number of their own came before.
	uncounted int
}

func newScribe(r *arrange.Realisation) *scribe {
	s := &scribe{r: r, chart: r.Chart, ruler: r.Chart.Ruler(), voices: voicesOf(r), keys: barKeys(r.Chart), signs: map[int]int{}}
	s.clefs = [staffCount]string{"G", s.lowerClef(), "F"}
	for i, b := range r.Chart.Bars {
		if b.Segno || b.Coda {
			s.signs[i] = len(s.signs) + 1
		}
	}
	return s
}

// barKeys returns the key in force in each bar.
func barKeys(c *project.Chart) []theory.Key {
	keys := make([]theory.Key, len(c.Bars))
	current := c.Key
	for i := range c.Bars {
		if k := c.Bars[i].Key; k.IsValid() {
			current = k
		}
		keys[i] = current
	}
	return keys
}

// middleC divides the clefs.
const middleC = 60

// lowerClef returns the clef that suits most of what the lower manual plays.
func (s *scribe) lowerClef() string {
	above, below := 0, 0
	for _, n := range s.r.Notes {
		switch {
		case n.Division != arrange.Lower:
		case n.Key >= middleC:
			above++
		default:
			below++
		}
	}
	if above > below {
		return "G"
	}
	return "F"
}

// measure writes bar i.
func (s *scribe) measure(e element, i int) {
	b := &s.chart.Bars[i]
	start := s.ruler.BarStart(i)
	// What a pickup lacks at the front is what its first beat is late by.
	missing := project.Ticks((s.ruler.Beat(start)-1)*float64(b.Meter.Beat()) + 0.5)
	g := newGrid(b.Meter, b.Length, missing)
	e.in("measure", func(e element) {
		s.attributes(e, i)
		s.leftBarline(e, i)
		s.music(e, i, start, &g)
		s.endMarks(e, i)
		s.rightBarline(e, i)
	}, s.measureAttributes(i)...)
}

func (s *scribe) measureAttributes(i int) []string {
	if !s.chart.Bars[i].Unnumbered {
		return []string{"number", strconv.Itoa(s.ruler.BarNumber(i))}
	}
	if i == 0 {
		return []string{"number", "0", "implicit", "yes"}
	}
	s.uncounted++
	return []string{"number", "X" + strconv.Itoa(s.uncounted), "implicit", "yes"}
}

// attributes writes what changes at the bar line; in the first bar everything.
func (s *scribe) attributes(e element, i int) {
	key, meter := s.keys[i], s.chart.Bars[i].Meter
	newKey, newMeter := key != s.key, meter != s.meter
	s.key, s.meter = key, meter
	if !newKey && !newMeter {
		return
	}
	e.in("attributes", func(e element) {
		if i == 0 {
			e.number("divisions", int64(project.Quarter))
		}
		if newKey {
			writeKey(e, key)
		}
		if newMeter {
			e.in("time", func(e element) {
				if meter.Groups != "" {
					e.text("beats", meter.Groups)
				} else {
					e.number("beats", int64(meter.Beats))
				}
				e.number("beat-type", int64(meter.Unit))
			})
		}
		if i == 0 {
			s.staves(e)
		}
	})
}

func writeKey(e element, k theory.Key) {
	e.in("key", func(e element) {
		e.number("fifths", int64(k.Fifths()))
		e.text("mode", k.Mode().String())
	})
}

func (s *scribe) staves(e element) {
	e.number("staves", staffCount)
	for i, sign := range s.clefs {
		line := int64(2)
		if sign == "F" {
			line = 4
		}
		e.in("clef", func(e element) {
			e.text("sign", sign)
			e.number("line", line)
		}, "number", strconv.Itoa(i+1))
	}
}

// music writes every voice that has something to play, and for each staff at
// least one, going back to the start of the bar between them.
func (s *scribe) music(e element, i int, start project.Ticks, g *grid) {
	var lines [][]*chord
	for _, v := range s.voices {
		if line := v.barOf(start, g); v.first || !line[0].wholeBar {
			lines = append(lines, line)
		}
	}
	setAccidentals(slices.Concat(lines...), s.key)
	marks := s.marks(i, start, g.length)
	for k, line := range lines {
		if k > 0 {
			e.in("backup", func(e element) { e.number("duration", int64(g.length)) })
		}
		for _, c := range line {
			for k == 0 && len(marks) > 0 && marks[0].at < c.to {
				marks[0].write(e, marks[0].at-c.from)
				marks = marks[1:]
			}
			c.write(e)
		}
	}
}
