package arrange

import (
	"cmp"
	"slices"

	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// player collects the notes of a realisation and what the player of them
// should know.
type player struct {
	*stage
	notes    []Note
	findings []Finding
}

// play hands every step to the hands and adds comp and bass. No two of the
// notes it returns hold the same key of the same division at the same time.
func (s *stage) play() ([]Note, []Finding) {
	p := &player{stage: s, notes: make([]Note, 0, 6*len(s.steps)+2*len(s.spans))}
	for i := range s.steps {
		p.playStep(i)
	}
	p.comp()
	p.bass()
	slices.SortStableFunc(p.notes, func(a, b Note) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.Division, b.Division), cmp.Compare(b.Key, a.Key))
	})
	slices.SortStableFunc(p.findings, func(a, b Finding) int { return cmp.Compare(a.Start, b.Start) })
	return p.notes, p.findings
}

// playStep gives the voices of step i to the hands its passage plans for: its
// block, and the later blocks of a held note.
func (p *player) playStep(i int) {
	step := &p.steps[i]
	first := len(p.notes)
	p.playBlock(i, step.Start, step.Length(), step.Voices)
	for _, m := range step.Moves {
		from := len(p.notes)
		p.playBlock(i, m.Start, m.Duration, m.Voices)
		p.notes = holdOver(p.notes, first, from)
	}
}

// playBlock gives one block of step i to the hands.
func (p *player) playBlock(i int, start, duration project.Ticks, voices []theory.Pitch) {
	keys := keysOfBlock(voices)
	g := shareFree(p.passageAt(p.steps[i].Start).Plan, p.gauge.Free(reach.RightHand), p.gauge.Free(reach.LeftHand), keys)
	left := pick(voices, g.left)
	if g.double > 0 {
		left = p.withDouble(i, left)
	}
	p.playHand(i, RightHand, start, duration, pick(voices, g.right))
	p.playHand(i, LeftHand, start, duration, left)
}

// holdOver joins each of the notes from index from on, a new block under a held
// lead, to the note of the same key and limb that ends where it starts: what two
// blocks share is held, not struck again. The notes of the step begin at first.
func holdOver(notes []Note, first, from int) []Note {
	kept := from
	for k := from; k < len(notes); k++ {
		n := notes[k]
		if before := endingIn(notes[first:from], &n); before != nil {
			before.Duration += n.Duration
			continue
		}
		notes[kept] = n
		kept++
	}
	return notes[:kept]
}

func endingIn(notes []Note, n *Note) *Note {
	for i := range notes {
		if b := &notes[i]; b.Key == n.Key && b.Limb == n.Limb && b.Start+b.Duration == n.Start {
			return b
		}
	}
	return nil
}

// withDouble puts the lead an octave lower on top of the left hand's voices,
// where the manual has the key.
func (p *player) withDouble(i int, left []theory.Pitch) []theory.Pitch {
	low := octaveBelow(p.steps[i].Lead)
	if !low.IsValid() || !p.console.Upper.Has(low.Key()) {
		p.find(p.steps[i].Start, LeftHand, Caution, phrase.Of("the lead an octave lower, %s, is below the upper manual and is left out", p.steps[i].Lead.Name()),
			phrase.Of("move the lead up an octave"), phrase.Of("plan two hands for the block"))
		return left
	}
	return append([]theory.Pitch{low}, left...)
}

// playHand adds one hand's keys, listed from the highest down.
func (p *player) playHand(i int, limb Limb, start, duration project.Ticks, hand []theory.Pitch) {
	step := &p.steps[i]
	for _, v := range hand {
		p.notes = append(p.notes, Note{
			Start: start, Duration: duration, Key: v.Key(), Division: Upper, Limb: limb,
			Layer: layerOf(step, limb, v), Step: i, Pitch: v,
		})
	}
}

func layerOf(step *Step, limb Limb, v theory.Pitch) Layer {
	switch {
	case v.Key() == step.Lead.Key():
		return LayerLead
	case limb == LeftHand && v.Key() == step.Lead.Key()-12:
		return LayerDouble
	}
	return LayerBlock
}

func keysOfBlock(voices []theory.Pitch) []int16 {
	out := make([]int16, len(voices))
	for i, v := range voices {
		out[i] = int16(v.Key())
	}
	return out
}

func pick(voices []theory.Pitch, at []int) []theory.Pitch {
	out := make([]theory.Pitch, 0, len(at)+1)
	for _, i := range at {
		out = append(out, voices[i])
	}
	return out
}

// stretch is a part of a span that lies in one passage.
type stretch struct {
	start, end project.Ticks
	span       int
	passage    *passage
}

// stretches cuts the sounding spans at the passages' borders: what comp and
// bass have to fill. Upbeats and N.C. are left out.
func (s *stage) stretches() []stretch {
	var out []stretch
	for i := range s.spans {
		if s.readings[i].upbeat || !playable(s.spans[i].Chord) {
			continue
		}
		for at := s.spans[i].Start; at < s.spans[i].End; {
			p := s.passageAt(at)
			to := s.spans[i].End
			if p.end > at {
				to = min(to, p.end)
			}
			out = append(out, stretch{at, to, i, p})
			at = to
		}
	}
	return out
}
