package arrange

import (
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// remark says in a few words what sets a block apart at note i: the first
// thing an ear would notice against the block before it and the symbol.
func (q *search) remark(i int, c *candidate, first bool) phrase.Phrase {
	switch {
	case c.pinned && (q.spots[i].pin.Strength == project.PinBlock || first):
		return phrase.Of("your pin")
	case first:
		return phrase.Of("the line's choice")
	case c.n == 1:
		return phrase.Of("lead alone")
	case c.voicing == theory.Octaves:
		return phrase.Of("lead in octaves")
	case c.voicing != q.voicingOf(i):
		return phrase.Of("in %s", voicingPhrase(c.voicing))
	}
	if text := q.soundRemark(i, c); !text.IsZero() {
		return text
	}
	return q.moveRemark(i, c)
}

// soundRemark names what the block itself does.
func (q *search) soundRemark(i int, c *candidate) phrase.Phrase {
	sp := &q.spots[i]
	switch {
	case leadDissonance(sp, c) >= minorNinth:
		return phrase.Of("a minor ninth under the lead")
	case c.n > 1 && c.keys[0]-c.keys[1] == 1:
		return phrase.Of("a semitone under the lead")
	case leadDissonance(sp, c) > 0:
		return phrase.Of("a major seventh under the lead")
	case clashes(sp, c) > 0:
		return phrase.Of("against the symbol's tension")
	case c.technique == theory.Approach:
		return approachRemark(c)
	case c.origin == fromTwo:
		return phrase.Of("two voices borrowed")
	case c.technique == theory.Borrowed && hasPC(sp.guides, c.instead):
		return phrase.Of("without %s", degreeWord(sp.heard, c.instead))
	case mud(c) > 0:
		return phrase.Of("low and thick")
	}
	return phrase.Phrase{}
}

func approachRemark(c *candidate) phrase.Phrase {
	switch c.origin {
	case fromScale:
		return phrase.Of("moves along the scale")
	case fromDominant:
		return phrase.Of("the next chord's dominant")
	case fromCommonTone:
		return phrase.Of("diminished on the root")
	case fromDiminished:
		return phrase.Of("diminished under the lead")
	}
	return phrase.Of("slides in parallel")
}

// moveRemark compares the block with the one chosen for the note before.
func (q *search) moveRemark(i int, c *candidate) phrase.Phrase {
	if i == 0 || !q.spots[i].joined {
		return phrase.Phrase{}
	}
	p := &q.cands[i-1][q.chosen[i-1]]
	moved, still, leaps := 0, 0, 0
	for k := 1; k < min(p.n, c.n); k++ {
		d := distance(p.keys[k], c.keys[k])
		moved += d
		if d == 0 {
			still++
		}
		if d > distance(p.keys[0], c.keys[0])+2 {
			leaps++
		}
	}
	chosen := &q.cands[i][q.chosen[i]]
	switch {
	case still > 0 && still == c.n-1:
		return phrase.Of("the inner voices stand still")
	case leaps == 1:
		return phrase.Of("one voice leaps")
	case leaps > 1:
		return phrase.Of("voices leap")
	case moved < innerMoves(p, chosen):
		return phrase.Of("smoother from the note before")
	case moved > innerMoves(p, chosen):
		return phrase.Of("more movement from the note before")
	}
	return phrase.Of("as smooth")
}

func innerMoves(p, c *candidate) (sum int) {
	for k := 1; k < min(p.n, c.n); k++ {
		sum += distance(p.keys[k], c.keys[k])
	}
	return sum
}

// voicingPhrase is the voicing as a reader says it.
func voicingPhrase(v theory.Voicing) phrase.Phrase { return phrase.Of(voicingWord(v)) }

// voicingWord is the voicing as a reader says it.
func voicingWord(v theory.Voicing) string {
	switch v {
	case theory.Close:
		return "close position"
	case theory.Drop2:
		return "drop 2"
	case theory.Drop3:
		return "drop 3"
	case theory.Drop24:
		return "drop 2 and 4"
	case theory.DoubleLead:
		return "double lead"
	case theory.ThreePart:
		return "three parts"
	case theory.Pair:
		return "thirds and sixths"
	case theory.Spread:
		return "open position"
	}
	return v.String()
}
