package arrange

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

func TestFlow(t *testing.T) {
	bars := func(n int, mark func(b []project.Bar)) []project.Bar {
		out := make([]project.Bar, n)
		mark(out)
		return out
	}
	for _, c := range []struct {
		name string
		bars []project.Bar
		want string
	}{
		{"repeat", bars(3, func(b []project.Bar) { b[0].RepeatStart, b[1].RepeatEnd = true, true }), "map[1:[2 0] 2:[]]"},
		{"repeat of it all", bars(2, func(b []project.Bar) { b[1].RepeatEnd = true }), "map[1:[0]]"},
		{"endings", bars(4, func(b []project.Bar) {
			b[1].Ending, b[1].EndingStart, b[1].RepeatEnd = []int{1}, true, true
			b[2].Ending, b[2].EndingStart = []int{2}, true
		}), "map[0:[1 2] 1:[0] 3:[]]"},
		{"coda", bars(4, func(b []project.Bar) {
			b[0].Segno, b[1].ToCoda, b[2].Jump, b[3].Coda = true, true, project.DalSegnoAlCoda, true
		}), "map[1:[2 3] 2:[0] 3:[]]"},
		{"da capo", bars(3, func(b []project.Bar) { b[1].Segno, b[2].Jump = true, project.DaCapoAlFine }), "map[2:[0]]"},
	} {
		if got := fmt.Sprint(flowOf(c.bars)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestChordsLeadOnEitherWay reads a chord by whichever of its two successors it
// leads into, the next on the page before the other.
func TestChordsLeadOnEitherWay(t *testing.T) {
	c := sketch(t, "C major", "Am6@4 F6@4 E7@4 C6@4 D7@4 G6@4", "")
	c.Bars[0].RepeatStart, c.Bars[2].RepeatEnd = true, true
	if got := Realise(c, Options{}).Spans[2].Function.String(); got != "V of vi" {
		t.Errorf("E7 before the repeat to Am6 or on to C6 is %q", got)
	}
	c.Changes[3].Chord = theory.MustParseChord("Amaj7")
	if got := Realise(c, Options{}).Spans[2].Function.String(); got != "V of VI" {
		t.Errorf("E7 before the repeat to Am6 or on to Amaj7 is %q", got)
	}
	d := sketch(t, "C major", "C6@4 A7@4 F6@4 G6@4 Dm6@4", "")
	d.Bars[0].Segno, d.Bars[1].ToCoda, d.Bars[3].Jump, d.Bars[4].Coda = true, true, project.DalSegnoAlCoda, true
	if got := Realise(d, Options{}).Spans[1].Function.String(); got != "V of ii" {
		t.Errorf("A7 before the coda on Dm6 is %q", got)
	}
}

// TestApproachesReachTheirNote offers no slide into a note that follows on one
// pass only, nor into one that never does.
func TestApproachesReachTheirNote(t *testing.T) {
	line := "D5@2 B4@1 C#5@1 D5@4 E5@4"
	slides := func(mark func(*project.Chart)) bool {
		c := sketch(t, "G minor", "Gm6@12", line)
		mark(c)
		r := Realise(c, Options{})
		return r.Steps[2].Technique == theory.Approach && r.search.cands[2][r.search.chosen[2]].into >= 0
	}
	if !slides(func(*project.Chart) {}) {
		t.Error("C# does not slide into D")
	}
	if slides(func(c *project.Chart) { c.Bars[0].RepeatEnd = true; c.Melody[0].Pitch = theory.MustParsePitch("G4") }) {
		t.Error("C# slides into D, though G follows on the repeat")
	}
	if !slides(func(c *project.Chart) { c.Bars[0].RepeatEnd = true }) {
		t.Error("C# does not slide into D, though D follows on both passes")
	}
	if slides(func(c *project.Chart) {
		c.Bars[0].Ending, c.Bars[0].EndingStart, c.Bars[0].RepeatEnd = []int{1}, true, true
		c.Bars[1].Ending, c.Bars[1].EndingStart = []int{2}, true
	}) {
		t.Error("the first ending slides into the second")
	}
}

// backInto is a tune whose first ending leads back to its first bar by a
// chromatic run.
func backInto(t testing.TB) *project.Chart {
	c := sketch(t, "G minor", "Gm6@4 Am7b5@2 D7@2 Gm6@8", "D5@1 Bb4@1 G4@1 D5@1 C5@1 Eb5@1 C5@1 A4@1 G4@2 B4@1 C#5@1 G4@4")
	c.Bars[0].RepeatStart = true
	c.Bars[2].Ending, c.Bars[2].EndingStart, c.Bars[2].RepeatEnd = []int{1}, true, true
	c.Bars[3].Ending, c.Bars[3].EndingStart = []int{2}, true
	return c
}

// TestFirstEndingsLeadBack slides the run that ends a first ending into the block
// of the note that the repeat goes back to, in all keys.
func TestFirstEndingsLeadBack(t *testing.T) {
	for _, by := range twelveKeys {
		c, err := backInto(t).Transpose(by)
		if err != nil {
			t.Fatal(err)
		}
		r := Realise(c, Options{})
		for i, slid := range map[int]theory.Interval{10: theory.MinorSecond, 9: theory.MinorThird} {
			if got, want := keyText(r.Steps[i].Voices, slid.Semitones()), keyText(r.Steps[0].Voices, 0); got != want {
				t.Errorf("%v: note %d, %s, does not slide into %s", c.Key, i, pitchList(r.Steps[i].Voices), pitchList(r.Steps[0].Voices))
			}
		}
	}
	r := Realise(backInto(t), Options{})
	if got, want := r.Steps[10].Reason.String(), "C# over Gm6: it leads to D by a semitone, so the whole block, F#m6, slides up into Gm6."; got != want {
		t.Errorf("the reason is %q, want %q", got, want)
	}
	c := backInto(t)
	c.Bars[2].RepeatEnd = false // the endings are one after the other
	c.Bars[2].Ending, c.Bars[3].Ending, c.Bars[2].EndingStart, c.Bars[3].EndingStart = nil, nil, false, false
	c.Bars[0].RepeatStart = false
	if r := Realise(c, Options{}); len(r.search.back) > 0 {
		t.Error("a tune without repeats leads back")
	}
}

// TestNothingLeadsBackOverARest leaves the note before a repeat alone where a rest
// of more than a beat follows it.
func TestNothingLeadsBackOverARest(t *testing.T) {
	c := backInto(t)
	c.Melody[8].Duration /= 2
	for i := 9; i <= 10; i++ {
		c.Melody[i].Start -= project.Quarter
	}
	c.Melody[10].Duration /= 2
	if r := Realise(c, Options{}); len(r.search.back) > 0 {
		t.Error("C# leads back over a rest of a beat and a half")
	}
}

// repeatedBar is an empty chart of one bar that is played twice.
func repeatedBar() *project.Chart {
	c := project.New()
	c.Bars = []project.Bar{project.NewBar(project.CommonTime)}
	c.Bars[0].RepeatEnd = true
	return c
}

// TestRunsBackFitTogether looks at chromatic runs of all lengths before a repeat:
// every slide on offer is parallel to the block that it is offered for, however far
// back the run began.
func TestRunsBackFitTogether(t *testing.T) {
	slides := 0
	rapid.Check(t, func(t *rapid.T) {
		c := repeatedBar()
		c.Changes = []project.Change{{Start: 0, Chord: theory.MustParseChord(rapid.SampledFrom([]string{"C6", "G7", "F#m7b5", "Db7", "Fm6"}).Draw(t, "chord"))}}
		low := rapid.IntRange(68, 76).Draw(t, "low")
		key := low + 1
		for i := range 8 {
			c.Melody = append(c.Melody, project.Note{Start: project.Ticks(i) * project.Quarter / 2, Duration: project.Quarter / 2, Pitch: theory.PitchAt(c.Key.Spell(key), key)})
			key = min(max(key+rapid.SampledFrom([]int{-1, 1}).Draw(t, "step"), low), low+2)
		}
		q := Realise(c, Options{}).search
		for i := range q.cands[:len(q.cands)-1] {
			for k := range q.cands[i] {
				p := &q.cands[i][k]
				if p.into < 0 || p.origin != fromNext {
					continue
				}
				slides++
				into := &q.cands[i+1][p.into]
				for v := range p.n {
					if p.n != into.n || p.keys[v]-into.keys[v] != p.keys[0]-into.keys[0] {
						t.Fatalf("note %d: %v is offered to slide into %v", i, pitchList(p.voices), pitchList(into.voices))
					}
				}
			}
		}
	})
	if slides == 0 {
		t.Error("no note slides")
	}
}

// TestTheWayBackIsTheCheapest tries every path of small tunes with a repeat:
// given the block that the repeat goes back to, none is cheaper, and that block
// is the one the line has without the way back.
func TestTheWayBackIsTheCheapest(t *testing.T) {
	back := 0
	rapid.Check(t, func(t *rapid.T) {
		c := repeatedBar()
		changes := rapid.SampledFrom([]string{"C6", "G7", "Dm7b5", "C7", "Fm6"})
		c.Changes = []project.Change{
			{Start: 0, Chord: theory.MustParseChord(changes.Draw(t, "first"))},
			{Start: project.Whole / 2, Chord: theory.MustParseChord(changes.Draw(t, "second"))},
		}
		for i := range 3 {
			key := rapid.IntRange(64, 76).Draw(t, "key")
			n := project.Note{Start: project.Ticks(i) * project.Quarter, Duration: project.Quarter, Pitch: theory.PitchAt(c.Key.Spell(key), key)}
			if i == 2 {
				n.Duration *= 2
			}
			c.Melody = append(c.Melody, n)
		}
		q := Realise(c, Options{}).search
		if len(q.back) == 0 {
			return
		}
		back++
		isCheapest(t, q)
		link := &q.back[0]
		if got := q.cands[link.to][q.chosen[link.to]].keys; got != link.block.keys {
			t.Fatalf("the repeat goes back to %v, not to %v", got, link.block.keys)
		}
	})
	if back == 0 {
		t.Error("no tune led back")
	}
}
