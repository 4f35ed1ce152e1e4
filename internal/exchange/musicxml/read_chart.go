package musicxml

import (
	"fmt"
	"slices"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// buildChart turns a score into a chart.
func buildChart(s *score, name string, notes *notices) (*project.Chart, error) {
	melodyIndex, ok := s.melodyPart()
	if !ok {
		return nil, noNotes(s)
	}
	w := walkPart(s.parts[melodyIndex], notes)
	if len(s.parts) > 1 {
		notes.add("", "part %d of %d is the melody; the other parts are left out", melodyIndex+1, len(s.parts))
	}
	c := project.New()
	c.Title, c.Composer = s.title(name), s.composer()
	c.Bars = w.projectBars()
	c.Key = firstKey(c, w)
	starts := barStarts(c.Bars)
	c.Melody = w.melody(starts, notes)
	if len(c.Melody) == 0 { // every note lies beyond the bars that are kept
		return nil, noNotes(s)
	}
	c.Changes = s.changes(c, w, melodyIndex, starts, notes)
	c.Key = w.guessMode(c, notes)
	s.mark(c, w, melodyIndex, notes)
	c.Passages = []project.Passage{project.DefaultPassage()}
	if err := c.Check(); err != nil {
		return nil, fmt.Errorf("the score makes no sound chart: %w", err)
	}
	return c, nil
}

func noNotes(s *score) error {
	switch {
	case s.broken > 0:
		return fmt.Errorf("line %d: %w: the file breaks off or is damaged before the first one; fetch or save it again", s.broken, ErrNoNotes)
	case len(s.parts) == 0:
		return fmt.Errorf("%w: the score has no parts; export it again with its music", ErrNoNotes)
	}
	return fmt.Errorf("%w: a chart needs a melody, and no part of the score has one; choose another file", ErrNoNotes)
}

// projectBars gives each bar its meter, length and number.
func (w *walk) projectBars() []project.Bar {
	bars := make([]project.Bar, len(w.bars))
	for i, b := range w.bars {
		bars[i] = project.NewBar(b.meter)
		if length := b.length.ticks(); length > 0 {
			bars[i].Length = min(length, project.MaxBarLength)
		}
		bars[i].Unnumbered = w.unnumbered(i, bars[i])
	}
	if !slices.ContainsFunc(bars, func(b project.Bar) bool { return !b.Unnumbered }) {
		for i := range bars { // files that call every bar implicit mean nothing by it
			bars[i].Unnumbered = false
		}
	}
	return bars
}

// unnumbered tells pickups and the second halves of split bars: the file says
// so, repeats the number before, or begins with a short bar.
func (w *walk) unnumbered(i int, bar project.Bar) bool {
	b := w.bars[i]
	if b.implicit || b.number == "0" {
		return true
	}
	if i == 0 { // a pickup, unless the rest of the bar follows
		split := len(w.bars) > 1 && (w.bars[1].implicit || w.bars[1].number == b.number)
		return len(w.bars) > 1 && !split && bar.Length < bar.Meter.Length()
	}
	return b.number == w.bars[i-1].number
}

// firstKey moves the key of the first bar to the chart and marks the changes
// in the bars after it.
func firstKey(c *project.Chart, w *walk) theory.Key {
	key := w.bars[0].key
	if !key.IsValid() {
		key = theory.KeyFromFifths(0, theory.Major)
	}
	current := key
	for i := range c.Bars {
		if k := w.bars[i].key; k.IsValid() && k != current {
			c.Bars[i].Key, current = k, k
		}
	}
	return key
}

// guessMode decides between major and relative minor where the signature at the
// start leaves it open: minor, if the tune begins or ends on the minor tonic
// and does neither on the major one.
func (w *walk) guessMode(c *project.Chart, notes *notices) theory.Key {
	key := c.Key
	if len(c.Changes) == 0 || !w.bars[0].modeOpen {
		return key
	}
	minor := theory.KeyFromFifths(key.Fifths(), theory.Minor)
	found := false
	for _, chord := range []theory.Chord{c.Changes[0].Chord, c.Changes[len(c.Changes)-1].Chord} {
		found = found || chord.Root() == minor.Tonic() && chord.Quality().IsMinor()
		if chord.Root() == key.Tonic() && chord.Quality().IsMajor() {
			return key
		}
	}
	if !found {
		return key
	}
	notes.add("", "the key signature leaves the mode open; the chords say %s", minor)
	return minor
}

// barStarts returns each bar's position and, last, the end of the chart.
func barStarts(bars []project.Bar) []project.Ticks {
	starts := make([]project.Ticks, len(bars)+1)
	for i, b := range bars {
		starts[i+1] = starts[i] + b.Length
	}
	return starts
}

// changes returns the chord symbols of the melody's part or, when it has none,
// of the first part that has.
func (s *score) changes(c *project.Chart, w *walk, melodyIndex int, starts []project.Ticks, notes *notices) []project.Change {
	if len(w.harmonies) == 0 {
		i := slices.IndexFunc(s.parts, (*part).hasHarmony)
		if i < 0 {
			notes.add("", "the score has no chord symbols")
			return nil
		}
		w = walkPart(s.parts[i], newNotices())
	}
	var list []placedChange
	for _, h := range w.harmonies {
		list = w.appendChange(list, c, h, starts, notes)
	}
	slices.SortStableFunc(list, func(a, b placedChange) int { return int(a.Start - b.Start) })
	return w.oneAPosition(list, notes)
}

func (p *part) hasHarmony() bool {
	return slices.ContainsFunc(p.measures, func(m measure) bool {
		return slices.ContainsFunc(m.items, func(it item) bool { return it.harmony != nil })
	})
}

// placedChange is a chord symbol on its way into the chart.
type placedChange struct {
	project.Change
	bar       int
	alternate bool
}

func (w *walk) appendChange(list []placedChange, c *project.Chart, h placed[*harmonyItem], starts []project.Ticks, notes *notices) []placedChange {
	number := w.bars[h.bar].number
	end := starts[len(starts)-1]
	if h.bar >= len(c.Bars) {
		notes.add(number, "a chord symbol after the melody's last bar is left out")
		return list
	}
	at := starts[h.bar] + h.at.ticks()
	if at < 0 {
		notes.add(number, "a chord symbol before the first bar is moved to its start")
		at = 0
	}
	if at >= end {
		notes.add(number, "a chord symbol at the end of the last bar is left out")
		return list
	}
	chord, ok := h.item.chord(c.KeyOfBar(h.bar), number, notes)
	if !ok {
		return list
	}
	return append(list, placedChange{project.Change{Start: at, Chord: chord}, h.bar, h.item.alternate})
}

// oneAPosition keeps the last symbol of each position, explicit ones before
// alternate readings.
func (w *walk) oneAPosition(list []placedChange, notes *notices) []project.Change {
	var kept []placedChange
	for _, x := range list {
		last := len(kept) - 1
		switch {
		case last < 0 || kept[last].Start != x.Start:
			kept = append(kept, x)
		case x.alternate && !kept[last].alternate:
			notes.add(w.bars[x.bar].number, "alternate chord symbols are left out")
		default:
			if kept[last].Chord != x.Chord {
				notes.add(w.bars[x.bar].number, "of chord symbols at one place only the last is kept")
			}
			kept[last] = x
		}
	}
	if len(kept) > project.MaxChanges {
		notes.add("", "the score has %d chord symbols; the first %d are imported", len(kept), project.MaxChanges)
		kept = kept[:project.MaxChanges]
	}
	changes := make([]project.Change, len(kept))
	for i, x := range kept {
		changes[i] = x.Change
	}
	return changes
}
