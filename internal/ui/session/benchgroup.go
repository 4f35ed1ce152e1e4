package session

import (
	"fmt"
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/words"
)

// MaxGroup is how many selected notes the bench weighs at once.
const MaxGroup = 400

// Manner is one way to play all selected notes, such as each in drop 2.
type Manner struct {
	// Name is what the notes have in common.
	Name string
	// Blocks are the blocks of the notes that have one of this manner, nil for
	// the others; one an entry of the selection.
	Blocks []*arrange.Block
	// Can counts those that have one, and Differ those of them whose keys would
	// change.
	Can, Differ int
}

// group is the bench's list of manners for a selection and the place in it.
type group struct {
	steps []int
	list  []Manner
	at    int
}

// InGroup reports whether the bench shows several notes at once.
func (s *Session) InGroup() bool { return len(s.sel.Notes) > 1 }

// Group returns the steps of the selected notes, the ways to play them all that
// the bench's filter lets through, and the one that was walked to. With more
// than MaxGroup notes the list is empty.
func (s *Session) Group() (steps []int, list []Manner, at int) {
	if !s.InGroup() {
		return nil, nil, 0
	}
	if s.grouped == nil {
		s.grouped = s.newGroup(s.SelectedIndexes())
	}
	return s.grouped.steps, s.grouped.list, s.grouped.at
}

func (s *Session) newGroup(steps []int) *group {
	g := &group{steps: steps}
	if len(steps) <= MaxGroup {
		g.list = s.manners(steps)
	}
	return g
}

// manners lists the ways to play several notes: as they are, by voicing and by
// technique, each note with its cheapest block of the kind, and every note with
// its next best block.
func (s *Session) manners(steps []int) []Manner {
	offers := s.real.AlternativesOf(steps)
	now := Manner{Name: "as they are"}
	for _, i := range steps {
		now.Blocks = append(now.Blocks, &s.real.Steps[i].Block)
	}
	now.Can = len(steps)
	list := []Manner{now}
	add := func(name string, fits func(i int, a arrange.Alternative) bool) {
		if m := s.manner(name, steps, offers, fits); m.Can > 0 {
			list = append(list, m)
		}
	}
	for _, v := range Voicings {
		if !s.filter.InVoicing || s.filter.Voicing == v {
			add(words.Voicing(v), func(_ int, a arrange.Alternative) bool { return a.Voicing == v })
		}
	}
	for t := theory.Home; t <= theory.Diatonic; t++ {
		add(words.Technique(t), func(i int, a arrange.Alternative) bool { return a.Technique == t && a.Voicing == s.usualVoicing(i) })
	}
	return append(list, s.nextBest(steps, offers))
}

// usualVoicing is what the passage of step i is voiced in.
func (s *Session) usualVoicing(i int) theory.Voicing {
	c := s.Chart()
	return c.Passages[c.PassageAt(s.real.Steps[i].Bar)].Treatment.Voicing
}

// manner gives each note its cheapest block that fits; a note that has such a
// block already keeps it.
func (s *Session) manner(name string, steps []int, offers [][]arrange.Alternative, fits func(i int, a arrange.Alternative) bool) Manner {
	m := Manner{Name: name, Blocks: make([]*arrange.Block, len(steps))}
	for k, i := range steps {
		now := s.real.Steps[i].Block
		at := slices.IndexFunc(offers[k], func(a arrange.Alternative) bool { return fits(i, a) && s.lets(s.filter, a.Block) })
		switch {
		case fits(i, arrange.Alternative{Block: now}) && s.lets(s.filter, now):
			m.set(k, &s.real.Steps[i].Block, now)
		case at >= 0:
			m.set(k, &offers[k][at].Block, now)
		}
	}
	return m
}

// set gives note k a block in place of the one it has now.
func (m *Manner) set(k int, b *arrange.Block, now arrange.Block) {
	m.Blocks[k] = b
	m.Can++
	if !sameVoices(*b, now) {
		m.Differ++
	}
}

