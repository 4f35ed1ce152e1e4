package musicxml

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"organbook/internal/project"
)

// leftBarline writes what stands at the front of bar i: the start of a repeat
// and of an ending.
func (s *scribe) leftBarline(e element, i int) {
	b := &s.chart.Bars[i]
	opens := s.opensEnding(i)
	if !b.RepeatStart && !opens {
		return
	}
	e.in("barline", func(e element) {
		if b.RepeatStart {
			e.text("bar-style", "heavy-light")
		}
		if opens {
			writeEnding(e, b.Ending, "start")
		}
		if b.RepeatStart {
			e.empty("repeat", "direction", "forward")
		}
	}, "location", "left")
}

// rightBarline writes what stands at the end of bar i.
func (s *scribe) rightBarline(e element, i int) {
	b := &s.chart.Bars[i]
	last := i+1 == len(s.chart.Bars)
	closes := len(b.Ending) > 0 && (last || !s.continuesEnding(i+1))
	if !b.RepeatEnd && !closes && !last {
		return
	}
	e.in("barline", func(e element) {
		if b.RepeatEnd || last {
			e.text("bar-style", "light-heavy")
		}
		switch {
		case closes && b.RepeatEnd:
			writeEnding(e, b.Ending, "stop")
		case closes:
			writeEnding(e, b.Ending, "discontinue")
		}
		if b.RepeatEnd {
			writeRepeatEnd(e, b.Times)
		}
	}, "location", "right")
}

func writeRepeatEnd(e element, times int) {
	attributes := []string{"direction", "backward"}
	if times > 0 {
		attributes = append(attributes, "times", strconv.Itoa(times))
	}
	e.empty("repeat", attributes...)
}

// opensEnding reports whether an ending begins at bar i.
func (s *scribe) opensEnding(i int) bool {
	return len(s.chart.Bars[i].Ending) > 0 && !s.continuesEnding(i)
}

// continuesEnding reports whether bar i goes on with the ending of the bar
// before.
func (s *scribe) continuesEnding(i int) bool {
	b := &s.chart.Bars[i]
	return i > 0 && len(b.Ending) > 0 && !b.EndingStart && slices.Equal(b.Ending, s.chart.Bars[i-1].Ending)
}

func writeEnding(e element, passes []int, kind string) {
	numbers := make([]string, len(passes))
	for i, p := range passes {
		numbers[i] = strconv.Itoa(p)
	}
	list := strings.Join(numbers, ", ")
	if kind == "start" {
		e.text("ending", list+".", "number", list, "type", kind)
		return
	}
	e.empty("ending", "number", list, "type", kind)
}

// jumpWords is how print writes each jump.
var jumpWords = map[project.Jump]string{
	project.DaCapo: "D.C.", project.DaCapoAlFine: "D.C. al Fine", project.DaCapoAlCoda: "D.C. al Coda",
	project.DalSegno: "D.S.", project.DalSegnoAlFine: "D.S. al Fine", project.DalSegnoAlCoda: "D.S. al Coda",
}

// endMarks writes the words at the end of bar i: Fine, To Coda and jumps.
func (s *scribe) endMarks(e element, i int) {
	b := &s.chart.Bars[i]
	if b.ToCoda {
		target := s.sign(i, 1, func(b *project.Bar) bool { return b.Coda })
		endMark(e, "To Coda", "tocoda", signName("coda", target))
	}
	if b.Fine {
		endMark(e, "Fine", "fine", "yes")
	}
	switch b.Jump {
	case project.NoJump:
	case project.DaCapo, project.DaCapoAlFine, project.DaCapoAlCoda:
		endMark(e, jumpWords[b.Jump], "dacapo", "yes")
	default:
		target := s.sign(i, -1, func(b *project.Bar) bool { return b.Segno })
		endMark(e, jumpWords[b.Jump], "dalsegno", signName("segno", target))
	}
}

func endMark(e element, words, attribute, value string) {
	e.in("direction", func(e element) {
		e.in("direction-type", func(e element) { e.text("words", words) })
		e.number("staff", 1)
		e.empty("sound", attribute, value)
	}, "placement", "above")
}

// sign returns the number of the nearest sign from bar i in a direction; 0
// when there is none.
func (s *scribe) sign(i, step int, has func(*project.Bar) bool) int {
	for ; i >= 0 && i < len(s.chart.Bars); i += step {
		if has(&s.chart.Bars[i]) {
			return s.signs[i]
		}
	}
	return 0
}

func signName(kind string, number int) string { return fmt.Sprint(kind, number) }
