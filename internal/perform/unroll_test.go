package perform

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"organbook/internal/project"

	"pgregory.net/rapid"
)

// jumpMarks are the jumps in the notation of these tests.
var jumpMarks = map[string]project.Jump{
	"DC": project.DaCapo, "DCF": project.DaCapoAlFine, "DCC": project.DaCapoAlCoda,
	"DS": project.DalSegno, "DSF": project.DalSegnoAlFine, "DSC": project.DalSegnoAlCoda,
}

// marked reads bars from a shorthand: bars apart by blanks, marks of a bar
// apart by commas; "-" is a bar without marks, "|:" and ":|" the repeats,
// "x3" the times, "[1+2" the start of an ending, "1+2" its further bars, S and
// C the signs, F Fine, T to coda, and jumps as in jumpMarks.
func marked(spec string) []project.Bar {
	var bars []project.Bar
	for _, field := range strings.Fields(spec) {
		b := project.Bar{Meter: project.CommonTime, Length: project.Whole}
		for _, mark := range strings.Split(field, ",") {
			applyMark(&b, mark)
		}
		bars = append(bars, b)
	}
	return bars
}

func applyMark(b *project.Bar, mark string) {
	switch mark {
	case "-":
	case "|:":
		b.RepeatStart = true
	case ":|":
		b.RepeatEnd = true
	case "S":
		b.Segno = true
	case "C":
		b.Coda = true
	case "F":
		b.Fine = true
	case "T":
		b.ToCoda = true
	default:
		applyNumberMark(b, mark)
	}
}

func applyNumberMark(b *project.Bar, mark string) {
	if j, ok := jumpMarks[mark]; ok {
		b.Jump = j
		return
	}
	if times, ok := strings.CutPrefix(mark, "x"); ok {
		b.Times, _ = strconv.Atoi(times)
		return
	}
	numbers, start := strings.CutPrefix(mark, "[")
	b.EndingStart = start
	for _, n := range strings.Split(numbers, "+") {
		pass, err := strconv.Atoi(n)
		if err != nil {
			panic("unknown mark " + mark)
		}
		b.Ending = append(b.Ending, pass)
	}
}

func TestUnroll(t *testing.T) {
	tests := []struct{ name, bars, want string }{
		{"plain", "- - -", "0 1 2"},
		{"repeat from the beginning", "- -,:| -", "0 1 0 1 2"},
		{"repeat between signs", "- |: :| -", "0 1 2 1 2 3"},
		{"one bar", "|:,:|", "0 0"},
		{"three times", "|: :|,x3", "0 1 0 1 0 1"},
		{"once in all", "|: :|,x1 -", "0 1 2"},
		{"second repeat goes back to the first", "|: :| - :|", "0 1 0 1 2 3 2 3"},
		{"two repeats meeting", "|: :| |: :|", "0 1 0 1 2 3 2 3"},
		{"start inside a repeat opens a new one", "|: |: :| -", "0 1 2 1 2 3"},
		{"start without an end", "- |: -", "0 1 2"},

		{"two endings", "|: - [1,:| [2 -", "0 1 2 0 1 3 4"},
		{"endings of two bars", "|: [1 1,:| [2 2 -", "0 1 2 0 3 4 5"},
		{"second ending closed by a sign", "|: [1,:| [2,:| -", "0 1 0 2 3"},
		{"shared ending", "|: [1+2,:| [3 -", "0 1 0 1 0 2 3"},
		{"shared late ending", "|: [1,:| [2+3,:| -", "0 1 0 2 0 2 3"},
		{"three endings", "- |: [1,:| [2,:| [3", "0 1 2 1 3 1 4"},
		{"ending one alone", "|: [1,:| -", "0 1 0 2"},
		{"repeat after endings", "|: [1,:| [2 - -,:|", "0 1 0 2 3 4 3 4"},
		{"endings after endings", "|: [1,:| [2 |: [1,:| [2", "0 1 0 2 3 4 3 5"},
		{"endings from the beginning", "- - [1,:| [2", "0 1 2 0 1 3"},
		{"ending without a sign is played through", "- [1 [2 -", "0 1 2 3"},
		{"equal neighbouring endings", "|: [1,:| [1 [2", "0 1 0 3"},
		{"ending two alone", "- [2 -", "0 1 2"},
		{"ending one forgotten", "- [2 [3 -", "0 1 2 3"},
		{"times beyond the endings", "|: [1+2+3,:| [4", "0 1 0 1 0 1 0 2"},

		{"da capo", "- - DC", "0 1 2 0 1 2"},
		{"da capo al fine", "- F - DCF", "0 1 2 3 0 1"},
		{"da capo with a fine", "- F - DC", "0 1 2 3 0 1"},
		{"da capo al coda", "- T - DCC C -", "0 1 2 3 0 1 4 5"},
		{"da capo with a coda", "- T - DC C -", "0 1 2 3 0 1 4 5"},
		{"al coda passes fine", "- F T DCC C", "0 1 2 3 0 1 2 4"},
		{"al fine passes to coda", "- T F DCF C", "0 1 2 3 0 1 2"},
		{"fine in the coda", "- T DCC C F -", "0 1 2 0 1 3 4"},
		{"dal segno", "- S - DS -", "0 1 2 3 1 2 3 4"},
		{"dal segno al fine", "- S F - DSF", "0 1 2 3 4 1 2"},
		{"dal segno al coda", "- S T - DSC C -", "0 1 2 3 4 1 2 5 6"},
		{"segno and jump in one bar", "- S,DS -", "0 1 1 2"},
		{"the nearest segno before", "S - S DS", "0 1 2 3 2 3"},
		{"the next coda", "C T - DCC C", "0 1 2 3 0 1 4"},
		{"fine at the very jump", "- - F,DCF -", "0 1 2 0 1 2"},

		{"repeats are not taken again", "|: :| F DCF", "0 1 0 1 2 3 0 1 2"},
		{"the last ending after a jump", "|: [1,:| [2 F DCF", "0 1 0 2 3 4 0 2 3"},
		{"the last of three after a jump", "|: [1,:| [2,:| [3 DC", "0 1 0 2 0 3 4 0 3 4"},
		{"jump at a repeat end", "- F -,:|,DCF", "0 1 2 0 1 2 0 1"},
		{"repeat in the coda", "- T DCC C :|,x3 -", "0 1 2 0 1 3 4 3 4 3 4 5"},
		{"endings in the coda", "- T DCC C [1,:| [2", "0 1 2 0 1 3 4 3 5"},
		{"endings before and in the coda", "|: [1,:| [2,T DCC |:,C [1,:| [2", "0 1 0 2 3 0 2 4 5 4 6"},
		{"two jumps", "- DC - DC", "0 1 0 1 2 3 0 1 2 3"},

		{"segno missing", "- - DS -", "0 1 2 3"},
		{"segno only later", "- DS S -", "0 1 2 3"},
		{"coda missing", "- T - DCC -", "0 1 2 3 0 1 2 3 4"},
		{"coda before the jump only", "C T - DCC", "0 1 2 3 0 1 2 3"},
		{"fine missing", "- DCF -", "0 1 0 1 2"},
		{"fine without a jump", "- F -", "0 1 2"},
		{"to coda without a jump", "- T - C", "0 1 2 3"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			order, cut := unroll(marked(tt.bars))
			if got := strings.Trim(fmt.Sprint(order), "[]"); got != tt.want || cut {
				t.Errorf("bars %s\n got %s (cut %v)\nwant %s", tt.bars, got, cut, tt.want)
			}
		})
	}
}

