package musicxml

import (
	"slices"
	"strconv"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// walk is what one part says, with every element at its place: the bar's index
// and the exact position inside the bar.
type walk struct {
	bars       []walkedBar
	voices     []string // in order of first appearance, rests included
	shared     []string // voices that run on two staves at once
	attacks    []attack
	harmonies  []placed[*harmonyItem]
	directions []placed[*directionItem]
	barlines   []placed[*barlineItem]
}

// walkedBar is one measure without its contents.
type walkedBar struct {
	number   string // as printed, or the count
	implicit bool
	meter    project.Meter
	key      theory.Key // valid where the signature changes
	modeOpen bool       // the signature does not tell major from minor
	length   fraction   // 0 when the bar is empty
}

// placed is an element at its position.
type placed[T any] struct {
	bar  int
	at   fraction
	item T
}

// attack is one pitched note, grace and cue notes apart.
type attack struct {
	bar           int
	start, length fraction
	note          *noteItem
	pitch         theory.Pitch // as it sounds
	voice         string
}

// walker moves through a part, the way a reader's finger does.
type walker struct {
	walk
	notes     *notices
	divisions fraction
	meter     project.Meter
	hasMeter  bool
	// pending take effect with the following bar.
	pendingMeter project.Meter
	pendingKey   theory.Key
	// transposition holds from the last <transpose> on; sounding is its interval
	// in the written key.
	transposition transposition
	writtenKey    theory.Key
	sounding      theory.Interval

	bar    int
	number string
	at     fraction // position in the bar
	extent fraction // furthest position reached
	// written is the position as the file's durations add up. It strays from
	// at where tuplets were rounded to divisions; exactly maps it back.
	written fraction
	exactly map[fraction]fraction

	// lines tells how far each voice has come in the bar, and on which staff.
	lines map[string]line
	last  struct { // the note that a following <chord/> joins
		ok            bool
		start, length fraction
		voice         string
	}
}

// line is the end of what a voice has written into a bar.
type line struct {
	end   fraction
	staff string
}

// walkPart reads a part from its first to its last bar, at most MaxBars.
func walkPart(p *part, notes *notices) *walk {
	w := &walker{notes: notes, divisions: firstDivisions(p), meter: project.CommonTime, lines: map[string]line{}}
	measures := p.measures
	if len(measures) > project.MaxBars {
		notes.add("", "the score has %d bars; the first %d are imported", len(measures), project.MaxBars)
		measures = measures[:project.MaxBars]
	}
	for i := range measures {
		w.measure(i, &measures[i])
	}
	if !w.hasMeter {
		notes.add("", "there is no time signature; 4/4 is assumed")
	}
	return &w.walk
}

// firstDivisions returns the divisions that hold until the file gives some:
// its first ones, or those that make a note's duration agree with its type.
func firstDivisions(p *part) fraction {
	var guess fraction
	for i := range p.measures {
		for _, it := range p.measures[i].items {
			switch n := it.note; {
			case it.attrs != nil && it.attrs.divisions.sign() > 0:
				return it.attrs.divisions
			case n != nil && guess.sign() == 0 && n.hasDuration && n.nominal.sign() > 0 && !n.grace:
				guess = n.duration.over(n.nominal)
			}
		}
	}
	if guess.sign() > 0 {
		return guess
	}
	return whole(1)
}

func (w *walker) measure(i int, m *measure) {
	w.bar, w.number = i, m.number
	if w.number == "" {
		w.number = strconv.Itoa(i + 1)
	}
	w.number = shorten(w.number)
	w.at, w.extent, w.written, w.exactly = fraction{}, fraction{}, fraction{}, nil
	w.last.ok = false
	clear(w.lines)
	w.bars = append(w.bars, walkedBar{number: w.number, implicit: m.implicit, key: w.pendingKey})
	if w.pendingMeter.IsValid() {
		w.meter = w.pendingMeter
	}
	w.pendingMeter, w.pendingKey = project.Meter{}, theory.Key{}
	for k := range m.items {
		w.item(&m.items[k])
	}
	bar := &w.bars[i]
	bar.meter, bar.length = w.meter, w.extent
}

func (w *walker) item(it *item) {
	switch {
	case it.note != nil:
		w.note(it.note)
	case it.move != nil:
		w.move(it.move.over(w.divisions))
	case it.attrs != nil:
		w.attributes(it.attrs)
	case it.harmony != nil:
		at := w.at.plus(it.harmony.offset.over(w.divisions))
		w.harmonies = append(w.harmonies, placed[*harmonyItem]{w.bar, at, it.harmony.sounded(w.sounding)})
	case it.direction != nil:
		at := w.at.plus(it.direction.offset.over(w.divisions))
		w.directions = append(w.directions, placed[*directionItem]{w.bar, at, it.direction})
	case it.barline != nil:
		w.barlines = append(w.barlines, placed[*barlineItem]{w.bar, w.at, it.barline})
	}
}

// note places a note and moves past it.
func (w *walker) note(n *noteItem) {
	w.remark(n)
	if n.grace {
		w.last.ok = false
		return
	}
	start, length, voice := w.at, fraction{}, n.voice
	if n.chord && w.last.ok {
		start, length = w.last.start, w.last.length
		if voice == "" {
			voice = w.last.voice
		}
	} else {
		length = w.length(n)
		w.advance(n, length)
	}
	if voice == "" {
		voice = "1"
	}
	w.last.ok, w.last.start, w.last.length, w.last.voice = true, start, length, voice
	w.meet(voice)
	if !n.chord {
		w.follow(voice, n.staff, start, start.plus(length))
	}
	if n.pitched() {
		// A note at the very end of an endless bar still gets its quarter.
		start = earlier(start, whole(maxQuarters-1))
		length = earlier(length, whole(maxQuarters).minus(start))
		w.attacks = append(w.attacks, attack{w.bar, start, length, n, w.sound(n.pitch), voice})
	}
}

// maxVoices bounds the voices of a part that are told apart.
const maxVoices = 64

// meet records a voice when it first appears.
func (w *walker) meet(voice string) {
	if len(w.voices) < maxVoices && !slices.Contains(w.voices, voice) {
		w.voices = append(w.voices, voice)
	}
}

// follow notes how far a voice has come. When it comes back on another staff,
// rests included, the file runs two staves into one voice.
func (w *walker) follow(voice, staff string, start, end fraction) {
	before := w.lines[voice]
	if start.less(before.end) && before.staff != staff && !slices.Contains(w.shared, voice) {
		w.shared = append(w.shared, voice)
	}
	if before.end.less(end) {
		w.lines[voice] = line{end, staff}
	}
}

// remark warns of what is left out or changed about a note.
func (w *walker) remark(n *noteItem) {
	switch {
	case n.grace:
		w.notes.add(w.number, "grace notes are left out")
	case n.cue && !n.isRest:
		w.notes.add(w.number, "cue notes are left out")
	case n.unreadable:
		w.notes.add(w.number, "a note without a readable pitch is left out")
	case n.rounded:
		w.notes.add(w.number, "a pitch between the keys or beyond them is moved to the nearest key")
	case n.slash && n.pitch.IsValid():
		w.notes.add(w.number, "rhythm slashes are kept as notes")
	case !n.isRest && !n.pitch.IsValid():
		w.notes.add(w.number, "unpitched notes are left out")
	}
}

// length returns how long a note lasts. A tuplet's duration that the divisions
// cannot express is taken from its type instead, exactly.
func (w *walker) length(n *noteItem) fraction {
	switch {
	case n.hasDuration:
		wanted := n.nominal.times(w.divisions)
		gap := n.duration.minus(wanted)
		rounded := n.tuplet && wanted.sign() > 0 && !wanted.isWhole()
		if rounded && gap.sign() != 0 && whole(-1).less(gap) && gap.less(whole(1)) {
			return n.nominal
		}
		return w.atLeastATick(n)
	case n.isRest && (n.wholeBar || n.nominal.sign() == 0 || n.nominal == whole(4)):
		rest := fromTicks(w.meter.Length()).minus(w.at)
		return later(rest, fraction{})
	case n.nominal.sign() > 0:
		return n.nominal
	}
	w.notes.add(w.number, "a note without a duration is read as a quarter note")
	return whole(1)
}

// atLeastATick returns the length by duration. Where absurd divisions leave
// nothing of it, the type tells the length, so that no note is lost.
func (w *walker) atLeastATick(n *noteItem) fraction {
	length := n.duration.over(w.divisions)
	if length.ticks() > 0 {
		return length
	}
	w.notes.add(w.number, "a note is shorter than can be written")
	return later(n.nominal, fromTicks(1))
}

// advance moves past a note, both in exact time and as the file counts.
func (w *walker) advance(n *noteItem, length fraction) {
	counted := length
	if n.hasDuration {
		counted = n.duration.over(w.divisions)
	}
	if w.exactly == nil && counted != length {
		w.exactly = map[fraction]fraction{}
	}
	w.written = w.written.plus(counted)
	w.reach(w.at.plus(length))
	if w.exactly != nil {
		w.exactly[w.written] = w.at
	}
}

// reach sets the position, inside the longest possible bar.
func (w *walker) reach(at fraction) {
	if whole(maxQuarters).less(at) {
		w.notes.add(w.number, "the bar is longer than %d quarter notes and is cut there", maxQuarters)
		at = whole(maxQuarters)
	}
	w.at, w.extent = at, later(w.extent, at)
}

// move goes back or forward by a duration.
func (w *walker) move(by fraction) {
	w.last.ok = false
	target := w.written.plus(by)
	at := w.at.plus(by)
	if by.sign() < 0 {
		at = target
	}
	if exact, ok := w.exactly[target]; ok {
		at = exact
	}
	// Rounded tuplets may leave the start of the bar a division or two away.
	slack := whole(2).over(w.divisions)
	if by.sign() < 0 && (at.sign() < 0 || w.exactly != nil && at.less(slack)) {
		if at.plus(slack).sign() < 0 {
			w.notes.add(w.number, "a step back leads before the bar; it ends at the bar's start")
		}
		at, target = fraction{}, fraction{}
	}
	w.written = target
	w.reach(at)
}

// attributes takes over divisions, meter and key. A meter or key that stands
// after the first note holds from the following bar.
func (w *walker) attributes(a *attributesItem) {
	if a.divisions.sign() > 0 {
		w.divisions = a.divisions
	}
	w.transpose(a)
	w.hasMeter = w.hasMeter || a.meter.IsValid()
	switch {
	case !a.meter.IsValid():
	case w.at.sign() == 0:
		w.meter = a.meter
	default:
		w.pendingMeter = a.meter
	}
	switch {
	case !a.key.IsValid():
	case w.at.sign() == 0:
		w.bars[w.bar].key, w.bars[w.bar].modeOpen = w.soundKey(a.key), a.modeOpen
	default:
		w.pendingKey = w.soundKey(a.key)
	}
	w.remarkAttributes(a)
}

func (w *walker) remarkAttributes(a *attributesItem) {
	if a.badMeter != "" {
		w.notes.add(w.number, "the time signature %s cannot be kept", shorten(a.badMeter))
	}
	if a.badKey {
		w.notes.add(w.number, "a key signature of another kind than up to seven sharps or flats cannot be kept")
	}
	if a.repeatedBars {
		w.notes.add(w.number, "bars written as a repeat sign stay as empty as the file has them")
	}
}
