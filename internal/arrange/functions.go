package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// The analysis of the changes. Each chord is read by what follows it: a
// dominant by the chord it falls to, a minor seventh by the dominant after it,
// everything else by its place in the key. One pass back to front finds what
// leads where, so the cost is linear in the number of changes.

// role is the function of a chord as far as the arranger cares.
type role uint8

const (
	// roleStay is a chord that leads nowhere in particular.
	roleStay role = iota
	// roleTonic is the key's first degree or the goal of a dominant.
	roleTonic
	// roleTwo prepares a dominant a fourth above it (or its tritone
	// substitute).
	roleTwo
	// roleFive is a dominant that falls a fifth to its target.
	roleFive
	// roleSub is a dominant that falls a semitone: a tritone substitute.
	roleSub
	// roleBackdoor is a dominant that rises a tone to a major target.
	roleBackdoor
	// roleSus is a chord over the dominant's root, as F/G or Dm7/G before C: the
	// dominant with its fourth suspended.
	roleSus
	// roleBlues is a dominant that does not resolve.
	roleBlues
	// roleLeadingDim is a diminished chord that rises a semitone.
	roleLeadingDim
	// roleDim is any other diminished chord.
	roleDim
	// roleNone is N.C. or no chord at all.
	roleNone
)

// reading is what the analysis knows of a span beyond what Span shows.
type reading struct {
	role role
	// goal is the chord a two, five, substitute or leading diminished finally
	// resolves to; not valid otherwise.
	goal theory.Chord
	// services are the families that serve the span, best first, and served is
	// what they follow from.
	services []theory.Service
	served   servedKey
	// otherMode is the target's family in its other mode, for a dominant that
	// falls a fifth, and otherModeAsked reports that a half-diminished two has
	// promised minor before a major target.
	otherMode      theory.Service
	otherModeAsked bool
	// heard is the chord the blocks stand for: the span's own, or the dominant
	// where a two is played as five.
	heard theory.Chord
	// guides are the chord's third (or what is suspended in its place) and its
	// seventh or sixth; colours its written tensions and altered fifths; tones
	// all it holds. They are kept here so that each is worked out once a span.
	guides, colours, tones []theory.Name
	// against holds the notes that quarrel with what the symbol spells out, and
	// asked the altered tensions and fifths it asks for.
	against, asked theory.PCSet
	// key is the key the chord is heard in, which a modulation changes.
	key theory.Key
	// open reports a long dominant on its way to a chord with a major third: it has
	// time to rest on its natural ninth first. turns is where its last half bar
	// begins, in which it leads on.
	open  bool
	turns project.Ticks
	// line reports that the chord's seventh is a note of a line inside a minor
	// chord, as in Dm Dm(maj7) Dm7 Dm6: it is what the symbols are written for.
	line bool
	// pedal reports that the chord moves over a bass that stays.
	pedal bool
	// upbeat marks the stretch before the first change, where melody takes
	// the first chord but bass and comp are silent.
	upbeat bool
}

// moves reports whether the span is a dominant on its way to a goal.
func (r *reading) moves() bool {
	return r.role == roleFive || r.role == roleSub || r.role == roleBackdoor
}

// analyse cuts the chart into spans and reads each.
func analyse(s *stage) ([]Span, []reading) {
	spans, readings := cutSpans(s)
	next := successors(s, spans)
	for i := len(spans) - 1; i >= 0; i-- {
		readings[i].role = roleOf(s, spans, next, i)
	}
	for i := range spans {
		readings[i].seekGoal(s, spans, next, i)
	}
	modulate(s, spans, readings)
	pedals(spans, readings)
	for i := range spans {
		readings[i].settle(s, spans, i)
	}
	for i := range spans {
		spans[i].describe(s, spans, readings, next, i)
	}
	return spans, readings
}

// cutSpans makes one span a change. Melody before the first change takes the
// first chord, so an upbeat gets a span of its own with that chord.
func cutSpans(s *stage) ([]Span, []reading) {
	changes, end := s.chart.Changes, s.rule.Length()
	if len(changes) == 0 {
		return []Span{{End: end}}, []reading{{upbeat: true}}
	}
	var spans []Span
	var readings []reading
	if changes[0].Start > 0 {
		spans = append(spans, Span{End: changes[0].Start, Chord: changes[0].Chord})
		readings = append(readings, reading{upbeat: true})
	}
	for i, ch := range changes {
		to := end
		if i+1 < len(changes) {
			to = changes[i+1].Start
		}
		spans = append(spans, Span{Start: ch.Start, End: max(to, ch.Start), Chord: ch.Chord})
		readings = append(readings, reading{})
	}
	return spans, readings
}

// successors returns for each span the span whose chord follows it in
// performance, -1 for none. Where a bar may be followed by several (see flow.go)
// it is the one that the chord leads on into, and the next on the page where it
// leads into none or all of them; the last chord goes back to the first, as a form
// goes round. Repetitions of the same root are skipped by follow, not here.
func successors(s *stage, spans []Span) []int {
	next := make([]int, len(spans))
	for i := range spans {
		next[i] = i + 1
	}
	if len(spans) > 0 {
		next[len(spans)-1] = -1
	}
	for b, to := range s.flow {
		last := spanAt(spans, s.rule.BarStart(b+1)-1)
		if len(to) == 0 || spans[last].End > s.rule.BarStart(b+1) {
			continue
		}
		options := make([]int, len(to))
		for k, bar := range to {
			options[k] = spanAt(spans, s.rule.BarStart(bar))
		}
		next[last] = prefers(spans, spans[last].Chord, options)
	}
	return next
}

