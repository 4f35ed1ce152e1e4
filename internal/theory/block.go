package theory

import (
	"cmp"
	"slices"
)

// A block is a list of pitches from the lead down. The functions here make
// close blocks, in which every voice lies within the octave under the lead;
// Voicing.Spread opens them.

// Stack puts the given names under lead, each at its nearest place below, and
// returns the close block from the lead down. Names that share the lead's
// pitch class are left out, and so is any voice below MinKey.
func Stack(lead Pitch, names ...Name) []Pitch {
	block := make([]Pitch, 1, len(names)+1)
	block[0] = lead
	for _, n := range names {
		down := mod(lead.Name().PC()-n.PC(), 12)
		if down == 0 {
			continue
		}
		if p := PitchAt(n, lead.Key()-down); p.IsValid() {
			block = append(block, p)
		}
	}
	sortDown(block)
	return block
}

// Block returns the family's own close block under lead: the home chord when
// the lead is one of its notes, the away chord when it is one of those. ok is
// false when the lead is not on the family's scale.
func (f Family) Block(lead Pitch) (voices []Pitch, t Technique, ok bool) {
	step, ok := f.StepOf(lead.Name().PC())
	if !ok {
		return nil, Alone, false
	}
	names := f.alternate(step % 2)
	return Stack(lead, names[:]...), Technique(step % 2), true
}

// Borrowing is a block of one of the family's chords in which a single voice
// was replaced by a neighbouring note of the other chord.
type Borrowing struct {
	Voices []Pitch
	// Chord is the chord that lends the other voices: Home or Away.
	Chord Technique
	// Note is the borrowed note and Instead the one that gave way to it.
	Note, Instead Name
	// Also and AlsoInstead are the same for a second borrowed voice; not valid
	// where only one was borrowed.
	Also, AlsoInstead Name
}

// BorrowLead puts the lead on the family's other chord (away under a home
// note, home under an away note), once in place of each of its two neighbours,
// the lower one first. It returns nothing for a lead off the scale.
//
// In the minor family on F, A♭ in place of G gives E A♭ B♭ D♭: C7♭9♯5.
func (f Family) BorrowLead(lead Pitch) []Borrowing {
	step, ok := f.StepOf(lead.Name().PC())
	if !ok {
		return nil
	}
	scale := f.Scale()
	other := f.alternate(1 - step%2)
	var out []Borrowing
	for _, neighbour := range [2]int{(step + 7) % 8, (step + 1) % 8} {
		out = append(out, Borrowing{
			Voices:  Stack(lead, without(other[:], scale[neighbour])...),
			Chord:   Technique(1 - step%2),
			Note:    scale[step],
			Instead: scale[neighbour],
		})
	}
	return out
}

// BorrowTwo returns the blocks with two voices from the family's other chord:
// the lead borrowed onto it with one of the voices under the lead moved to a
// neighbouring step as well, and the lead's own chord with two inner voices
// moved. No two voices share a pitch class.
func (f Family) BorrowTwo(lead Pitch) []Borrowing {
	var out []Borrowing
	for _, b := range f.BorrowLead(lead) {
		out = f.alsoInner(out, lead, b)
	}
	singles := f.BorrowInner(lead)
	for i, b := range singles {
		for _, c := range singles[i+1:] {
			if b.Instead != c.Instead && b.Note != c.Note {
				names := without(without(namesOf(b.Voices[1:]), c.Instead), c.Note)
				out = appendTwo(out, lead, append(names, c.Note), b, c.Note, c.Instead)
			}
		}
	}
	return out
}

// alsoInner appends the blocks in which one more voice of a block with a
// borrowed lead moves to a neighbouring step.
func (f Family) alsoInner(out []Borrowing, lead Pitch, b Borrowing) []Borrowing {
	scale := f.Scale()
	for _, v := range b.Voices[1:] {
		step, _ := f.StepOf(v.Name().PC())
		for _, neighbour := range [2]int{(step + 7) % 8, (step + 1) % 8} {
			note := scale[neighbour]
			if note == b.Note || containsPC(namesOf(b.Voices), note) {
				continue
			}
			names := append(without(namesOf(b.Voices[1:]), v.Name()), note)
			out = appendTwo(out, lead, names, b, note, scale[step])
		}
	}
	return out
}

// appendTwo stacks a block with two borrowed voices and keeps it when no voice
// was lost to a doubling.
func appendTwo(out []Borrowing, lead Pitch, names []Name, b Borrowing, also, alsoInstead Name) []Borrowing {
	voices := Stack(lead, names...)
	if len(voices) < len(b.Voices) {
		return out
	}
	b.Voices, b.Also, b.AlsoInstead = voices, also, alsoInstead
	return append(out, b)
}

// BorrowInner returns the family's own block under lead with one voice below
// the lead moved to a neighbouring step, for each voice and neighbour. Steps
// whose pitch is in the block already are left out.
func (f Family) BorrowInner(lead Pitch) []Borrowing {
	voices, own, ok := f.Block(lead)
	if !ok {
		return nil
	}
	scale := f.Scale()
	var out []Borrowing
	for _, v := range voices[1:] {
		step, _ := f.StepOf(v.Name().PC())
		for _, neighbour := range [2]int{(step + 7) % 8, (step + 1) % 8} {
			note := scale[neighbour]
			names := append(without(namesOf(voices[1:]), scale[step]), note)
			out = append(out, Borrowing{Voices: Stack(lead, names...), Chord: own, Note: note, Instead: scale[step]})
		}
	}
	return out
}

// Slide moves every voice of a block by the same interval, as a parallel
// approach does. It returns nil when a voice would leave the MIDI keys.
func Slide(block []Pitch, by Interval) []Pitch {
	out := make([]Pitch, len(block))
	for i, p := range block {
		if out[i] = p.Transpose(by); !out[i].IsValid() {
			return nil
		}
	}
	return out
}

// Between returns the spelled interval from p to q, negative when q is lower.
func Between(p, q Pitch) Interval {
	return NewInterval(q.Diatonic()-p.Diatonic(), q.Key()-p.Key())
}

func namesOf(block []Pitch) []Name {
	names := make([]Name, len(block))
	for i, p := range block {
		names[i] = p.Name()
	}
	return names
}

func without(names []Name, gone Name) []Name {
	out := make([]Name, 0, len(names))
	for _, n := range names {
		if n.PC() != gone.PC() {
			out = append(out, n)
		}
	}
	return out
}

// sortDown orders a block from the highest key to the lowest; pitches on the
// same key keep their order.
func sortDown(block []Pitch) {
	slices.SortStableFunc(block, func(a, b Pitch) int { return cmp.Compare(b.Key(), a.Key()) })
}
