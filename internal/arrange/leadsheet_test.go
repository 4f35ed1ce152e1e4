package arrange

import (
	"fmt"
	"math/rand"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// Lead sheets of the kinds organists play, made up by rule: changes from
// patterns of each style, coloured as printed sheets colour them, under melodies
// that aim at chord notes and get there by step, by chromatic approach, by
// enclosure or by leap. They stand for tunes this project has never seen.

// sheet makes one lead sheet.
func sheet(rng *rand.Rand, style *sheetStyle) *project.Chart {
	b := &sheetBuilder{rng: rng, style: style, c: project.New()}
	b.c.Title, b.c.Bars = style.name, nil
	b.c.Tempo = float64(style.tempos[0] + rng.Intn(style.tempos[1]-style.tempos[0]+1))
	if style.minor {
		b.c.Key = theory.MustParseKey("C minor")
	}
	if rng.Intn(3) == 0 {
		b.pickup()
	}
	for range 1 + rng.Intn(3) {
		b.section(style.sections[rng.Intn(len(style.sections))])
	}
	b.marks()
	b.melody()
	b.passages()
	by := theory.NameFromFifths(rng.Intn(12) - 6)
	d, err := b.c.Transpose(upOrDown(theory.NewName(theory.C, 0).To(by)))
	if err != nil {
		panic(err)
	}
	return d
}

// upOrDown turns intervals beyond a tritone into the way down.
func upOrDown(i theory.Interval) theory.Interval {
	if i.Semitones() <= 6 {
		return i
	}
	return theory.NewInterval(i.Steps()-7, i.Semitones()-12)
}

type sheetBuilder struct {
	rng   *rand.Rand
	style *sheetStyle
	c     *project.Chart
	end   project.Ticks
}

func (b *sheetBuilder) pickup() {
	length := b.style.meter.Beat()
	b.c.Bars = append(b.c.Bars, project.Bar{Meter: b.style.meter, Length: length, Unnumbered: true})
	b.end = length
}

func (b *sheetBuilder) section(changes string) {
	last := ""
	for _, bar := range strings.Split(changes, "|") {
		symbols := strings.Fields(bar)
		nb := project.NewBar(b.style.meter)
		for i, s := range symbols {
			at := b.end + nb.Length*project.Ticks(i)/project.Ticks(len(symbols))
			at -= (at - b.end) % b.style.meter.Beat()
			if s != "%" && s != last {
				b.c.Changes = append(b.c.Changes, project.Change{Start: at, Chord: theory.MustParseChord(b.spell(s))})
				last = s
			}
		}
		b.c.Bars = append(b.c.Bars, nb)
		b.end += nb.Length
	}
}

// spell colours a symbol, gives it a slash bass now and then, or leaves it out.
func (b *sheetBuilder) spell(s string) string {
	if b.rng.Intn(60) == 0 {
		return "N.C."
	}
	symbol, bass, slash := strings.Cut(s, "/")
	if strings.HasSuffix(s, "/9") {
		symbol, slash = s, false
	}
	root := symbol[:1]
	if len(symbol) > 1 && (symbol[1] == 'b' || symbol[1] == '#') {
		root = symbol[:2]
	}
	kind := symbol[len(root):]
	if others := spelledOut[kind]; len(others) > 0 && b.rng.Intn(100) < b.style.odd {
		kind = others[b.rng.Intn(len(others))]
	}
	symbol = root + kind
	switch {
	case slash:
		symbol += "/" + bass
	case b.rng.Intn(25) == 0:
		c := theory.MustParseChord(symbol)
		tones := c.Tones()
		symbol += "/" + tones[b.rng.Intn(len(tones))].String()
	}
	return symbol
}

// marks puts repeats, endings and signs on some sheets.
func (b *sheetBuilder) marks() {
	n := len(b.c.Bars)
	first := 0
	if b.c.Bars[0].Unnumbered {
		first = 1
	}
	switch b.rng.Intn(4) {
	case 0:
		b.c.Bars[first].RepeatStart, b.c.Bars[n-1].RepeatEnd = true, true
	case 1:
		if n-first >= 8 {
			b.c.Bars[first].RepeatStart = true
			b.c.Bars[n-2].Ending, b.c.Bars[n-2].EndingStart, b.c.Bars[n-2].RepeatEnd = []int{1}, true, true
			b.c.Bars[n-1].Ending, b.c.Bars[n-1].EndingStart = []int{2}, true
		}
	case 2:
		if n-first >= 16 {
			b.c.Bars[first+4].Segno, b.c.Bars[first+7].ToCoda = true, true
			b.c.Bars[n-3].Jump, b.c.Bars[n-2].Coda = project.DalSegnoAlCoda, true
		}
	}
}

// passages treats some sheets in other ways than the usual one.
func (b *sheetBuilder) passages() {
	t := &b.c.Passages[0].Treatment
	if b.rng.Intn(2) == 0 {
		return
	}
	t.Voicing = []theory.Voicing{theory.Close, theory.Drop2, theory.Drop24, theory.DoubleLead, theory.ThreePart, theory.Spread, theory.Drop3, theory.Fourths}[b.rng.Intn(8)]
	t.Dominants = project.DominantColours[b.rng.Intn(len(project.DominantColours))]
	t.Borrow = project.Borrows[b.rng.Intn(len(project.Borrows))]
	t.MoveInner, t.AlternateRepeats, t.OpenAtClimax = b.rng.Intn(4) == 0, b.rng.Intn(4) == 0, b.rng.Intn(4) == 0
	t.TwoFiveAsFive = b.rng.Intn(6) == 0
}

// slot is a place for a melody note: aim reports that it wants a chord note.
type slot struct {
	start, length project.Ticks
	chord         theory.Chord
	aim           bool
	key           int
}

func (b *sheetBuilder) melody() {
	slots := b.slots()
	at := 62 + b.rng.Intn(12)
	for i := range slots {
		if slots[i].aim || i+1 == len(slots) {
			at = b.chordNote(&slots[i], at)
			slots[i].key = at
		}
	}
	for i := 0; i < len(slots); {
		if slots[i].key > 0 {
			i++
			continue
		}
		j := i
		for slots[j].key == 0 {
			j++
		}
		b.lead(slots, i, j)
		i = j
	}
	for i := range slots {
		s := &slots[i]
		b.bluer(s)
		b.c.Melody = append(b.c.Melody, project.Note{Start: s.start, Duration: s.length, Pitch: theory.PitchAt(b.nameOf(s), s.key)})
	}
}

// slots lays rhythms over the bars, ties some notes over the bar line and leaves
// a breath at the end of phrases.
func (b *sheetBuilder) slots() (out []slot) {
	at, tied := project.Ticks(0), false
	for i := range b.c.Bars {
		bar := &b.c.Bars[i]
		if bar.Unnumbered {
			out = append(out, slot{start: at, length: bar.Length})
			at += bar.Length
			continue
		}
		pos := at
		for _, w := range strings.Fields(b.style.rhythms[b.rng.Intn(len(b.style.rhythms))]) {
			var eighths int
			fmt.Sscan(w, &eighths)
			length := project.Ticks(max(eighths, -eighths)) * project.Quarter / 2
			switch {
			case eighths < 0:
			case tied && pos == at && len(out) > 0:
				out[len(out)-1].length += length
			default:
				out = append(out, slot{start: pos, length: length})
			}
			pos += length
		}
		at += bar.Length
		tied = b.rng.Intn(6) == 0 && len(out) > 0 && out[len(out)-1].start+out[len(out)-1].length == at
	}
	beat := b.style.meter.Pulse()
	for i := range out {
		s := &out[i]
		s.chord = b.chordAt(s.start)
		s.aim = s.length >= 2*beat || s.start%beat == 0 && b.rng.Intn(3) > 0 || s.length > beat/2 && b.rng.Intn(2) == 0
	}
	return out
}

func (b *sheetBuilder) chordAt(t project.Ticks) (c theory.Chord) {
	c = b.c.Changes[0].Chord
	for _, ch := range b.c.Changes {
		if ch.Start <= t {
			c = ch.Chord
		}
	}
	return c
}

// chordNote returns a note of the chord, or a ninth or thirteenth, near a key.
func (b *sheetBuilder) chordNote(s *slot, near int) int {
	near += []int{-4, -2, -1, 0, 0, 1, 2, 4, 7, -7}[b.rng.Intn(10)]
	near = min(max(near, 60), 82)
	pcs := theory.NewPCSet(0, 4, 7)
	if playable(s.chord) {
		pcs = s.chord.PCSet()
		if b.rng.Intn(6) == 0 && !isDiminished(s.chord) {
			pcs = pcs.With(s.chord.Root().PC() + []int{2, 9}[b.rng.Intn(2)])
		}
	}
	for d := 0; d < 12; d++ {
		for _, k := range [2]int{near + d, near - d} {
			if pcs.Has(k) {
				return k
			}
		}
	}
	return near
}

// lead fills the slots from i up to the aim in slot j.
func (b *sheetBuilder) lead(slots []slot, i, j int) {
	at := slots[j].key - 2
	if i > 0 {
		at = slots[i-1].key
	}
	for k := i; k < j; k++ {
		to, left := slots[j].key, j-k
		switch r := b.rng.Intn(100); {
		case left == 1 && r < b.style.chromatic:
			at = to + []int{-1, 1}[b.rng.Intn(2)]
		case left == 2 && r < b.style.chromatic:
			slots[k].key = b.scaleStep(&slots[k], to, 1)
			at = to - 1
			slots[k+1].key = at
			return
		case r < b.style.chromatic+8: // repeat
		case r < b.style.chromatic+22:
			at = b.chordNote(&slots[k], at)
		case to > at || to == at && b.rng.Intn(2) == 0:
			at = b.scaleStep(&slots[k], at, 1)
		default:
			at = b.scaleStep(&slots[k], at, -1)
		}
		at = min(max(at, 57), 84)
		slots[k].key = at
	}
}

// scaleStep returns the next note of the key, bent to the chord, up or down.
func (b *sheetBuilder) scaleStep(s *slot, from, direction int) int {
	scale := signature(b.c.Key)
	if playable(s.chord) {
		for _, n := range s.chord.Tones() {
			if !scale.Has(n.PC()) {
				scale = scale.Without(n.PC() + 1).Without(n.PC() - 1 + 12).With(n.PC())
			}
		}
	}
	for k := from + direction; ; k += direction {
		if scale.Has(k) {
			return k
		}
	}
}

// bluer turns some thirds and fifths over dominants blue.
func (b *sheetBuilder) bluer(s *slot) {
	if !playable(s.chord) || !isDominant(s.chord) || b.rng.Intn(100) >= b.style.blue {
		return
	}
	switch (s.key - s.chord.Root().PC() + 120) % 12 {
	case 4, 7:
		s.key--
	}
}

// nameOf spells a melody note: as the chord does, else as the key.
func (b *sheetBuilder) nameOf(s *slot) theory.Name {
	if playable(s.chord) {
		if n, ok := s.chord.SpellOf(s.key % 12); ok && n.Alter() > -2 && n.Alter() < 2 {
			return n
		}
	}
	return b.c.Key.Spell(s.key % 12)
}

// sheets calls visit with count sheets of every style.
func sheets(count int, visit func(style *sheetStyle, c *project.Chart)) {
	for s := range sheetStyles {
		rng := rand.New(rand.NewSource(int64(s + 1)))
		for range count {
			visit(&sheetStyles[s], sheet(rng, &sheetStyles[s]))
		}
	}
}

// TestSheetsAreSheets checks the charts this file makes.
func TestSheetsAreSheets(t *testing.T) {
	sheets(20, func(style *sheetStyle, c *project.Chart) {
		if err := c.Check(); err != nil {
			t.Fatalf("%s: %v", style.name, err)
		}
		if len(c.Melody) < len(c.Bars)/2 {
			t.Errorf("%s: %d notes in %d bars", style.name, len(c.Melody), len(c.Bars))
		}
	})
}
