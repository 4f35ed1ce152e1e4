package musicxml

import (
	"strings"

	"organbook/internal/theory"
)

// noteItem is a <note> as written: a pitched note, a rest or an unpitched one.
type noteItem struct {
	pitch      theory.Pitch // zero for rests, unpitched and unreadable notes
	isRest     bool
	wholeBar   bool // a rest for as long as the bar lasts
	unreadable bool // there was a pitch, but not on any key
	rounded    bool // the pitch was between keys or out of range
	chord      bool // sounds together with the note before
	grace, cue bool
	slash      bool // drawn as a rhythm slash
	voice      string
	staff      string
	// duration counts divisions; hasDuration is false without a usable one.
	duration    fraction
	hasDuration bool
	// nominal is the length in quarters by note type, dots and tuplet; zero
	// when the type is missing.
	nominal fraction
	tuplet  bool
	// tied tells that a tie leads into or out of the note.
	tieStop, tieStart bool
}

// pitched reports whether the note counts for the melody.
func (n *noteItem) pitched() bool { return n.pitch.IsValid() && !n.grace && !n.cue }

// noteTypes lists the lengths of note types in quarters.
var noteTypes = map[string]fraction{
	"maxima": whole(32), "long": whole(16), "breve": whole(8), "whole": whole(4),
	"half": whole(2), "quarter": whole(1), "eighth": {1, 2}, "16th": {1, 4},
	"32nd": {1, 8}, "64th": {1, 16}, "128th": {1, 32}, "256th": {1, 64},
	"512th": {1, 128}, "1024th": {1, 256},
}

func newNote(n *node) *noteItem {
	item := &noteItem{voice: n.value("voice"), staff: n.value("staff")}
	if item.staff == "" {
		item.staff = "1"
	}
	item.chord, item.grace, item.cue = n.has("chord"), n.has("grace"), n.has("cue")
	if rest := n.kid("rest"); rest != nil {
		item.isRest, item.wholeBar = true, rest.attr("measure") == "yes"
	} else if p := n.kid("pitch"); p != nil {
		item.readPitch(p)
	}
	item.slash = strings.EqualFold(n.value("notehead"), "slash")
	item.duration, item.hasDuration = parseFraction(n.value("duration"))
	item.hasDuration = item.hasDuration && item.duration.sign() > 0
	item.nominal, item.tuplet = nominalLength(n)
	item.tieStop, item.tieStart = ties(n)
	return item
}

// readPitch takes over a pitch. Quarter tones lose their half, and octaves
// beyond the MIDI keys are folded back, both with a mark for a warning.
func (item *noteItem) readPitch(p *node) {
	name, exact, ok := readName(p.value("step"), p.value("alter"))
	octave, hasOctave := parseFraction(p.value("octave"))
	if !ok || !hasOctave || !octave.isWhole() {
		item.unreadable = true
		return
	}
	at := max(-9, min(int(octave.num), 19))
	item.rounded = !exact || int64(at) != octave.num
	for at < 0 && !theory.NewPitch(name, at).IsValid() {
		at, item.rounded = at+1, true
	}
	for at > 0 && !theory.NewPitch(name, at).IsValid() {
		at, item.rounded = at-1, true
	}
	item.pitch = theory.NewPitch(name, at)
	item.unreadable = !item.pitch.IsValid()
}

// readName reads a step and an alteration in semitones. exact is false when a
// fraction of a semitone was dropped or the name had to be respelled.
func readName(step, alter string) (name theory.Name, exact, ok bool) {
	step = strings.TrimSpace(step)
	if len(step) == 0 {
		return theory.Name{}, false, false
	}
	// Some files write the accidental into the step: "Bb", "F#".
	name, err := theory.ParseName(strings.ToUpper(step[:1]) + step[1:])
	if err != nil {
		return theory.Name{}, false, false
	}
	if len(step) > 1 {
		return name, alter == "", true
	}
	f, isNumber := parseFraction(alter)
	semitones := int(f.num / f.denominator())
	exact = alter == "" || isNumber && f.isWhole()
	semitones = max(-12, min(semitones, 12))
	if respelled := theory.NewName(name.Letter(), semitones); respelled.IsValid() {
		return respelled, exact, true
	}
	return theory.NameFromFifths(name.Fifths() + 7*semitones), false, true
}

// nominalLength returns the length that note type, dots and tuplet give, and
// whether the note belongs to a tuplet.
func nominalLength(n *node) (length fraction, tuplet bool) {
	length, ok := noteTypes[strings.ToLower(n.value("type"))]
	if !ok {
		return fraction{}, n.has("time-modification")
	}
	dots := 0
	for _, k := range n.kids {
		if k.name == "dot" && dots < 4 {
			dots++
		}
	}
	length = dotted(length, dots)
	if t := n.kid("time-modification"); t != nil {
		actual, ok1 := parseFraction(t.value("actual-notes"))
		normal, ok2 := parseFraction(t.value("normal-notes"))
		if ok1 && ok2 && actual.sign() > 0 && normal.sign() > 0 && actual != normal {
			return length.times(normal).over(actual), true
		}
	}
	return length, false
}

// dotted lengthens a note by its dots: one adds a half, two add three quarters.
func dotted(length fraction, dots int) fraction {
	unit := int64(1) << dots
	return length.times(newFraction(2*unit-1, unit))
}

// ties tells whether ties end and begin at the note, by the elements that mean
// sound or, without any, by those that mean ink.
func ties(n *node) (stop, start bool) {
	mark := func(k *node) {
		stop = stop || k.attr("type") == "stop" || k.attr("type") == "continue"
		start = start || k.attr("type") == "start" || k.attr("type") == "continue"
	}
	for _, k := range n.kids {
		if k.name == "tie" {
			mark(k)
		}
	}
	if stop || start {
		return stop, start
	}
	n.each("tied", mark)
	return stop, start
}
