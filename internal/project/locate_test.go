package project_test

import (
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

// pickupChart has a pickup of one beat, two bars, and a bar split after three
// beats.
func pickupChart() *project.Chart {
	c := project.New()
	c.Bars = []project.Bar{
		{Meter: project.CommonTime, Length: q, Unnumbered: true},
		project.NewBar(project.CommonTime),
		project.NewBar(project.Meter{Beats: 6, Unit: 8}),
		{Meter: project.CommonTime, Length: 3 * q},
		{Meter: project.CommonTime, Length: q, Unnumbered: true},
	}
	return c
}

func TestPositions(t *testing.T) {
	for _, tt := range []struct {
		quarters    float64
		bar, number int
		beat        float64
		text        string
	}{
		{0, 0, 0, 4, "0.4"},
		{0.5, 0, 0, 4.5, "0.4½"},
		{1, 1, 1, 1, "1.1"},
		{3.25, 1, 1, 3.25, "1.3¼"},
		{4 + 2.0/3, 1, 1, 4 + 2.0/3, "1.4⅔"},
		{1.2, 1, 1, 1.2, "1.1+1/5"},
		{5, 2, 2, 1, "2.1"},
		{7.5, 2, 2, 6, "2.6"},
		{8, 3, 3, 1, "3.1"},
		{11, 4, 3, 4, "3.4"},
		{11.75, 4, 3, 4.75, "3.4¾"},
		{12, 4, 3, 5, "3.5"}, // the end of the chart belongs to the last bar
		{-1, 0, 0, 3, "0.3"},
	} {
		c, at := pickupChart(), ticks(tt.quarters)
		if got := c.BarAt(at); got != tt.bar {
			t.Errorf("%v: bar %d, want %d", tt.quarters, got, tt.bar)
		}
		if got := c.BarNumber(c.BarAt(at)); got != tt.number {
			t.Errorf("%v: number %d, want %d", tt.quarters, got, tt.number)
		}
		if got := c.Beat(at); got < tt.beat-1e-9 || got > tt.beat+1e-9 {
			t.Errorf("%v: beat %v, want %v", tt.quarters, got, tt.beat)
		}
		if got := c.PositionText(at); got != tt.text {
			t.Errorf("%v: %q, want %q", tt.quarters, got, tt.text)
		}
	}
}

// A ruler answers as the chart does.
func TestRulerAgreesWithChart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		r := c.Ruler()
		if r.Length() != c.Length() || c.BarStarts()[len(c.Bars)] != c.Length() {
			t.Fatal("lengths differ")
		}
		for i := range c.Bars {
			if r.BarStart(i) != c.BarStart(i) || r.BarNumber(i) != c.BarNumber(i) || c.BarStarts()[i] != c.BarStart(i) {
				t.Fatalf("bar %d differs", i)
			}
		}
		at := project.Ticks(rapid.Int64Range(-q2, int64(c.Length())+q2).Draw(t, "at"))
		if r.BarAt(at) != c.BarAt(at) || r.Beat(at) != c.Beat(at) || r.PositionText(at) != c.PositionText(at) || r.KeyAt(at) != c.KeyAt(at) {
			t.Fatalf("position %d differs", at)
		}
		if i := c.BarAt(at); at >= 0 && at < c.Length() && (at < c.BarStart(i) || at >= c.BarStart(i+1)) {
			t.Fatalf("position %d is not in bar %d", at, i)
		}
	})
}

const q2 = int64(2 * q)

// Look-ups by binary search agree with looking at everything.
func TestQueriesAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		at := drawPosition(t, c)
		sounding, starting := -1, -1
		for i, n := range c.Melody {
			if n.Start <= at && at < n.End() {
				sounding = i
			}
			if n.Start == at {
				starting = i
			}
		}
		if i, ok := c.NoteAt(at); ok != (sounding >= 0) || ok && i != sounding {
			t.Fatalf("note at %d: %d %v, want %d", at, i, ok, sounding)
		}
		if i, ok := c.NoteStarting(at); ok != (starting >= 0) || ok && i != starting {
			t.Fatalf("note starting %d: %d %v, want %d", at, i, ok, starting)
		}
		var inForce *project.Change
		for i := range c.Changes {
			if c.Changes[i].Start <= at {
				inForce = &c.Changes[i]
			}
		}
		if chord, ok := c.ChordAt(at); ok != (inForce != nil) || ok && chord != inForce.Chord {
			t.Fatalf("chord at %d: %v %v", at, chord, ok)
		}
		key, tempo := c.Key, c.Tempo
		for i, b := range c.Bars[:c.BarAt(at)+1] {
			if b.Key.IsValid() {
				key = b.Key
			}
			if b.Tempo > 0 {
				tempo = c.Bars[i].Tempo
			}
		}
		if c.KeyAt(at) != key || c.TempoAt(at) != tempo || c.MeterAt(at) != c.Bars[c.BarAt(at)].Meter {
			t.Fatalf("key, tempo or meter at %d", at)
		}
	})
}

// drawPosition draws any position, or the start or end of a note.
func drawPosition(t *rapid.T, c *project.Chart) project.Ticks {
	if len(c.Melody) > 0 && rapid.Bool().Draw(t, "at a note") {
		n := rapid.SampledFrom(c.Melody).Draw(t, "note")
		return rapid.SampledFrom([]project.Ticks{n.Start, n.End(), n.End() - 1}).Draw(t, "edge")
	}
	return project.Ticks(rapid.Int64Range(0, int64(c.Length())-1).Draw(t, "at"))
}

// Passages partition the bars.
func TestPassageBars(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		next, end := 0, project.Ticks(0)
		for i := range c.Passages {
			first, last := c.PassageBars(i)
			start, stop := c.PassageTime(i)
			if first != next || last <= first || start != end || stop != c.BarStart(last) {
				t.Fatalf("passage %d covers bars %d to %d, ticks %d to %d", i, first, last, start, stop)
			}
			for bar := first; bar < last; bar++ {
				if c.PassageAt(bar) != i {
					t.Fatalf("bar %d is in passage %d, want %d", bar, c.PassageAt(bar), i)
				}
			}
			next, end = last, stop
		}
		if next != len(c.Bars) {
			t.Fatalf("passages end at bar %d", next)
		}
	})
}

func TestMeter(t *testing.T) {
	for _, s := range []string{"4/4", "6/8", "1/1", "64/128", "7/16", "2+3/4", "2+2+3/8", "3+3/4", "10+54/128"} {
		m, err := project.ParseMeter(s)
		if err != nil || m.String() != s {
			t.Errorf("%s: %v, %v", s, m, err)
		}
	}
	for _, s := range []string{"", "4", "4/", "/4", "0/4", "4/3", "65/4", "4/256", "-1/4", "4/4/4", "C", "2+/4", "+3/4", "2++3/4", "0+4/4", "02+3/4", "2+3", "60+5/4", "2+a/4", "2 + 3/4", "99999999999999999999+1/4"} {
		if m, err := project.ParseMeter(s); err == nil {
			t.Errorf("%q was read as %v", s, m)
		}
	}
	if got := (project.Meter{Beats: 12, Unit: 8}).Pulse(); got != 3*q/2 {
		t.Errorf("12/8 pulses in %d ticks", got)
	}
	if got := project.CommonTime.Pulse(); got != q {
		t.Errorf("4/4 pulses in %d ticks", got)
	}
}
