package arrange

import (
	"math/rand"

	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// Proposal is another take of a passage and how it differs from the one in use.
type Proposal struct {
	Name      string
	Treatment project.Treatment
	// Says tells what is different, with figures: "more borrowed: 9 blocks with
	// borrowed voices instead of 4".
	Says phrase.Phrase
	// Changed counts the notes of the passage whose block differs.
	Changed int
}

// leaningNames are the proposals' names.
var leaningNames = map[project.Leaning]string{
	project.LeanBorrowed: "more borrowed", project.LeanSmooth: "smoother",
	project.LeanContrary: "more contrary motion", project.LeanBright: "brighter dominants",
}

// Surprise proposes takes of a passage that lean to one taste each: more
// borrowed voices, smoother, more contrary motion, brighter dominants. Proposals
// that change no block, or keep the voicing and do not lean as they say, are left
// out. The same chart and seed give the same list;
// seed 0 keeps the passage's voicing, others choose one for each proposal.
func Surprise(c *project.Chart, passage int, o Options, seed int64) []Proposal {
	if passage < 0 || passage >= len(c.Passages) {
		return nil
	}
	rng := rand.New(rand.NewSource(seed))
	now := measure(c, passage, o)
	var out []Proposal
	for _, leaning := range project.Leanings[1:] {
		t := c.Passages[passage].Treatment
		t.Leaning = leaning
		if seed != 0 && !bareVoicing(t.Voicing) {
			t.Voicing = surprising[rng.Intn(len(surprising))]
		}
		if t == c.Passages[passage].Treatment {
			continue
		}
		d, err := (project.SetTreatment{Passage: passage, Treatment: t}).Apply(c)
		if err != nil {
			continue
		}
		then := measure(d, passage, o)
		changed := now.differs(then)
		if changed > 0 && (t.Voicing != now.voicing || now.leans(then, leaning)) {
			out = append(out, Proposal{leaningNames[leaning], t, now.says(then, leaning, t.Voicing), changed})
		}
	}
	return out
}

// surprising are the voicings a seeded proposal chooses from.
var surprising = []theory.Voicing{theory.Close, theory.Drop2, theory.Drop24, theory.DoubleLead, theory.ThreePart}

// measured is what proposals are compared by, over one passage.
type measured struct {
	voicing theory.Voicing
	steps   []Step
	// borrowed counts blocks with borrowed voices, movement the semitones inner
	// voices move, contrary the inner voices that move against the lead, and
	// bright the blocks over dominants with a natural ninth.
	borrowed, movement, contrary, bright int
}

func measure(c *project.Chart, passage int, o Options) measured {
	start, end := c.PassageTime(passage)
	r := arrangeOnly(c, o)
	m := measured{voicing: c.Passages[passage].Treatment.Voicing}
	for i := range r.Steps {
		st := &r.Steps[i]
		if st.Start < start || st.Start >= end {
			continue
		}
		m.count(st)
		m.steps = append(m.steps, *st)
	}
	return m
}

func (m *measured) count(st *Step) {
	if st.Technique == theory.Borrowed {
		m.borrowed++
	}
	if isDominant(st.Chord) && len(st.Voices) > 1 && hasPC(namesOfBlock(st.Voices), degreeName(st.Chord, degreeForm{9, 0})) {
		m.bright++
	}
	if len(m.steps) == 0 {
		return
	}
	before := &m.steps[len(m.steps)-1]
	up := st.Lead.Key() - before.Lead.Key()
	for k := 1; k < min(len(st.Voices), len(before.Voices)); k++ {
		d := st.Voices[k].Key() - before.Voices[k].Key()
		m.movement += max(d, -d)
		if d*up < 0 {
			m.contrary++
		}
	}
}

func namesOfBlock(voices []theory.Pitch) []theory.Name {
	out := make([]theory.Name, len(voices))
	for i, v := range voices {
		out[i] = v.Name()
	}
	return out
}

// differs counts the steps with other keys.
func (m *measured) differs(n measured) (count int) {
	for i := range m.steps {
		if i >= len(n.steps) || !sameKeys(m.steps[i].Voices, n.steps[i].Voices) {
			count++
		}
	}
	return count
}

func sameKeys(a, b []theory.Pitch) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].Key() != b[i].Key() {
			return false
		}
	}
	return true
}

// leans reports whether n leans further than m in the way meant.
func (m *measured) leans(n measured, leaning project.Leaning) bool {
	switch leaning {
	case project.LeanBorrowed:
		return n.borrowed > m.borrowed
	case project.LeanSmooth:
		return n.movement < m.movement
	case project.LeanContrary:
		return n.contrary > m.contrary
	case project.LeanBright:
		return n.bright > m.bright
	}
	return false
}

// says states the difference that a leaning was meant to make.
func (m *measured) says(n measured, leaning project.Leaning, v theory.Voicing) phrase.Phrase {
	var text phrase.Phrase
	switch leaning {
	case project.LeanBorrowed:
		text = phrase.Of("%d blocks with borrowed voices instead of %d", n.borrowed, m.borrowed)
	case project.LeanSmooth:
		text = phrase.Of("the inner voices move %d semitones in all instead of %d", n.movement, m.movement)
	case project.LeanContrary:
		text = phrase.Of("inner voices move against the lead %d times instead of %d", n.contrary, m.contrary)
	case project.LeanBright:
		text = phrase.Of("%d dominant blocks with a natural ninth instead of %d", n.bright, m.bright)
	}
	if v != m.voicing {
		text = phrase.Of("%s, in %s", text, voicingPhrase(v))
	}
	return phrase.Of("%s: %s", phrase.Of(leaningNames[leaning]), text)
}

// Differences counts the notes of a passage whose blocks have other keys in
// another chart with the same melody.
func Differences(c, d *project.Chart, passage int, o Options) int {
	now := measure(c, passage, o)
	return now.differs(measure(d, passage, o))
}

// arrangeOnly is Realise up to the steps: no limbs, comp, bass or cues.
func arrangeOnly(c *project.Chart, o Options) *Realisation {
	s := newStage(c, o)
	r := &Realisation{Chart: c}
	r.Spans, s.readings = analyse(s)
	s.spans = r.Spans
	s.search = newSearch(s)
	r.Steps, r.search = s.search.steps(), s.search
	return r
}
