package session

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// InsertBars inserts as many empty bars as are selected, before them.
func (s *Session) InsertBars() error {
	from, to := s.BarSpan()
	count := 1
	if s.sel.HasBars() {
		count = to - from
	}
	return s.doThen(project.InsertBars{At: from, Count: count}, func() {
		start := s.Chart().BarStart(from)
		s.sel = Selection{Caret: start, Anchor: start, Bars: [2]int{from, from + count}}
	})
}

// AppendBars adds four empty bars at the end.
func (s *Session) AppendBars() error {
	caret := s.sel
	return s.doThen(project.InsertBars{At: len(s.Chart().Bars), Count: 4}, func() { s.sel = caret })
}

// CanRemoveBars reports whether a bar would remain.
func (s *Session) CanRemoveBars() bool {
	from, to := s.BarSpan()
	return to-from < len(s.Chart().Bars)
}

// RemoveBars removes the bars the selection touches.
func (s *Session) RemoveBars() error {
	from, to := s.BarSpan()
	return s.doThen(project.RemoveBars{First: from, End: to}, func() {
		c := s.Chart()
		start := c.BarStart(min(from, len(c.Bars)-1))
		s.sel = Selection{Caret: start, Anchor: start}
	})
}

// Bar returns the bar at the caret or the first selected one.
func (s *Session) Bar() (index int, b project.Bar) {
	from, _ := s.BarSpan()
	return from, s.Chart().Bars[from]
}

// changeBars edits each bar of a range as one undoable step.
func (s *Session) changeBars(name string, from, to int, change func(*project.Bar)) error {
	var edits []project.Edit
	for i := from; i < to; i++ {
		b := s.Chart().Bars[i]
		b.Ending = slices.Clone(b.Ending)
		change(&b)
		edits = append(edits, project.SetBar{Index: i, Bar: b})
	}
	return s.Do(sequence{name, edits})
}

// ToggleRepeatStart sets or clears the repeat sign at the start of the first
// selected bar.
func (s *Session) ToggleRepeatStart() error {
	from, _ := s.BarSpan()
	return s.changeBars("repeat start", from, from+1, func(b *project.Bar) { b.RepeatStart = !b.RepeatStart })
}

// ToggleRepeatEnd sets or clears the repeat sign at the end of the last
// selected bar.
func (s *Session) ToggleRepeatEnd() error {
	_, to := s.BarSpan()
	return s.changeBars("repeat end", to-1, to, func(b *project.Bar) {
		b.RepeatEnd = !b.RepeatEnd
		b.Times = 0
	})
}

// SetEnding marks the selected bars as played in the given passes only, as in
// "1" or "1, 2"; blank takes the mark away.
func (s *Session) SetEnding(text string) error {
	passes, err := readPasses(text)
	if err != nil {
		return s.fail(err)
	}
	from, to := s.BarSpan()
	first := true
	return s.changeBars("ending", from, to, func(b *project.Bar) {
		b.Ending, b.EndingStart = slices.Clone(passes), first && passes != nil
		first = false
	})
}

func readPasses(text string) ([]int, error) {
	var passes []int
	for _, field := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == '.' }) {
		n, err := strconv.Atoi(field)
		if err != nil || n < 1 || n > project.MaxTimes {
			return nil, fmt.Errorf("ending %q: write the passes that play it, such as 1 or 1, 2", text)
		}
		passes = append(passes, n)
	}
	slices.Sort(passes)
	return slices.Compact(passes), nil
}

// SetSection writes the section label over the first selected bar.
func (s *Session) SetSection(label string) error {
	from, _ := s.BarSpan()
	label = project.OneLine(label, project.MaxLabel)
	return s.changeBars("section label", from, from+1, func(b *project.Bar) { b.Section = label })
}

// SetMeter changes the meter from the first selected bar up to the next change
// of meter, or of the selected bars when whole bars are selected.
func (s *Session) SetMeter(m project.Meter) error {
	if !m.IsValid() {
		return s.fail(fmt.Errorf("meter %s: write beats and a unit such as 3/4 or 12/8, or groups of beats as in 2+3/4", m))
	}
	from, to := s.meterSpan()
	return s.changeBars("meter", from, to, func(b *project.Bar) {
		if b.Length == b.Meter.Length() {
			b.Length = m.Length()
		}
		b.Meter = m
	})
}