func TestUnrollStopsAtTheLimit(t *testing.T) {
	order, cut := unroll(marked("|: :|,x1000000"))
	if !cut || len(order) != maxPlayedBars {
		t.Errorf("played %d bars, cut %v; want %d, true", len(order), cut, maxPlayedBars)
	}
}

func TestUnrollIgnoresAnEmptyEnding(t *testing.T) {
	bars := marked("- -")
	bars[0].Ending = []int{}
	if order, _ := unroll(bars); len(order) != 2 {
		t.Errorf("played %v, want both bars", order)
	}
}

// anyBars draws bars with any marks at all.
func anyBars(t *rapid.T) []project.Bar {
	marks := []string{"|:", ":|", "x3", "[1", "1", "[2", "2", "[1+2", "S", "C", "F", "T", "DC", "DCF", "DCC", "DS", "DSF", "DSC"}
	fields := make([]string, rapid.IntRange(1, 10).Draw(t, "bars"))
	for i := range fields {
		fields[i] = "-"
		if rapid.Bool().Draw(t, "marked") {
			drawn := rapid.SliceOfNDistinct(rapid.SampledFrom(marks), 1, 3, rapid.ID[string]).Draw(t, "marks")
			fields[i] = strings.Join(drawn, ",")
		}
	}
	spec := strings.Join(fields, " ")
	t.Log(spec)
	return marked(spec)
}

// However the marks are mixed, playing ends, starts at the first bar and
// stays inside the chart.
func TestUnrollEndsForAnyMarks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bars := anyBars(t)
		order, cut := unroll(bars)
		if cut {
			t.Fatalf("played %d bars without an end", len(order))
		}
		if len(order) == 0 {
			t.Fatal("nothing is played")
		}
		for _, i := range order {
			if i < 0 || i >= len(bars) {
				t.Fatalf("bar %d of %d", i, len(bars))
			}
		}
	})
}

// Without endings and jumps every bar is played, and each step goes forward
// by one bar or back from a repeat end.
func TestUnrollOfRepeatsPlaysEveryBar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bars := anyBars(t)
		for i := range bars {
			bars[i].Ending, bars[i].EndingStart, bars[i].Jump = nil, false, project.NoJump
		}
		order, _ := unroll(bars)
		seen := map[int]bool{}
		for k, i := range order {
			seen[i] = true
			if k > 0 && i != order[k-1]+1 && !(bars[order[k-1]].RepeatEnd && i <= order[k-1]) {
				t.Fatalf("bar %d follows bar %d in %v", i, order[k-1], order)
			}
		}
		if len(seen) != len(bars) {
			t.Fatalf("played %d of %d bars: %v", len(seen), len(bars), order)
		}
	})
}
