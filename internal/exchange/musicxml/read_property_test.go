package musicxml

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// The property: a score drawn note by note, written as XML with everything
// around the melody that may confuse a reader, comes back as drawn. The drawing
// is kept in ticks from the start, so what is expected needs none of the
// reader's arithmetic.

// drawing is a score under construction with what must be read out of it.
type drawing struct {
	t      *rapid.T
	xml    strings.Builder
	melody []project.Note
	chords []project.Change
	bars   []project.Ticks // lengths
	now    project.Ticks   // start of the current bar
	key    int             // divisions of the current bar
	open   bool            // the last melody note leads a tie on
	spell  bool            // ties as notations, in place of elements
}

var drawnDivisions = []int{1, 2, 3, 4, 6, 8, 12, 16, 24, 30, 96, 120, 480, 840, 960, 1260, 5040, 10080, 20160}

func (d *drawing) write(format string, args ...any) { fmt.Fprintf(&d.xml, format, args...) }

func (d *drawing) int(low, high int, label string) int {
	return rapid.IntRange(low, high).Draw(d.t, label)
}

func (d *drawing) chance(percent int, label string) bool { return d.int(1, 100, label) <= percent }

// ticks returns the length of n divisions.
func (d *drawing) ticks(n int) project.Ticks {
	return project.Ticks(n) * project.Quarter / project.Ticks(d.key)
}

// length draws a duration that is whole ticks in the current divisions.
func (d *drawing) length(label string) int {
	n := d.int(1, max(1, 2*d.key), label)
	if 10080%d.key != 0 { // 960 and 20160: two divisions are whole ticks
		n += n % 2
	}
	return n
}

func (d *drawing) pitch(low, high int, label string) theory.Pitch {
	key := d.int(low, high, label)
	home := theory.KeyFromFifths(d.int(-5, 5, label+" spelling"), theory.Major)
	return theory.PitchAt(home.Spell(key%12), key)
}

func pitchElement(p theory.Pitch) string {
	octave := (p.Key()-p.Name().Alter())/12 - 1
	return fmt.Sprintf("<pitch><step>%s</step><alter>%d</alter><octave>%d</octave></pitch>", p.Name().Letter(), p.Name().Alter(), octave)
}

func (d *drawing) score() string {
	d.spell = d.chance(30, "spell ties as notations")
	d.write("<score-partwise>")
	if d.chance(20, "silent part first") {
		d.write(`<part id="P0"><measure number="1">%s<note><rest/><duration>7</duration></note></measure></part>`, inHead(3, 4, 4))
	}
	d.write(`<part id="P1">`)
	for i := range d.int(1, 5, "bars") {
		d.bar(i)
	}
	d.write("</part>")
	if d.chance(30, "other part") {
		d.write(`<part id="P2"><measure number="1">%s%s</measure></part>`, inHead(2, 4, 4), n("C7", 8))
	}
	d.write("</score-partwise>")
	return d.xml.String()
}

func (d *drawing) bar(i int) {
	if i == 0 || d.chance(30, "new divisions") {
		d.key = rapid.SampledFrom(drawnDivisions).Draw(d.t, "divisions")
	}
	d.write(`<measure number="%d"><attributes><divisions>%d</divisions>`, i+1, d.key)
	if i == 0 {
		d.write("<time><beats>4</beats><beat-type>4</beat-type></time>")
	}
	d.write("</attributes>")
	extent := 0
	if i > 0 && d.chance(30, "lower voice first") {
		extent = d.lower()
		d.write("<backup><duration>%d</duration></backup>", extent)
	}
	length := d.upper()
	extent = max(extent, length)
	if d.chance(40, "lower voice after") {
		d.write("<backup><duration>%d</duration></backup>", length)
		extent = max(extent, d.lower())
	}
	d.write("</measure>")
	bar := d.ticks(extent)
	if extent == 0 {
		bar = project.CommonTime.Length()
	}
	d.bars = append(d.bars, bar)
	if project.Ticks(length) == 0 || d.ticks(length) < bar {
		d.open = false // a gap follows
	}
	d.now += bar
}

// upper writes the melody's voice and returns its divisions.
func (d *drawing) upper() (at int) {
	if len(d.bars) == 0 { // so that this voice appears before the lower one
		at = d.length("first rest")
		d.write("<note><rest/><duration>%d</duration><voice>1</voice></note>", at)
	}
	for range d.int(0, 6, "events") {
		switch d.int(0, 9, "event") {
		case 0:
			n := d.length("rest")
			d.write("<note><rest/><duration>%d</duration><voice>1</voice></note>", n)
			at, d.open = at+n, false
		case 1:
			n := d.length("forward")
			d.write("<forward><duration>%d</duration></forward>", n)
			at, d.open = at+n, false
		case 2:
			d.write("<note><grace/>%s<voice>1</voice></note>", pitchElement(d.pitch(40, 100, "grace")))
		case 3:
			d.harmony(at)
		default:
			at = d.chord(at)
		}
	}
	return at
}

