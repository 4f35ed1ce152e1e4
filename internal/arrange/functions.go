package arrange

import "organbook/internal/theory"

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
	// services are the families that serve the span, best first.
	services []theory.Service
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
	// key is the key the chord is heard in, which a modulation changes.
	key theory.Key
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
// performance, -1 for none. An ending that repeats goes back to the repeat
// sign, a jump to its sign or the beginning; the last chord goes back to the
// first, as a form goes round. A repeat without endings and a way to the coda
// have two successors: the next chord on the page counts, as the eye reads it.
// Repetitions of the same root are skipped by follow, not here.
func successors(s *stage, spans []Span) []int {
	next := make([]int, len(spans))
	for i := range spans {
		next[i] = i + 1
	}
	if len(spans) > 0 {
		next[len(spans)-1] = -1
	}
	back := 0
	for b := range s.chart.Bars {
		bar := &s.chart.Bars[b]
		if bar.RepeatStart {
			back = b
		}
		to := s.goesTo(b, back)
		if to < 0 {
			continue
		}
		last := spanAt(spans, s.rule.BarStart(b+1)-1)
		if spans[last].End <= s.rule.BarStart(b+1) {
			next[last] = spanAt(spans, s.rule.BarStart(to))
		}
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
//
// The last chord of a chart goes round to the first.
func resolution(spans []Span, next []int, i int) int {
	c := spans[i].Chord
	for range maxDetours {
		j := follow(spans, next, i)
		if j < 0 {
			return 0
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

// roleOf reads the span from its own chord and the one that follows.
func roleOf(s *stage, spans []Span, next []int, i int) role {
	c := spans[i].Chord
	if !playable(c) {
		return roleNone
	}
	var to theory.Chord
	j := follow(spans, next, i)
	if isDominant(c) {
		j = resolution(spans, next, i)
	}
	if j >= 0 && playable(spans[j].Chord) {
		to = spans[j].Chord
	}
	key := s.keyAt(spans[i].Start)
	switch {
	case isDominant(c) && turnsMinor(spans, next, i):
		return roleBlues
	case isDominant(c) || dominantTriad(c, to, key):
		if prepared(spans, next, i) && playable(to) && rise(c, to) == 5 {
			return roleFive
		}
		return dominantRole(c, to, key)
	case isDiminished(c):
		if theory.Resolves(c, to) {
			return roleLeadingDim
		}
		return roleDim
	case isTonicInDisguise(c, key):
		return roleStay
	case couldBeTwo(c):
		if to.IsValid() && preparesDominant(s, spans, next, j, c) {
			return roleTwo
		}
	}
	if key.IsValid() && c.Root().PC() == key.Tonic().PC() && !isHalfDiminished(c) {
		return roleTonic
	}
	return roleStay
}

// turnsMinor reports whether a dominant becomes the minor two on its own root, as
// in Bb7, Bbm7, Eb7: it rests on its natural ninth first. One with an altered
// ninth or fifth, or that turns half-diminished, still leads on past the two.
func turnsMinor(spans []Span, next []int, i int) bool {
	c, j := spans[i].Chord, follow(spans, next, i)
	altered := c.Has(9, -1) || c.Has(9, 1) || c.Has(5, 1) || c.Has(13, -1)
	return j >= 0 && !altered && sameRoot(c, spans[j].Chord) && isMinorSeventh(spans[j].Chord)
}

// dominantTriad reports whether a plain major triad works as a dominant: only
// on its way to a minor chord a fifth below, where its third is a leading note.
func dominantTriad(c, to theory.Chord, key theory.Key) bool {
	return isMajorTriad(c) && playable(to) && rise(c, to) == 5 && isMinor(to) &&
		!(key.IsValid() && key.Mode() == theory.Major && c.Root().PC() == key.Tonic().PC())
}

// isDeceptive reports whether c is the key's own dominant moving to something
// else that is no dominant, as in V to iii or vi, or breaking off before N.C.:
// it still sounds as the dominant of the tonic.
func isDeceptive(c, to theory.Chord, key theory.Key) bool {
	return key.IsValid() && c.Root().PC() == key.Tonic().Transpose(theory.PerfectFifth).PC() &&
		!falls(c, to) && !isDominant(to) && !sameRoot(c, to)
}

// tonicOf returns the plain tonic chord of a key.
func tonicOf(key theory.Key) theory.Chord {
	kind := theory.KindMajorSixth
	if key.Mode() == theory.Minor {
		kind = theory.KindMinorSixth
	}
	c, err := theory.NewChord(key.Tonic(), kind, nil, theory.Name{})
	if err != nil {
		return theory.Chord{}
	}
	return c
}

// isTonicInDisguise reports whether a half-diminished chord on the sixth degree
// of a minor key is the tonic minor sixth over its own sixth: Em7b5 is Gm6
// over E.
func isTonicInDisguise(c theory.Chord, key theory.Key) bool {
	return isHalfDiminished(c) && key.IsValid() && key.Mode() == theory.Minor &&
		(c.Root().PC()-key.Tonic().PC()+12)%12 == 9
}

// prepared reports whether the chord before span i is the two of its dominant.
func prepared(spans []Span, next []int, i int) bool {
	return i > 0 && next[i-1] == i && couldBeTwo(spans[i-1].Chord) && rise(spans[i-1].Chord, spans[i].Chord) == 5
}

func dominantRole(c, to theory.Chord, key theory.Key) role {
	if isDeceptive(c, to, key) {
		return roleFive
	}
	if !playable(to) {
		return roleBlues
	}
	tonic := key.IsValid() && c.Root().PC() == key.Tonic().PC()
	switch rise(c, to) {
	case 5:
		if tonic && isDominant(to) {
			return roleBlues // I7 to IV7 of a blues rests on both
		}
		return roleFive
	case 11:
		if tonic {
			return roleBlues
		}
		return roleSub
	case 2:
		if isMajor(to) && key.IsValid() && to.Root().PC() == key.Tonic().PC() {
			return roleBackdoor
		}
	}
	return roleBlues
}

// preparesDominant reports whether the chord of span j is the dominant (or its
// tritone substitute) that c, a minor or half-diminished chord, leads to.
func preparesDominant(s *stage, spans []Span, next []int, j int, c theory.Chord) bool {
	to := spans[j].Chord
	five := isDominant(to)
	if !five && isMajorTriad(to) {
		if k := follow(spans, next, j); k >= 0 {
			five = dominantTriad(to, spans[k].Chord, s.keyAt(spans[j].Start)) || isMajorTriad(to) && rise(to, spans[k].Chord) == 5 && playable(spans[k].Chord)
		}
	}
	if !five {
		return false
	}
	key := s.keyAt(spans[j].Start)
	if key.IsValid() && c.Root().PC() == key.Tonic().PC() && !c.HasAny(7) {
		return false // a tonic triad before its fourth degree stays a tonic
	}
	up := rise(c, to)
	return up == 5 || up == 11
}

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
		if key := s.keyAt(spans[i].Start); r.role == roleFive && isDeceptive(c, r.goal, key) {
			r.goal = tonicOf(key)
		}
		spans[i].Target = r.goal
	case roleTwo:
		spans[i].Target = spans[j].Chord
		r.goal = goalOfTwo(s, spans, next, j)
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
	c := spans[i].Chord
	r.services = servicesOf(s, spans, r, i)
	r.heard = c
	if r.playedAsFive(s, spans[i].Start) {
		r.heard = spans[i].Target
	}
	r.tones = r.heard.Tones()
	r.guides, r.colours = guidesOf(r.heard), coloursOf(r.heard)
	if r.role == roleFive {
		r.guides = guidesOf(asSeventh(r.heard)) // a plain triad works as a seventh
	}
	r.otherMode = otherModeOf(r)
	r.otherModeAsked = i > 0 && isHalfDiminished(spans[i-1].Chord)
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
