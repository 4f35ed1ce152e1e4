package session

import (
	"errors"
	"strings"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// ChordAtCaret reports whether a chord symbol stands exactly at the caret.
func (s *Session) ChordAtCaret() bool {
	_, ok := s.Chart().ChangeStarting(s.sel.Caret)
	return ok
}

// ChordText returns the symbol written exactly at t, "" when there is none.
func (s *Session) ChordText(t project.Ticks) string {
	if i, ok := s.Chart().ChangeStarting(t); ok {
		return s.Chart().Changes[i].Chord.String()
	}
	return ""
}

// Reading is what a typed chord symbol means, or what is wrong with it.
type Reading struct {
	Chord theory.Chord
	// Means is one line: the tones and the families that serve the chord.
	Means string
	// Error is a sentence, "" when the symbol can be read; At is the character
	// it is about, counted from 0.
	Error string
	At    int
}

// ReadChord explains a symbol as it is being typed. Blank text reads as no
// symbol: no chord and no error.
func ReadChord(text string) Reading {
	text = strings.TrimSpace(text)
	if text == "" {
		return Reading{Means: "empty takes the symbol away"}
	}
	chord, err := theory.ParseChord(text)
	if err != nil {
		r := Reading{Error: Sentence(err)}
		var ce *theory.ChordError
		if errors.As(err, &ce) {
			r.Error, r.At = Sentence(errors.New(ce.Problem())), ce.At
		}
		return r
	}
	return Reading{Chord: chord, Means: meaning(chord)}
}

func meaning(c theory.Chord) string {
	if c.IsNone() {
		return "no chord: the melody alone"
	}
	var tones []string
	for _, n := range c.Tones() {
		tones = append(tones, n.Pretty())
	}
	text := c.Pretty() + ": " + strings.Join(tones, " ")
	if c.HasSlash() {
		text += " over " + c.Bass().Pretty()
	}
	var families []string
	for i, f := range theory.Serve(c) {
		if i == 2 {
			break
		}
		families = append(families, f.Family.Tonic().Pretty()+" "+f.Family.Sixth().String())
	}
	if len(families) > 0 {
		text += " · family " + strings.Join(families, ", then ")
	}
	return text
}

// SetChordText writes a typed symbol at t; blank text takes away the one that
// stands there. The error keeps the text for the user to mend.
func (s *Session) SetChordText(t project.Ticks, text string) error {
	r := ReadChord(text)
	switch {
	case r.Error != "":
		return errors.New(r.Error)
	case r.Chord.IsValid():
		return s.doThen(project.SetChord{Start: t, Chord: r.Chord}, nil)
	case s.ChordText(t) == "":
		return nil
	}
	return s.Do(project.RemoveChord{Start: t})
}

// RemoveChord takes away the symbol at the caret.
func (s *Session) RemoveChord() error { return s.Do(project.RemoveChord{Start: s.sel.Caret}) }

// ChordPlace returns where a chord typed at t belongs: the change there, or
// the beat that holds t.
func (s *Session) ChordPlace(t project.Ticks) project.Ticks {
	c := s.Chart()
	t = min(max(t, 0), c.Length()-1)
	if _, ok := c.ChangeStarting(t); ok {
		return t
	}
	bar := c.BarAt(t)
	start, beat := c.BarStart(bar), c.Bars[bar].Meter.Beat()
	return start + (t-start)/beat*beat
}

// NextChordPlace returns the next place to type a chord: by bar it is the next
// change or bar line, otherwise the next beat. Backward goes the other way.
// ok is false at the chart's edge.
func (s *Session) NextChordPlace(t project.Ticks, byBar, forward bool) (next project.Ticks, ok bool) {
	c := s.Chart()
	step := func(p project.Ticks) project.Ticks { return s.beatBeside(p, forward) }
	for p := step(t); p >= 0 && p < c.Length(); p = step(p) {
		_, change := c.ChangeStarting(p)
		if !byBar || change || p == c.BarStart(c.BarAt(p)) {
			return p, true
		}
	}
	return t, false
}

// beatBeside returns the beat after or before p, with bar lines as beats.
func (s *Session) beatBeside(p project.Ticks, forward bool) project.Ticks {
	c := s.Chart()
	bar := c.BarAt(p)
	start, beat := c.BarStart(bar), c.Bars[bar].Meter.Beat()
	if forward {
		return min(start+((p-start)/beat+1)*beat, start+c.Bars[bar].Length)
	}
	if p > start {
		return start + (p-start-1)/beat*beat
	}
	if bar == 0 {
		return -1
	}
	before, length := c.Bars[bar-1], c.Bars[bar-1].Length
	beat = before.Meter.Beat()
	return start - length + (length-1)/beat*beat
}