// chord writes one attack of the melody, alone or on top of others.
func (d *drawing) chord(at int) int {
	length := d.length("note")
	top := d.pitch(60, 100, "pitch")
	joins := d.open && d.chance(70, "tie is taken up")
	if joins {
		top = d.melody[len(d.melody)-1].Pitch
	}
	leads := d.chance(30, "tie leads on")
	tied := d.tie(joins, leads)
	keys := []string{pitchElement(top) + fmt.Sprintf("<duration>%d</duration><voice>1</voice>", length) + tied}
	for range d.int(0, 2, "lower notes") {
		low := d.pitch(30, top.Key()-1, "lower note")
		extra := pitchElement(low) + fmt.Sprintf("<duration>%d</duration><voice>1</voice>", length)
		keys = append(keys, extra)
	}
	for i, k := range rapid.Permutation(keys).Draw(d.t, "order") {
		if i > 0 {
			k = "<chord/>" + k
		}
		d.write("<note>%s</note>", k)
	}
	start, duration := d.now+d.ticks(at), d.ticks(length)
	if joins {
		d.melody[len(d.melody)-1].Duration += duration
	} else {
		d.melody = append(d.melody, project.Note{Start: start, Duration: duration, Pitch: top})
	}
	d.open = leads
	return at + length
}

func (d *drawing) tie(stop, start bool) string {
	s := ""
	for _, mark := range []struct {
		on   bool
		kind string
	}{{stop, "stop"}, {start, "start"}} {
		if mark.on && d.spell {
			s += `<tied type="` + mark.kind + `"/>`
		} else if mark.on {
			s += `<tie type="` + mark.kind + `"/>`
		}
	}
	if d.spell && s != "" {
		return "<notations>" + s + "</notations>"
	}
	return s
}

var drawnKinds = []theory.Kind{theory.KindMajor, theory.KindMinorSeventh, theory.KindDominant, theory.KindHalfDiminished, theory.KindMinorSixth, theory.KindMajorSeventh, theory.KindSuspendedFourth}

// harmony writes a chord symbol, by itself or ahead of its place.
func (d *drawing) harmony(at int) {
	root := theory.NameFromFifths(d.int(-7, 9, "root"))
	kind := rapid.SampledFrom(drawnKinds).Draw(d.t, "kind")
	rest, bass := "", theory.Name{}
	if d.chance(30, "bass") {
		bass = theory.NameFromFifths(d.int(-7, 9, "bass note"))
		rest = rootXML("bass", bass.String())
	}
	chord, err := theory.NewChord(root, kind, nil, bass)
	if err != nil {
		d.t.Fatal(err)
	}
	d.write("%s", harmony(root.String(), kind.String(), rest))
	start := d.now + d.ticks(at)
	if n := len(d.chords); n > 0 && d.chords[n-1].Start == start {
		d.chords[n-1].Chord = chord
		return
	}
	d.chords = append(d.chords, project.Change{Start: start, Chord: chord})
}

// lower writes a second voice that must leave no trace but its length.
func (d *drawing) lower() (at int) {
	for range d.int(1, 4, "lower events") {
		n := d.length("lower length")
		d.write("<note>%s<duration>%d</duration><voice>2</voice></note>", pitchElement(d.pitch(30, 110, "lower pitch")), n)
		at += n
	}
	return at
}

func TestDrawnScoresComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &drawing{t: t}
		xml := d.score()
		c, _, err := Read(bytes.NewReader([]byte(xml)), int64(len(xml)), "drawn.musicxml")
		if len(d.melody) == 0 {
			// Then another voice or part is the melody, or there is none.
			return
		}
		if err != nil {
			t.Fatalf("%v\n%s", err, xml)
		}
		if err := c.Check(); err != nil {
			t.Fatalf("%v\n%s", err, xml)
		}
		if got, want := melodyText(c), melodyText(&project.Chart{Melody: d.melody}); got != want {
			t.Fatalf("melody\n got %s\nwant %s\n%s", got, want, xml)
		}
		end := d.now
		var chords []project.Change
		for _, x := range d.chords {
			if x.Start < end {
				chords = append(chords, x)
			}
		}
		if got, want := chordText(c), chordText(&project.Chart{Changes: chords}); got != want {
			t.Fatalf("chords\n got %s\nwant %s\n%s", got, want, xml)
		}
		for i, b := range c.Bars {
			if b.Length != d.bars[i] {
				t.Fatalf("bar %d lasts %d, want %d\n%s", i+1, b.Length, d.bars[i], xml)
			}
		}
	})
}

// TestFractions compares the arithmetic of positions with that of ticks.
func TestFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := rapid.SliceOfN(rapid.SampledFrom([]int64{1, 2, 3, 5, 7, 9, 32, 105}), 1, 20).Draw(t, "parts of a quarter")
		var sum fraction
		ticks := project.Ticks(0)
		for _, p := range terms {
			sum = sum.plus(newFraction(1, p))
			ticks += project.Quarter / project.Ticks(p)
		}
		if sum.ticks() != ticks {
			t.Fatalf("%v is %d ticks, want %d", sum, sum.ticks(), ticks)
		}
		if back := sum.minus(fromTicks(ticks)); back.sign() != 0 {
			t.Fatalf("%v is left over", back)
		}
	})
}

// TestFractionsStayInRange adds up hostile numbers: terms never overflow.
func TestFractionsStayInRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		term := rapid.Int64Range(-maxTerm, maxTerm)
		var sum fraction
		for range rapid.IntRange(1, 50).Draw(t, "steps") {
			f := newFraction(term.Draw(t, "numerator"), rapid.Int64Range(1, maxTerm).Draw(t, "denominator"))
			before := sum.float()
			sum = sum.plus(f)
			if d := sum.denominator(); d < 1 || d > maxTerm || sum.num > maxTerm || sum.num < -maxTerm {
				t.Fatalf("%v is out of range", sum)
			}
			want := before + f.float()
			if got := sum.float(); want > -1000 && want < 1000 && (got-want > 1e-4 || want-got > 1e-4) {
				t.Fatalf("%v is %v, want %v", sum, got, want)
			}
		}
	})
}