// follow returns the first span after i that brings another chord, skipping
// restatements of the same one (G7, then G7b9; Gm, Gm(maj7), Gm7); -1 for none.
func follow(spans []Span, next []int, i int) int {
	from := spans[i].Chord
	j := next[i]
	for hops := 0; j >= 0 && hops < len(spans); hops++ {
		c := spans[j].Chord
		if !sameRoot(c, from) || classOf(c) != classOf(from) {
			return j
		}
		j = next[j]
	}
	return -1
}

// maxDetours bounds how many twos may stand between a dominant and its goal.
const maxDetours = 4

// resolution returns the span that the dominant in span i resolves to, -1 when
// nothing follows. A two that comes between does not take the goal away:
//
//	A7 | Am7b5 D7     A7 still falls to D7
//	Eb7 | Am7b5 D7    Eb7 still falls to D7
//	G7 | Dm7b5 G7 | Cm   the first G7 still leads to Cm
//	G7 Db7 | C           G7 leads to C, as its substitute does
//
// The last chord of a chart goes round to the first.
func resolution(spans []Span, next []int, i int) int {
	c := spans[i].Chord
	for range maxDetours {
		j := follow(spans, next, i)
		if j < 0 {
			return 0
		}
		if isDominant(spans[j].Chord) && rise(c, spans[j].Chord) == 6 {
			i = j
			continue
		}
		if !couldBeTwo(spans[j].Chord) || falls(c, spans[j].Chord) {
			return j
		}
		k := follow(spans, next, j)
		switch {
		case k < 0 || !isDominant(spans[k].Chord):
			return j
		case falls(c, spans[k].Chord):
			return k
		case !sameRoot(c, spans[k].Chord):
			return j
		}
		i = k
	}
	return -1
}

// falls reports whether c's root falls to the other chord's by a fifth or a
// semitone.
func falls(c, to theory.Chord) bool {
	if !playable(to) {
		return false
	}
	up := rise(c, to)
	return up == 5 || up == 11
}

// couldBeTwo reports whether a chord is of the kind that prepares a dominant.
func couldBeTwo(c theory.Chord) bool {
	return playable(c) && (isHalfDiminished(c) || isMinorSeventh(c) || isMinor(c) && !c.HasAny(6) && !c.HasAny(7))
}

func sameRoot(a, b theory.Chord) bool {
	return !a.IsNone() && !b.IsNone() && a.Root().PC() == b.Root().PC()
}

// rise returns the semitones from one root up to another, 0 to 11.
func rise(from, to theory.Chord) int { return (to.Root().PC() - from.Root().PC() + 12) % 12 }

// seekGoal finds the goal of span i once all roles are known.
func (r *reading) seekGoal(s *stage, spans []Span, next []int, i int) {
	c := spans[i].Chord
	j := follow(spans, next, i)
	if j < 0 || r.role == roleFive || r.role == roleSub || r.role == roleBackdoor {
		j = max(0, resolution(spans, next, i))
	}
	switch r.role {
	case roleFive, roleSub, roleBackdoor, roleLeadingDim:
		r.goal = spans[j].Chord
		key := s.keyAt(spans[i].Start)
		if r.role == roleFive && isDeceptive(c, r.goal, key) || r.role == roleBackdoor && backdoorToThree(spans, next, i, key) {
			r.goal = tonicOf(key)
		}
		spans[i].Target = r.goal
	case roleTwo:
		spans[i].Target = spans[j].Chord
		r.goal = goalOfTwo(s, spans, next, j)
	case roleSus:
		spans[i].Target = spans[j].Chord
	case roleDim:
		r.goal = dimGoal(c, s.keyAt(spans[i].Start))
		spans[i].Target = spans[j].Chord
	}
}

// settle finds the families of span i and what its blocks need to know of it.
func (r *reading) settle(s *stage, spans []Span, i int) {
	if r.role == roleNone {
		return
	}
	r.heard = spans[i].Chord
	if r.playedAsFive(s, spans[i].Start) {
		r.heard = spans[i].Target
	}
	r.tones = r.heard.Tones()
	r.guides, r.colours = guidesOf(r.heard), coloursOf(r.heard)
	r.against, r.asked = againstOf(r.heard), askedOf(r.heard)
	if r.line = insideLine(spans, i) && r.heard == spans[i].Chord; r.line {
		r.asked = r.asked.With(r.guides[1].PC())
	}
	r.services = agreeing(servicesOf(s, spans, r, i), r.against)
	if r.role == roleFive {
		r.guides = guidesOf(asSeventh(r.heard)) // a plain triad works as a seventh
	}
	r.otherMode = otherModeOf(r)
	r.otherModeAsked = i > 0 && isHalfDiminished(spans[i-1].Chord)
	if r.opens(s, spans, i) {
		r.open, r.services = true, naturalFirst(r.services, r.heard)
	}
}

// goalOfTwo returns the chord that the dominant in span j resolves to; when it
// does not resolve, the chord it would, as a minor or major triad's worth is
// unknown, is not valid.
func goalOfTwo(s *stage, spans []Span, next []int, j int) theory.Chord {
	switch roleOf(s, spans, next, j) {
	case roleFive, roleSub:
		goal := spans[max(0, resolution(spans, next, j))].Chord
		if key := s.keyAt(spans[j].Start); isDeceptive(spans[j].Chord, goal, key) {
			return tonicOf(key)
		}
		return goal
	}
	return theory.Chord{}
}
