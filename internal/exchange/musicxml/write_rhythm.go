package musicxml

import (
	"slices"

	"organbook/internal/project"
)

// Rhythm is written in two steps. A bar of one voice arrives as consecutive
// stretches, each a note, a chord or a rest. First the places that lie between
// the finest note values are gathered into tuplets: within a run of beats that
// holds such places, those brackets are sought that need the fewest notes.
// Then each stretch is cut into note values at the strongest beats it crosses.
// The parts of a stretch are tied.

// span is one written note length in a bar.
type span struct {
	from, to project.Ticks
	value    written
	tuplet   *tuplet
}

// tuplet is a bracket: actual notes in the time of normal ones.
type tuplet struct {
	from, to       project.Ticks
	actual, normal int64
}

// normals gives the normal number of each bracket we write. Six is for six
// equal notes; other sixths are written as triplets.
var normals = map[project.Ticks]int64{3: 2, 5: 4, 6: 4, 7: 4, 9: 8, 15: 8}

// spans cuts the bar at the given places, which ascend from 0 to the length of
// the bar, and writes each stretch between them. The result tiles the bar.
func (g *grid) spans(places []project.Ticks) []span {
	var out []span
	for i := 0; i+1 < len(places); {
		j := i + 1
		for j+1 < len(places) && (places[j]+g.origin)%g.beat != 0 {
			j++
		}
		run := places[i : j+1]
		out = append(out, g.join(g.tile(run), run)...)
		i = j
	}
	return out
}

// tile is a part of a run of beats: under a bracket, or plain.
type tile struct {
	from, to project.Ticks
	tuplet   *tuplet
	// odd marks a part whose places no bracket explains.
	odd bool
}

// The cost of writing a run: above all every note has a value, then there are
// few notes, few of them under brackets, and few brackets.
const (
	bracketCost = 1
	underCost   = 100
	noteCost    = 100 * underCost
	oddCost     = 1000 * noteCost
)

func (g *grid) cost(tiles []tile, places []project.Ticks) (cost int) {
	for _, t := range tiles {
		if t.tuplet != nil {
			cost += bracketCost
		}
	}
	for _, s := range g.join(tiles, places) {
		cost += noteCost
		if s.tuplet != nil {
			cost += underCost
		}
		if s.value.name == "" {
			cost += oddCost
		}
	}
	return cost
}

// tile covers places[0] to the last place with brackets and plain parts at
// the least cost: it compares one bracket over all with the best tiles of the
// two parts around the middle.
func (g *grid) tile(places []project.Ticks) []tile {
	whole := tile{from: places[0], to: places[len(places)-1]}
	if !slices.ContainsFunc(places, func(t project.Ticks) bool { return t%finest != 0 }) {
		return []tile{whole}
	}
	whole.tuplet, whole.odd = g.bracket(places)
	best := []tile{whole}
	middle, ok := g.middle(whole.from, whole.to)
	if !ok {
		return best
	}
	left, right := divide(places, middle)
	parts := append(g.tile(left), g.tile(right)...)
	if whole.odd || g.cost(parts, places) <= g.cost(best, places) {
		return parts
	}
	return best
}

// middle returns the place between from and to that the most halvings of note
// values reach, which is where brackets end best.
func (g *grid) middle(from, to project.Ticks) (project.Ticks, bool) {
	for u := 4 * project.Whole; u >= finest; u /= 2 {
		if t := (from+g.origin)/u*u + u - g.origin; t < to {
			return t, true
		}
	}
	return 0, false
}

// divide cuts ascending places at a place, which ends the first part and
// starts the second.
func divide(places []project.Ticks, at project.Ticks) (left, right []project.Ticks) {
	i, found := slices.BinarySearch(places, at)
	left = append(slices.Clone(places[:i]), at)
	right = []project.Ticks{at}
	if found {
		i++
	}
	return left, append(right, places[i:]...)
}

// bracket returns the tuplet over the whole of places, when one fits: over a
// plain note value that starts on its half, with all places on its division.
// odd is set when none does.
func (g *grid) bracket(places []project.Ticks) (t *tuplet, odd bool) {
	from, to := places[0], places[len(places)-1]
	length := to - from
	w, ok := valueOf(length)
	if !ok || w.dotted || (from+g.origin)%(length/2) != 0 {
		return nil, true
	}
	parts := project.Ticks(1)
	for _, t := range places {
		parts = commonMultiple(parts, length/commonDivisor(t-from, length))
	}
	for parts%2 == 0 && !(parts == 6 && len(places) == 7) {
		parts /= 2
	}
	normal, ok := normals[parts]
	if !ok {
		return nil, true
	}
	t = &tuplet{from, to, int64(parts), normal}
	if slices.ContainsFunc(t.spans(places), func(s span) bool { return s.value.name == "" }) {
		return nil, true
	}
	return t, false
}

// spans writes the stretches under the bracket, longest values first.
func (t *tuplet) spans(places []project.Ticks) (out []span) {
	actual, normal := project.Ticks(t.actual), project.Ticks(t.normal)
	for i := 0; i+1 < len(places); i++ {
		for from := places[i]; from < places[i+1]; {
			rest := (places[i+1] - from) * actual
			w, length, ok := largestValue(rest / normal)
			if !ok || rest%normal != 0 || length*normal%actual != 0 {
				out = append(out, span{from, places[i+1], written{}, t})
				break
			}
			to := from + length*normal/actual
			out = append(out, span{from, to, w, t})
			from = to
		}
	}
	return out
}

// join writes out the tiles of a region. Neighbouring plain tiles are one, so
// that a note is cut only where it must be.
func (g *grid) join(tiles []tile, places []project.Ticks) (out []span) {
	for i := 0; i < len(tiles); i++ {
		t := tiles[i]
		for t.plain() && i+1 < len(tiles) && tiles[i+1].plain() {
			i++
			t.to = tiles[i].to
		}
		cut := within(places, t.from, t.to)
		switch {
		case t.tuplet != nil:
			out = append(out, t.tuplet.spans(cut)...)
		case t.odd:
			for k := 0; k+1 < len(cut); k++ {
				out = append(out, span{cut[k], cut[k+1], written{}, nil})
			}
		default:
			for k := 0; k+1 < len(cut); k++ {
				out = append(out, g.split(cut[k], cut[k+1])...)
			}
		}
	}
	return out
}

func (t tile) plain() bool { return t.tuplet == nil && !t.odd }

// within returns from, the places strictly between, and to.
func within(places []project.Ticks, from, to project.Ticks) []project.Ticks {
	out := []project.Ticks{from}
	for _, t := range places {
		if t > from && t < to {
			out = append(out, t)
		}
	}
	return append(out, to)
}

func commonDivisor(a, b project.Ticks) project.Ticks {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func commonMultiple(a, b project.Ticks) project.Ticks { return a / commonDivisor(a, b) * b }