// nextBest gives each note the first listed block that is not its own.
func (s *Session) nextBest(steps []int, offers [][]arrange.Alternative) Manner {
	m := Manner{Name: "each note's next best", Blocks: make([]*arrange.Block, len(steps))}
	for k, i := range steps {
		now := s.real.Steps[i].Block
		at := slices.IndexFunc(offers[k], func(a arrange.Alternative) bool { return !sameVoices(a.Block, now) && s.lets(s.filter, a.Block) })
		if at >= 0 {
			m.set(k, &offers[k][at].Block, now)
		}
	}
	return m
}

// First returns the first block of a manner that would change the chart, or its
// first block at all, with its place in the selection.
func (s *Session) First(m Manner) (block arrange.Block, k int, ok bool) {
	steps, _, _ := s.Group()
	first := -1
	for k, b := range m.Blocks {
		if b == nil {
			continue
		}
		if first < 0 {
			first = k
		}
		if !sameVoices(*b, s.real.Steps[steps[k]].Block) {
			return *b, k, true
		}
	}
	if first < 0 {
		return arrange.Block{}, 0, false
	}
	return *m.Blocks[first], first, true
}

// PickManner goes to a way to play the selected notes and sounds its first
// block.
func (s *Session) PickManner(i int) {
	if _, list, _ := s.Group(); i < 0 || i >= len(list) {
		return
	}
	s.grouped.at = i
	if b, _, ok := s.First(s.grouped.list[i]); ok {
		s.hearBlock(b)
	}
	s.notify(SelectionChanged)
}

// picked returns the manner that was walked to.
func (s *Session) picked() (Manner, bool) {
	_, list, at := s.Group()
	if at >= len(list) {
		return Manner{}, false
	}
	return list[at], true
}

// pinGroup pins a part of each block of the manner that was walked to, as one
// edit.
func (s *Session) pinGroup(pin func(arrange.Block) project.SetPin) error {
	m, ok := s.picked()
	if !ok {
		return s.fail(fmt.Errorf("select at most %d notes to pin them at once", MaxGroup))
	}
	sel := s.sel
	if err := s.doThen(sequence{"pin notes", s.pinsOf(m, pin)}, func() { s.sel = sel }); err != nil {
		return err
	}
	s.Say(fmt.Sprintf("Pinned %d of %d notes: %s.", m.Can, len(m.Blocks), m.Name))
	return nil
}

func (s *Session) pinsOf(m Manner, pin func(arrange.Block) project.SetPin) (edits []project.Edit) {
	steps, _, _ := s.Group()
	for k, b := range m.Blocks {
		if b != nil {
			e := pin(*b)
			e.Start = s.real.Steps[steps[k]].Start
			edits = append(edits, e)
		}
	}
	return edits
}

// unpinGroup takes the pins of the selected notes out.
func (s *Session) unpinGroup() error {
	var edits []project.Edit
	for _, i := range s.SelectedIndexes() {
		if s.real.Steps[i].Pinned {
			edits = append(edits, project.ClearPin{Start: s.real.Steps[i].Start})
		}
	}
	sel := s.sel
	return s.doThen(sequence{"clear pins", edits}, func() { s.sel = sel })
}

// hearGroup loops the bars of the selected notes and plays the manner that was
// walked to and what is there in turn, a pass each, the manner first. The chart
// stays as it is.
func (s *Session) hearGroup() error {
	m, ok := s.picked()
	if !ok {
		return nil
	}
	s.Stop()
	chart, err := sequence{"", s.pinsOf(m, blockPin)}.Apply(s.Chart())
	if err != nil {
		return s.fail(err)
	}
	from, to := s.BarSpan()
	return s.compareWith(chart, [2]int{from, to}, [2]string{"as they are", m.Name}, true)
}

// blockPin pins a whole block, voicingPin only its voicing and techniquePin only
// its technique.
func blockPin(b arrange.Block) project.SetPin {
	return project.SetPin{Voicing: b.Voicing, Voices: b.Voices}
}

func voicingPin(b arrange.Block) project.SetPin {
	return project.SetPin{Strength: project.PinVoicing, Voicing: b.Voicing}
}

func techniquePin(b arrange.Block) project.SetPin {
	return project.SetPin{Strength: project.PinTechnique, Technique: b.Technique}
}
