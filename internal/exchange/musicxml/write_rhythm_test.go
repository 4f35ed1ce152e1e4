package musicxml

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"organbook/internal/project"

	"pgregory.net/rapid"
)

// valueLetters abbreviate note values in these tests.
var valueLetters = map[string]string{
	"long": "L", "breve": "B", "whole": "w", "half": "h", "quarter": "q", "eighth": "e",
	"16th": "s", "32nd": "t", "64th": "x", "128th": "o", "": "?",
}

// rhythmText writes the spans of consecutive stretches: values with dots,
// the parts of one stretch joined by a tie, brackets with their ratio.
func rhythmText(spans []span, places []project.Ticks) string {
	var b strings.Builder
	for i, s := range spans {
		if i > 0 && slices.Contains(places, s.from) {
			b.WriteString(" ")
		} else if i > 0 {
			b.WriteString("~")
		}
		if s.tuplet != nil && (i == 0 || spans[i-1].tuplet != s.tuplet) {
			fmt.Fprintf(&b, "%d:%d[", s.tuplet.actual, s.tuplet.normal)
		}
		b.WriteString(valueLetters[s.value.name])
		if s.value.dotted {
			b.WriteString(".")
		}
		if s.tuplet != nil && (i+1 == len(spans) || spans[i+1].tuplet != s.tuplet) {
			b.WriteString("]")
		}
	}
	return b.String()
}

// placesOf returns the borders of stretches of the given lengths, and the end
// of the bar.
func placesOf(length project.Ticks, lengths ...project.Ticks) []project.Ticks {
	out := []project.Ticks{0}
	for _, l := range lengths {
		out = append(out, out[len(out)-1]+l)
	}
	if last := out[len(out)-1]; last < length {
		out = append(out, length)
	}
	return out
}