func (s *Session) meterSpan() (from, to int) {
	from, to = s.BarSpan()
	if s.sel.HasBars() {
		return from, to
	}
	bars := s.Chart().Bars
	to = from + 1
	for to < len(bars) && bars[to].Meter == bars[from].Meter {
		to++
	}
	return from, to
}

// ReadMeter reads "3/4" and "2+3/4".
func ReadMeter(text string) (project.Meter, error) {
	m, err := project.ParseMeter(strings.ReplaceAll(text, " ", ""))
	if err != nil {
		return project.Meter{}, fmt.Errorf("meter %q: write beats and a unit such as 3/4 or 12/8, or groups of beats as in 2+3/4", text)
	}
	return m, nil
}

// SetKey changes the key from the first selected bar on.
func (s *Session) SetKey(k theory.Key) error {
	from, _ := s.BarSpan()
	if from == 0 {
		return s.Do(project.SetKey{Key: k})
	}
	return s.changeBars("key", from, from+1, func(b *project.Bar) { b.Key = k })
}

// SetTempo changes the tempo from the first selected bar on and the swing of
// the chart.
func (s *Session) SetTempo(tempo, swing float64) error {
	from, _ := s.BarSpan()
	var edits []project.Edit
	if from == 0 {
		edits = append(edits, project.SetTempo{Tempo: tempo})
	} else {
		b := s.Chart().Bars[from]
		b.Tempo = tempo
		edits = append(edits, project.SetBar{Index: from, Bar: b})
	}
	return s.Do(sequence{"tempo", append(edits, project.SetSwing{Swing: swing})})
}

// SetSwing sets where the off-beat eighth falls in the whole chart: 0.5 is
// straight, 2/3 a triplet.
func (s *Session) SetSwing(v float64) error {
	caret := s.sel
	return s.doThen(project.SetSwing{Swing: v}, func() { s.sel = caret })
}

// StepSwing moves the off-beat eighth by hundredths of the beat.
func (s *Session) StepSwing(hundredths int) error {
	v := (math.Round(100*s.Chart().Swing) + float64(hundredths)) / 100
	if v < project.MinSwing || v > project.MaxSwing {
		return s.fail(fmt.Errorf("the off-beat eighth falls between %.0f and %.0f %% of the beat", 100*project.MinSwing, 100*project.MaxSwing))
	}
	return s.ChooseSwing(v)
}

// ChooseSwing is SetSwing and says how long the first eighth is to the second then.
func (s *Session) ChooseSwing(v float64) error {
	err := s.SetSwing(v)
	if err == nil {
		s.Say(swingRatio(v))
	}
	return err
}

// CanStepSwing reports whether StepSwing has room.
func (s *Session) CanStepSwing(hundredths int) bool {
	v := math.Round(100*s.Chart().Swing) + float64(hundredths)
	return v >= 100*project.MinSwing && v <= 100*project.MaxSwing
}

// swingRatio says how long the first eighth of a beat is to the second.
func swingRatio(v float64) string {
	if math.Round(100*v) <= 50 {
		return "Eighths are straight."
	}
	return fmt.Sprintf("Eighths swing: %.0f %%, long to short as %.3g to 1.", 100*v, math.Round(10*v/(1-v))/10)
}

// SetHead changes title, composer and console in one step.
func (s *Session) SetHead(title, composer, console string) error {
	return s.Do(sequence{"title", []project.Edit{
		project.SetTitle{Title: title}, project.SetComposer{Composer: composer}, project.SetConsole{Console: console},
	}})
}

// Transpose moves the whole chart so that it starts in the given key, by the
// smaller way; octaves moves it further.
func (s *Session) Transpose(to theory.Key, octaves int) error {
	i, err := s.Chart().IntervalTo(to)
	if err != nil {
		return err
	}
	for range abs(octaves) {
		if octaves > 0 {
			i = i.Plus(theory.Octave)
		} else {
			i = i.Plus(theory.Octave.Invert())
		}
	}
	before := s.Chart().Key
	if err := s.Do(transpose{i}); err != nil || s.Chart().Key == before {
		return err
	}
	s.Say(fmt.Sprintf("The chart is in %s now.", s.Chart().Key))
	return nil
}

// transpose is the edit that moves a whole chart.
type transpose struct{ by theory.Interval }

// Name is what a menu shows after "Undo".
func (transpose) Name() string { return "transpose" }

// Apply moves every note, chord, key and pin.
func (e transpose) Apply(c *project.Chart) (*project.Chart, error) { return c.Transpose(e.by) }
