package project

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"organbook/internal/theory"
)

// maxProblems bounds how many problems Check collects.
const maxProblems = 100

// checker walks one chart and collects what is wrong with it.
type checker struct {
	c        *Chart
	ruler    *Ruler
	problems Problems
}

// Check validates the whole chart: every rule that the comments on the types
// state, and the limits above. It returns nil or Problems. It runs in one pass
// over each slice, when a file is loaded, after each edit and in tests.
func (c *Chart) Check() error {
	k := &checker{c: c}
	k.head()
	if !k.bars() {
		return k.problems // without sound bars no position can be named
	}
	k.ruler = c.Ruler()
	k.endings()
	k.changes()
	k.melody()
	k.passages()
	k.pins()
	k.fingerings()
	k.player()
	k.tone()
	if len(k.problems) == 0 {
		k.shelved()
	}
	if len(k.problems) > 0 {
		return k.problems
	}
	return nil
}

func (k *checker) add(where, format string, args ...any) {
	if len(k.problems) < maxProblems {
		k.problems = append(k.problems, Problem{where, fmt.Sprintf(format, args...)})
	}
}

// at adds a problem at a position.
func (k *checker) at(t Ticks, format string, args ...any) {
	k.add(k.ruler.PositionText(t), format, args...)
}

func (k *checker) head() {
	c := k.c
	k.text("title", c.Title, MaxTitle)
	k.text("composer", c.Composer, MaxTitle)
	if !c.Key.IsValid() {
		k.add("key", "there is no key")
	}
	k.signature("key", c.Key)
	if !isTempo(c.Tempo) {
		k.add("tempo", "%v is outside %v to %v", c.Tempo, MinTempo, MaxTempo)
	}
	if !(c.Swing >= MinSwing && c.Swing <= MaxSwing) {
		k.add("swing", "%v is outside %v to %v", c.Swing, MinSwing, MaxSwing)
	}
	if _, ok := ConsoleByID(c.Console); !ok {
		k.add("console", "%q is not a known console", c.Console)
	}
}

func (k *checker) text(where, s string, limit int) {
	switch {
	case !utf8.ValidString(s):
		k.add(where, "the text is not valid UTF-8")
	case strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' }):
		k.add(where, "the text has a line break or control character")
	case utf8.RuneCountInString(s) > limit:
		k.add(where, "the text is longer than %d characters", limit)
	}
}

// isTempo is written so that what is no number is no tempo.
func isTempo(t float64) bool { return t >= MinTempo && t <= MaxTempo }

func (k *checker) signature(where string, key theory.Key) {
	if f := key.Fifths(); key.IsValid() && (f < -MaxSignature || f > MaxSignature) {
		k.add(where, "%s has no key signature", key)
	}
}

// bars checks each bar by itself and reports whether lengths can be trusted.
func (k *checker) bars() bool {
	switch n := len(k.c.Bars); {
	case n == 0:
		k.add("bars", "a chart has at least one bar")
		return false
	case n > MaxBars:
		k.add("bars", "%d bars are more than %d", n, MaxBars)
		return false
	}
	sound := true
	for i := range k.c.Bars {
		sound = k.bar(i) && sound
	}
	return sound
}

func (k *checker) bar(i int) (sound bool) {
	b := &k.c.Bars[i]
	where := fmt.Sprintf("bar %d of %d", i+1, len(k.c.Bars))
	sound = true
	if !b.Meter.IsValid() {
		k.add(where, "the meter %v cannot be printed", b.Meter)
		sound = false
	}
	if b.Length <= 0 || b.Length > MaxBarLength {
		k.add(where, "a length of %d ticks is outside 1 to %d", b.Length, MaxBarLength)
		sound = false
	}
	k.signature(where, b.Key)
	if b.Tempo != 0 && !isTempo(b.Tempo) {
		k.add(where, "tempo %v is outside %v to %v", b.Tempo, MinTempo, MaxTempo)
	}
	k.text(where, b.Section, MaxLabel)
	k.repeat(where, b)
	return sound
}

func (k *checker) repeat(where string, b *Bar) {
	if b.Times < 0 || b.Times > MaxTimes {
		k.add(where, "a repeat played %d times is outside 0 to %d", b.Times, MaxTimes)
	}
	if b.Times != 0 && !b.RepeatEnd {
		k.add(where, "a number of times needs a repeat sign at the bar's end")
	}
	if b.Jump > DalSegnoAlCoda {
		k.add(where, "there is no jump %d", b.Jump)
	}
	for i, n := range b.Ending {
		if n < 1 || n > MaxTimes || i > 0 && n <= b.Ending[i-1] {
			k.add(where, "ending numbers %v must ascend from 1 to %d", b.Ending, MaxTimes)
			return
		}
	}
}

// endings checks that each run of equal endings starts with its mark and that
// no mark stands elsewhere than on an ending.
func (k *checker) endings() {
	for i := range k.c.Bars {
		b := &k.c.Bars[i]
		switch {
		case b.EndingStart && len(b.Ending) == 0:
			k.at(k.ruler.BarStart(i), "an ending starts without a number")
		case !b.EndingStart && len(b.Ending) > 0 && (i == 0 || !sameEnding(k.c.Bars[i-1], *b)):
			k.at(k.ruler.BarStart(i), "ending %v has no start", b.Ending)
		}
	}
}

