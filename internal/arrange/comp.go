package arrange

import (
	"slices"
	"sort"

	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// The left hand comps with shells: the guide notes of each chord and one
// tension, held for as long as the chord lasts. Which inversion and octave
// each shell takes is the cheapest path through all that lie in the comping
// range, so the voices lead smoothly.

// The comping range on the lower manual, in MIDI keys: E3 up to A4, where a
// shell is clear of mud and mostly under the lead.
const (
	compLowest  = 50
	compHighest = 69
	compMiddle  = 58
)

// Costs of the comp, 1 for a voice moving by a semitone.
const (
	// compNoTension is the cost of a bare shell.
	compNoTension = 4
	// compRub is the cost of a semitone inside a shell.
	compRub = 5
	// compWide is the cost of each semitone beyond an octave.
	compWide = 3
)

// shell is one way to place a comping chord, from the highest key down.
type shell struct {
	pitches []theory.Pitch
	cost    int
}

// comp adds the left hand's comping wherever the plan asks for it.
func (p *player) comp() {
	var parts []stretch
	for _, st := range p.stretches() {
		if st.passage.Plan == project.SoloOverComp {
			if st.start = max(st.start, p.leftFreeFrom(st)); st.start < st.end {
				parts = append(parts, st)
			}
		}
	}
	if len(parts) > 0 && !p.bothHandsFree() {
		p.find(parts[0].start, LeftHand, Caution, phrase.Of("one hand is not free, so the comp is not played"), phrase.Of("free both hands"))
		return
	}
	for i, sh := range p.leadShells(parts) {
		p.playShell(parts[i], sh)
	}
}

// bothHandsFree reports whether one hand can comp while the other has the block.
func (p *player) bothHandsFree() bool {
	return p.gauge.Free(reach.RightHand) && p.gauge.Free(reach.LeftHand)
}

// leftFreeFrom returns when the left hand is done with the passage before: a
// melody note may sound over the border.
func (p *player) leftFreeFrom(st stretch) project.Ticks {
	i := sort.Search(len(p.steps), func(i int) bool { return p.steps[i].Start >= st.passage.start }) - 1
	if i < 0 || p.passageAt(p.steps[i].Start).Plan == project.SoloOverComp {
		return 0
	}
	return p.steps[i].Start + p.steps[i].Duration
}

func (p *player) playShell(st stretch, sh shell) {
	for _, v := range sh.pitches {
		p.notes = append(p.notes, Note{
			Start: st.start, Duration: st.end - st.start, Key: v.Key(), Division: Lower, Limb: LeftHand,
			Layer: LayerComp, Step: -1, Pitch: v,
		})
	}
}

// leadShells finds the cheapest path through the shells of all stretches.
func (p *player) leadShells(parts []stretch) []shell {
	if len(parts) == 0 {
		return nil
	}
	choices := make([][]shell, len(parts))
	costs := make([][]int, len(parts))
	from := make([][]int, len(parts))
	for i, st := range parts {
		choices[i] = p.shells(st)
		costs[i] = make([]int, len(choices[i]))
		from[i] = make([]int, len(choices[i]))
		for k, sh := range choices[i] {
			costs[i][k] = sh.cost
			if i > 0 {
				prev, cost := cheapestShell(sh, choices[i-1], costs[i-1])
				from[i][k], costs[i][k] = prev, sh.cost+cost
			}
		}
	}
	out := make([]shell, len(parts))
	at := argmin(costs[len(parts)-1])
	for i := len(parts) - 1; i >= 0; i-- {
		out[i] = choices[i][at]
		at = from[i][at]
	}
	return out
}

func cheapestShell(sh shell, before []shell, costs []int) (best, cost int) {
	for k, prev := range before {
		if total := costs[k] + shellMove(prev, sh); k == 0 || total < cost {
			best, cost = k, total
		}
	}
	return best, cost
}

// shellMove sums how far each note is from its nearest neighbour before.
func shellMove(a, b shell) (cost int) {
	for _, v := range b.pitches {
		nearest := 24
		for _, u := range a.pitches {
			nearest = min(nearest, distance(int16(u.Key()), int16(v.Key())))
		}
		cost += nearest
	}
	return cost
}

// shells lists the shells of a stretch: every close inversion of the guide
// notes, alone and with each tension the melody allows, that fits the range.
// There is always at least one.
func (p *player) shells(st stretch) []shell {
	r := &p.readings[st.span]
	base := shellNotes(p.spans[st.span].Chord, r)
	sets := [][]theory.Name{base}
	for _, t := range p.tensionsFor(st, r) {
		if !hasPC(base, t) {
			sets = append(sets, append(slices.Clone(base), t))
		}
	}
	low, high := p.compRange()
	var out []shell
	for _, set := range sets {
		for top := high; top > high-12; top-- {
			out = appendShell(out, set, top, low)
		}
	}
	if len(out) == 0 {
		out = append(out, shell{pitches: theory.Stack(pitchBelow(base[0], high), base[1:]...)})
	}
	return out
}

// shellNotes returns the guide notes, filled up from the chord to two.
func shellNotes(c theory.Chord, r *reading) []theory.Name {
	base := slices.Clone(r.guides)
	for _, n := range append(slices.Clone(r.tones[1:]), c.Root()) {
		if len(base) < 2 && !hasPC(base, n) {
			base = append(base, n)
		}
	}
	return base
}

// compRange fits the comping range onto the lower manual.
func (p *player) compRange() (low, high int) {
	k := p.console.Lower
	high = min(compHighest, k.Highest)
	low = max(compLowest, k.Lowest)
	if high-low < 17 {
		low = max(high-17, k.Lowest)
	}
	return low, high
}

// appendShell adds the close inversion of set with its top note on key top,
// if that key is one of the set's and all of it lies in the range.
func appendShell(out []shell, set []theory.Name, top, low int) []shell {
	for _, n := range set {
		if n.PC() != top%12 {
			continue
		}
		pitches := theory.Stack(theory.PitchAt(n, top), set...)
		if len(pitches) == len(set) && pitches[len(pitches)-1].Key() >= low {
			out = append(out, shell{pitches, shellCost(pitches)})
		}
	}
	return out
}

func shellCost(pitches []theory.Pitch) int {
	top, bottom := pitches[0].Key(), pitches[len(pitches)-1].Key()
	cost := distance(int16((top+bottom)/2), compMiddle)
	cost += compWide * max(0, top-bottom-12)
	for k := 1; k < len(pitches); k++ {
		if pitches[k-1].Key()-pitches[k].Key() == 1 {
			cost += compRub
		}
	}
	if len(pitches) < 3 {
		cost += compNoTension
	}
	return cost
}

// pitchBelow returns n at its highest place not above key.
func pitchBelow(n theory.Name, key int) theory.Pitch {
	return theory.PitchAt(n, key-(key-n.PC()+120)%12)
}

// tensionsFor lists the notes that may colour the shell of a stretch: the
// symbol's own tensions, or else what its function asks for. A tension a
// semitone from a melody note of the stretch is left out.
func (p *player) tensionsFor(st stretch, r *reading) []theory.Name {
	c := p.spans[st.span].Chord
	wanted := r.colours
	if len(wanted) == 0 {
		wanted = usualTensions(c, r)
	}
	var out []theory.Name
	for _, t := range wanted {
		if !p.rubsMelody(st, t) {
			out = append(out, t)
		}
	}
	return out
}

// usualTensions are the colours a comping hand adds unasked.
func usualTensions(c theory.Chord, r *reading) []theory.Name {
	forms := []degreeForm{{5, 0}}
	switch {
	case isHalfDiminished(c):
		forms = []degreeForm{{5, -1}, {11, 0}}
	case isDiminished(c):
		forms = []degreeForm{{5, -1}}
	case isDominant(c) && r.role == roleFive && isMinor(r.goal):
		forms = []degreeForm{{9, -1}, {13, -1}}
	case isDominant(c), isMinorSeventh(c):
		forms = []degreeForm{{9, 0}, {5, 0}}
	case c.HasAny(6), c.HasAny(7):
		forms = []degreeForm{{9, 0}, {5, 0}}
	}
	var out []theory.Name
	for _, d := range forms {
		out = append(out, degreeName(c, d))
	}
	return out
}

// rubsMelody reports whether the lead sounds a semitone from n at any time in
// the stretch.
func (p *player) rubsMelody(st stretch, n theory.Name) bool {
	for i := p.firstStepIn(st.start); i < len(p.steps) && p.steps[i].Start < st.end; i++ {
		switch (p.steps[i].Lead.Name().PC() - n.PC() + 12) % 12 {
		case 1, 11:
			return true
		}
	}
	return false
}

// firstStepIn returns the first step that sounds at t or starts after it.
func (p *player) firstStepIn(t project.Ticks) int {
	i, _ := slices.BinarySearchFunc(p.steps, t, func(s Step, t project.Ticks) int {
		if s.Start+s.Duration <= t {
			return -1
		}
		return 1
	})
	return i
}
