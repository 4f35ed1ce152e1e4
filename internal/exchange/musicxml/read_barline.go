package musicxml

import (
	"slices"
	"strconv"
	"strings"

	"organbook/internal/project"
)

// barlineItem is what a <barline> says that matters.
type barlineItem struct {
	location                string // left, right, middle or ""
	forward, backward       bool
	times                   int // 0 when the file does not say
	endingStart, endingStop bool
	ending                  []int
	segno, coda             bool
}

func newBarline(n *node) *barlineItem {
	b := &barlineItem{location: n.attr("location"), segno: n.has("segno"), coda: n.has("coda")}
	for _, k := range n.kids {
		switch k.name {
		case "repeat":
			b.readRepeat(k)
		case "ending":
			b.readEnding(k)
		}
	}
	return b
}

func (b *barlineItem) readRepeat(k *node) {
	switch k.attr("direction") {
	case "forward":
		b.forward = true
	case "backward":
		b.backward = true
		if times, err := strconv.Atoi(k.attr("times")); err == nil && times > 2 {
			b.times = min(times, project.MaxTimes)
		}
	}
}

func (b *barlineItem) readEnding(k *node) {
	switch k.attr("type") {
	case "start":
		b.endingStart = true
	case "stop", "discontinue":
		b.endingStop = true
	}
	if b.ending = endingNumbers(k.attr("number")); len(b.ending) == 0 {
		b.ending = endingNumbers(k.text)
	}
}

// endingNumbers reads the passes an ending is played on: "1", "1, 2", "1.-3.".
func endingNumbers(s string) []int {
	var numbers []int
	from := 0 // start of a range that a hyphen opened
	for i := 0; i < len(s); {
		if s[i] < '0' || s[i] > '9' {
			if (s[i] == '-' || strings.HasPrefix(s[i:], "–")) && len(numbers) > 0 {
				from = numbers[len(numbers)-1]
			}
			i++
			continue
		}
		end := i
		for end < len(s) && s[end] >= '0' && s[end] <= '9' {
			end++
		}
		n, err := strconv.Atoi(s[i:end])
		i = end
		if err != nil || n < 1 || n > project.MaxTimes {
			continue
		}
		for between := from + 1; from > 0 && between < n; between++ {
			numbers = append(numbers, between)
		}
		numbers, from = append(numbers, n), 0
	}
	slices.Sort(numbers)
	return slices.Compact(numbers)
}