func (k *checker) changes() {
	if len(k.c.Changes) > MaxChanges {
		k.add("changes", "%d chord symbols are more than %d", len(k.c.Changes), MaxChanges)
		return
	}
	last := Ticks(-1)
	for _, x := range k.c.Changes {
		if !x.Chord.IsValid() {
			k.at(x.Start, "a chord symbol says nothing")
		}
		k.order("chord", x.Chord, x.Start, last)
		last = x.Start
	}
}

// order checks that something starts inside the chart and after position last.
func (k *checker) order(kind string, what fmt.Stringer, start, last Ticks) {
	switch {
	case start < 0 || start >= k.ruler.Length():
		k.at(start, "%s %s at tick %d lies outside the bars", kind, what, start)
	case start <= last:
		k.at(start, "%s %s does not come after the one before it", kind, what)
	}
}

func (k *checker) melody() {
	if len(k.c.Melody) > MaxNotes {
		k.add("melody", "%d notes are more than %d", len(k.c.Melody), MaxNotes)
		return
	}
	last, end := Ticks(-1), Ticks(0)
	for _, n := range k.c.Melody {
		k.order("note", n.Pitch, n.Start, last)
		k.note(n, end)
		last, end = n.Start, n.End()
	}
}

// note checks one note against the end of the one before it.
func (k *checker) note(n Note, before Ticks) {
	switch {
	case !n.Pitch.IsValid():
		k.at(n.Start, "a note has no pitch")
	case n.Duration <= 0 || n.Duration > k.ruler.Length():
		k.at(n.Start, "note %s lasts %d ticks", n.Pitch, n.Duration)
	case n.Start < before:
		k.at(n.Start, "note %s starts before the note before it ends", n.Pitch)
	case n.End() > k.ruler.Length():
		k.at(n.Start, "note %s reaches past the last bar", n.Pitch)
	}
}

func (k *checker) passages() {
	if len(k.c.Passages) == 0 || k.c.Passages[0].First != 0 {
		k.add("passages", "the first passage starts at the first bar")
		return
	}
	last := -1
	for i := range k.c.Passages {
		p := &k.c.Passages[i]
		where := fmt.Sprintf("passage %d", i+1)
		if p.First <= last || p.First >= len(k.c.Bars) {
			k.add(where, "it starts at bar index %d, which is not after the one before and inside the chart", p.First)
		}
		k.passage(where, p)
		last = p.First
	}
}

func (k *checker) passage(where string, p *Passage) {
	k.text(where, p.Name, MaxLabel)
	k.treatment(where, &p.Treatment)
	if int(p.Plan) >= len(HandPlans) {
		k.add(where, "there is no hand plan %d", p.Plan)
	}
	if int(p.Bass) >= len(BassStyles) {
		k.add(where, "there is no bass style %d", p.Bass)
	}
	k.registration(where, &p.Registration)
	k.takes(where, p)
}

func (k *checker) registration(where string, r *Registration) {
	k.text(where, r.Name, MaxLabel)
	for i := range r.Upper {
		if r.Upper[i] > MaxDrawbar || r.Lower[i] > MaxDrawbar {
			k.add(where, "drawbar %d is pulled further than %d", i+1, MaxDrawbar)
		}
	}
	if r.Pedal[0] > MaxDrawbar || r.Pedal[1] > MaxDrawbar {
		k.add(where, "a pedal drawbar is pulled further than %d", MaxDrawbar)
	}
	if int(r.Rotary) >= len(RotarySpeeds) {
		k.add(where, "there is no rotary speed %d", r.Rotary)
	}
	if !(r.Swell >= 0 && r.Swell <= 1) {
		k.add(where, "swell %v is outside 0 to 1", r.Swell)
	}
	if end := r.Swell + r.Glide; !(end >= -1e-6 && end <= 1+1e-6) {
		k.add(where, "swell %v at the end is outside 0 to 1", end)
	}
	k.effects(where, &r.Effects)
}

func (k *checker) pins() {
	last := Ticks(-1)
	for _, p := range k.c.Pins {
		k.order("pin", p, p.Start, last)
		last = p.Start
		if i, ok := k.c.NoteStarting(p.Start); ok {
			k.pin(p, k.c.Melody[i])
		} else {
			k.at(p.Start, "a pin has no note")
		}
	}
}

func (k *checker) pin(p Pin, n Note) {
	if p.Voicing > theory.UnisonVoicing {
		k.at(p.Start, "there is no voicing %d", p.Voicing)
	}
	if p.Strength > PinTechnique || p.Technique > theory.Alone {
		k.at(p.Start, "there is no pin strength %d or technique %d", p.Strength, p.Technique)
	}
	if p.Strength != PinBlock {
		if len(p.Voices) > 0 {
			k.at(p.Start, "a pin of the %s holds voices", p.Strength)
		}
		return
	}
	if len(p.Voices) == 0 || len(p.Voices) > MaxVoices {
		k.at(p.Start, "a pin has %d voices, outside 1 to %d", len(p.Voices), MaxVoices)
		return
	}
	for i, v := range p.Voices {
		if !v.IsValid() || i > 0 && v.Key() > p.Voices[i-1].Key() {
			k.at(p.Start, "the voices of a pin run from the top down")
			return
		}
	}
	if n.Pitch.IsValid() && p.Voices[0].Name().PC() != n.Pitch.Name().PC() {
		k.at(p.Start, "a pin for %s stands on a note %s", p.Voices[0], n.Pitch)
	}
}