func TestRhythms(t *testing.T) {
	type ticks = []project.Ticks
	common, waltz, six := project.CommonTime, project.Meter{Beats: 3, Unit: 4}, project.Meter{Beats: 6, Unit: 8}
	tests := []struct {
		name    string
		meter   project.Meter
		lengths ticks
		want    string
	}{
		{"whole bar", common, ticks{4 * q}, "w"},
		{"quarters", common, ticks{q, q, q, q}, "q q q q"},
		{"dotted half", common, ticks{3 * q, q}, "h. q"},
		{"dotted half from the second beat", common, ticks{q, 3 * q}, "q h."},
		{"a long note shows the middle of the bar", common, ticks{5 * q / 2, 3 * q / 2}, "h~e q."},
		{"off-beat quarter", common, ticks{q / 2, q, q / 2, 2 * q}, "e q e h"},
		{"off-beat quarter over the middle", common, ticks{3 * q / 2, q, 3 * q / 2}, "q. e~e q."},
		{"half in the middle", common, ticks{q, 2 * q, q}, "q h q"},
		{"anticipation held on", common, ticks{3 * q / 2, 5 * q / 2}, "q. e~h"},
		{"dotted eighth", common, ticks{3 * q / 4, q / 4, 3 * q}, "e. s h."},
		{"off-beat sixteenths", common, ticks{q / 4, q / 2, q / 4, 3 * q}, "s e s h."},
		{"five sixteenths", common, ticks{5 * q / 4, 11 * q / 4}, "q~s e.~h"},
		{"seven eighths", common, ticks{7 * q / 2, q / 2}, "h~q. e"},
		{"waltz bar", waltz, ticks{3 * q}, "h."},
		{"half on the second beat of a waltz", waltz, ticks{q, 2 * q}, "q h"},
		{"compound bar", six, ticks{3 * q}, "h."},
		{"compound beats", six, ticks{3 * q / 2, 3 * q / 2}, "q. q."},
		{"over the middle of a compound bar", six, ticks{q, q, q}, "q e~e q"},
		{"two in a compound beat", six, ticks{3 * q / 4, 3 * q / 4, 3 * q / 2}, "e. e. q."},
		{"128th", common, ticks{q / 32, 127 * q / 32}, "o x.~t~s~e~q~h"},

		{"triplet", common, ticks{q / 3, q / 3, q / 3, 3 * q}, "3:2[e e e] h."},
		{"quarter and eighth", common, ticks{2 * q / 3, q / 3, 3 * q}, "3:2[q e] h."},
		{"triplet of quarters", common, ticks{2 * q / 3, 2 * q / 3, 2 * q / 3, 2 * q}, "3:2[q q q] h"},
		{"triplet of quarters in the middle", common, ticks{q, 2 * q / 3, 2 * q / 3, 2 * q / 3, q}, "q 3:2[q q q] q"},
		{"triplet of halves", common, ticks{4 * q / 3, 4 * q / 3, 4 * q / 3}, "3:2[h h h]"},
		{"end of a triplet held on", common, ticks{q / 3, 11 * q / 3}, "3:2[e q]~h."},
		{"held into a triplet", common, ticks{4 * q / 3, 2 * q / 3, 2 * q}, "3:2[h q] h"},
		{"two triplets", common, ticks{q / 3, 2 * q / 3, 2 * q / 3, q / 3, 2 * q}, "3:2[e q] 3:2[q e] h"},
		{"tied over the beat between triplets", common, ticks{2 * q / 3, 2 * q / 3, 2 * q / 3, 2 * q}, "3:2[q q q] h"},
		{"sixteenths in a triplet", common, ticks{q / 3, q / 6, q / 6, q / 3, 3 * q}, "3:2[e s s e] h."},
		{"sextuplet", common, ticks{q / 6, q / 6, q / 6, q / 6, q / 6, q / 6, 3 * q}, "6:4[s s s s s s] h."},
		{"quintuplet", common, ticks{q / 5, q / 5, q / 5, q / 5, q / 5, 3 * q}, "5:4[s s s s s] h."},
		{"septuplet", common, ticks{q / 7, 2 * q / 7, 4 * q / 7, 3 * q}, "7:4[s e q] h."},
		{"nonuplet", common, ticks{q / 9, 8 * q / 9, 3 * q}, "9:8[t q] h."},
		{"triplet after an eighth", common, ticks{q / 2, q / 6, q / 6, q / 6, 3 * q}, "e 3:2[s s s] h."},
		{"three and five", common, ticks{q / 3, 2 * q / 3, q / 5, 4 * q / 5, 2 * q}, "3:2[e q] 5:4[s q] h"},
		{"triplet in a compound beat", six, ticks{q / 6, q / 6, q / 6, q, 3 * q / 2}, "3:2[s s s] q q."},
		{"no value and no bracket", common, ticks{q / 11, q - q/11, 3 * q}, "?~"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := newGrid(tt.meter, tt.meter.Length(), 0)
			p := placesOf(g.length, tt.lengths...)
			got := rhythmText(g.spans(p), p)
			if tt.want == "?~" {
				if !strings.Contains(got, "?") {
					t.Errorf("got %s, want a note without a value", got)
				}
				return
			}
			if got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

func TestPickupCountsFromItsEnd(t *testing.T) {
	g := newGrid(project.CommonTime, 3*q/2, 5*q/2)
	p := []project.Ticks{0, 3 * q / 2}
	if got := rhythmText(g.spans(p), p); got != "q." {
		t.Errorf("got %s, want q. (on the last off-beat of three)", got)
	}
	p = []project.Ticks{0, q / 2, q/2 + q/3, q/2 + 2*q/3, 3 * q / 2}
	if got := rhythmText(g.spans(p), p); got != "e 3:2[e e e]" {
		t.Errorf("got %s, want e 3:2[e e e]", got)
	}
}

// Whatever the places, the spans tile the bar, break at every place, and each
// written value lasts as long as its span, inside whole brackets.
func TestSpansTileTheBar(t *testing.T) {
	meters := []project.Meter{{Beats: 4, Unit: 4}, {Beats: 3, Unit: 4}, {Beats: 6, Unit: 8}, {Beats: 5, Unit: 4}, {Beats: 2, Unit: 2}, {Beats: 64, Unit: 1}, {Beats: 1, Unit: 128}, {Beats: 9, Unit: 128}}
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(meters).Draw(t, "meter")
		length := m.Length()
		if rapid.Bool().Draw(t, "odd length") {
			length = project.Ticks(rapid.IntRange(1, int(2*m.Length())).Draw(t, "length"))
		}
		units := []project.Ticks{1, q / 32, q / 2, q / 3, q / 5, q / 7, q / 9, q}
		p := []project.Ticks{0, length}
		for range rapid.IntRange(0, 8).Draw(t, "places") {
			u := rapid.SampledFrom(units).Draw(t, "unit")
			p = append(p, u*project.Ticks(rapid.IntRange(0, int(length/u)).Draw(t, "place")))
		}
		slices.Sort(p)
		p = slices.Compact(p)
		g := newGrid(m, length, max(0, m.Length()-length))
		spans := g.spans(p)
		checkTiles(t, spans, p, length)
		for _, s := range spans {
			checkValue(t, s)
		}
	})
}

func checkTiles(t *rapid.T, spans []span, places []project.Ticks, length project.Ticks) {
	at := project.Ticks(0)
	starts := map[project.Ticks]bool{length: true}
	for _, s := range spans {
		if s.from != at || s.to <= s.from {
			t.Fatalf("a span runs from %d to %d, want it to start at %d", s.from, s.to, at)
		}
		starts[s.from] = true
		at = s.to
	}
	if at != length {
		t.Fatalf("the spans end at %d of %d", at, length)
	}
	for _, p := range places {
		if !starts[p] {
			t.Fatalf("no span starts at %d in %v", p, spans)
		}
	}
}

func checkValue(t *rapid.T, s span) {
	long := s.value.ticks
	if s.value.dotted {
		long += long / 2
	}
	length := s.to - s.from
	if s.tuplet != nil {
		if s.from < s.tuplet.from || s.to > s.tuplet.to {
			t.Fatalf("span %v leaves its bracket %v", s, *s.tuplet)
		}
		long = long * project.Ticks(s.tuplet.normal)
		length = length * project.Ticks(s.tuplet.actual)
	}
	if s.value.name != "" && long != length {
		t.Fatalf("a %s (dotted %v) lasts %d in %+v", s.value.name, s.value.dotted, length, s.tuplet)
	}
	if s.value.name == "" && s.tuplet == nil && s.from%finest == 0 && s.to%finest == 0 && (s.to-s.from) == finest {
		t.Fatalf("no value for %v", s)
	}
}

// Beats divided into two to nine, with any notes tied together, can always be
// written with values and brackets.
func TestDividedBeatsHaveValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		beats := rapid.IntRange(1, 7).Draw(t, "beats")
		length := q * project.Ticks(beats)
		p := []project.Ticks{0}
		for b := range project.Ticks(beats) {
			n := project.Ticks(rapid.IntRange(1, 9).Draw(t, "division"))
			for k := range n {
				if rapid.Bool().Draw(t, "attack") {
					p = append(p, b*q+k*q/n)
				}
			}
		}
		p = slices.Compact(append(p, length))
		g := newGrid(project.Meter{Beats: beats, Unit: 4}, length, 0)
		for _, s := range g.spans(p) {
			if s.value.name == "" {
				t.Fatalf("no value from %d to %d, places %v", s.from, s.to, p)
			}
			checkValue(t, s)
		}
	})
}
