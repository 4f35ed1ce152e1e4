package paint

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// drawRealisation draws a chart of random meters, marks, melody and blocks.
func drawRealisation(t *rapid.T) *arrange.Realisation {
	c := &project.Chart{Key: theory.MustParseKey("C major"), Tempo: 120, Swing: 0.5}
	meters := []project.Meter{{Beats: 4, Unit: 4}, {Beats: 3, Unit: 4}, {Beats: 6, Unit: 8}, {Beats: 1, Unit: 4}}
	for i, n := 0, rapid.IntRange(1, 40).Draw(t, "bars"); i < n; i++ {
		m := rapid.SampledFrom(meters).Draw(t, "meter")
		b := project.Bar{Meter: m, Length: m.Length(), RepeatStart: rapid.Bool().Draw(t, "start"), RepeatEnd: rapid.Bool().Draw(t, "end")}
		b.Section = rapid.SampledFrom([]string{"", "", "", "A"}).Draw(t, "section")
		if i == 0 && rapid.Bool().Draw(t, "pickup") {
			b.Unnumbered, b.Length = true, q/2
		}
		c.Bars = append(c.Bars, b)
	}
	r := &arrange.Realisation{Chart: c}
	end := c.Length()
	for at := project.Ticks(0); at < end; {
		d := min(end-at, rapid.SampledFrom([]project.Ticks{q / 4, q / 3, q, 3 * q, 9 * q}).Draw(t, "duration"))
		if rapid.IntRange(0, 3).Draw(t, "rest") > 0 {
			key := rapid.IntRange(48, 90).Draw(t, "key")
			pitch := theory.PitchAt(c.Key.Spell(key%12), key)
			c.Melody = append(c.Melody, project.Note{Start: at, Duration: d, Pitch: pitch})
			i := len(r.Steps)
			r.Steps = append(r.Steps, arrange.Step{Start: at, Duration: d, Lead: pitch})
			r.Notes = append(r.Notes, arrange.Note{Start: at, Duration: d, Key: key - 4, Layer: arrange.LayerBlock, Step: i})
		}
		at += d
	}
	return r
}

func drawOptions(t *rapid.T) GridOptions {
	return GridOptions{
		Width:      rapid.Float64Range(200, 2400).Draw(t, "width"),
		PerQuarter: rapid.SampledFrom([]float64{0, 20, 64, 200}).Draw(t, "zoom"),
		RowHeight:  rapid.SampledFrom([]float64{0, 5, 12}).Draw(t, "row height"),
	}
}

func TestLayoutProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRealisation(t)
		l := LayoutGrid(r, drawOptions(t))
		checkSystems(t, l)
		checkTime(t, l)
		checkNotes(t, l)
	})
}

// checkSystems holds that systems partition the bars and that nothing
// overlaps or leaves the width.
func checkSystems(t *rapid.T, l *GridLayout) {
	bar, y := 0, 0.0
	for k := range l.Systems {
		s := &l.Systems[k]
		if s.FirstBar != bar || s.EndBar <= s.FirstBar {
			t.Fatalf("system %d holds bars %d to %d after %d", k, s.FirstBar, s.EndBar, bar)
		}
		if s.Y < y || s.Bottom() > l.TotalHeight {
			t.Fatalf("system %d from %g to %g after %g of %g", k, s.Y, s.Bottom(), y, l.TotalHeight)
		}
		x := gutter
		for i := s.FirstBar; i < s.EndBar; i++ {
			b := &l.Bars[i]
			if b.System != k || math.Abs(b.X-x) > 1e-6 || b.musicWidth() <= 0 {
				t.Fatalf("bar %d at %g (music %g wide) of system %d, want %g", i, b.X, b.musicWidth(), b.System, x)
			}
			x = b.Right()
		}
		if s.EndBar-s.FirstBar > 1 && x > l.Options.Width {
			t.Fatalf("system %d ends at %g beyond %g", k, x, l.Options.Width)
		}
		bar, y = s.EndBar, s.Bottom()
	}
	if bar != len(l.Bars) {
		t.Fatalf("systems hold %d bars of %d", bar, len(l.Bars))
	}
}

// checkTime holds that every position has a place, that places grow with
// time within a system, and that a place gives its position back.
func checkTime(t *rapid.T, l *GridLayout) {
	lastSystem, lastX := 0, -1.0
	for at := project.Ticks(0); at < l.Ruler.Length(); at += q / 4 {
		k, x := l.X(at)
		if k < lastSystem || k == lastSystem && x <= lastX {
			t.Fatalf("position %d at system %d, %g, not after system %d, %g", at, k, x, lastSystem, lastX)
		}
		lastSystem, lastX = k, x
		s := &l.Systems[k]
		h := l.Hit(x+0.01, s.Rows.Y+1)
		if h.System != k || h.Bar != l.Ruler.BarAt(at) || h.At < at-q/10 || h.At > at+q/10 {
			t.Fatalf("position %d drawn at (%g, %g) is hit as %+v", at, x, s.Rows.Y, h)
		}
	}
}

// checkNotes holds that every melody note can be hit where it is drawn.
func checkNotes(t *rapid.T, l *GridLayout) {
	for i, n := range l.Realisation.Chart.Melody {
		r := l.NoteRect(i)
		s := &l.Systems[l.NoteSegments(i)[0].System]
		if r.X < s.Rows.X || r.Right() > s.Rows.Right()+0.01 || r.Y < s.Rows.Y-1 || r.Bottom() > s.Rows.Bottom()+1 {
			t.Fatalf("note %d at %+v outside the rows %+v", i, r, s.Rows)
		}
		if r.W <= 4 {
			continue // too short at this zoom to be pointed at
		}
		h := l.Hit(r.X+r.W/3, r.CentreY())
		if h.Kind != HitNote || h.Index != i || h.Key != n.Pitch.Key() {
			t.Fatalf("note %d at %+v is hit as %+v", i, r, h)
		}
		last := l.NoteSegments(i)[len(l.NoteSegments(i))-1]
		if last.W <= 4 {
			continue
		}
		h = l.Hit(last.Right()-0.5, last.CentreY())
		if h.Kind == HitNote && h.Index == i+1 && l.NoteSegments(i + 1)[0].W <= 4 {
			continue // a splinter at the edge of the system is drawn over the end
		}
		if h.Kind != HitNoteEnd || h.Index != i {
			t.Fatalf("the end of note %d at %+v is hit as %+v", i, last, h)
		}
	}
}

func TestHitKinds(t *testing.T) {
	l := LayoutGrid(demo(), GridOptions{Width: 1100})
	s := &l.Systems[0]
	_, gm := l.X(q)
	lanes := s.Lanes.Y + 1.5*laneHeight
	_, third := l.X(13 * q)
	for _, c := range []struct {
		name  string
		x, y  float64
		kind  HitKind
		index int
	}{
		{"above everything", 50, -3, HitNone, -1},
		{"gutter", 5, s.Rows.Y + 20, HitNone, -1},
		{"marks", gm + 30, s.Marks.Y + 5, HitBar, 1},
		{"number", l.Bars[1].X + 4, s.Chords.Y + 12, HitBar, 1},
		{"chord symbol", gm + 10, s.Chords.Y + 12, HitChord, 0},
		{"bare chord row", gm + 150, s.Chords.Y + 12, HitChord, -1},
		{"left hand's lane", gm + 20, lanes, HitLane, 1},
		{"finding", third + 9, lanes, HitFinding, 1},
		{"setting", s.Cues.X + 10, s.Cues.Y + 8, HitCue, 0},
		{"bare row", gm + 20, s.Rows.Y + 3, HitRow, -1},
	} {
		if h := l.Hit(c.x, c.y); h.Kind != c.kind || h.Index != c.index {
			t.Errorf("%s: hit %+v, want kind %d index %d", c.name, h, c.kind, c.index)
		}
	}
}

func TestSnap(t *testing.T) {
	l := LayoutGrid(demo(), GridOptions{Width: 1100})
	for _, c := range []struct{ at, step, near, down project.Ticks }{
		{0, q / 2, 0, 0},
		{q + q/3, q / 2, q + q/2, q}, // counted from the bar after the pickup
		{q + q/5, q / 2, q, q},
		{5*q - 1, q, 5 * q, 4 * q},
		{q + q/3, 0, q + q/3, q + q/3},
	} {
		if got := l.Snap(c.at, c.step); got != c.near {
			t.Errorf("Snap(%d, %d) = %d, want %d", c.at, c.step, got, c.near)
		}
		if got := l.SnapDown(c.at, c.step); got != c.down {
			t.Errorf("SnapDown(%d, %d) = %d, want %d", c.at, c.step, got, c.down)
		}
	}
}

// TestSystemsFollowThePhrase holds the reflow that musicians expect: fours,
// and a section at the front of a system.
func TestSystemsFollowThePhrase(t *testing.T) {
	r := demo()
	for _, c := range []struct {
		width float64
		want  []int
	}{
		{1100, []int{0, 5, 7}}, // pickup and four, two left of the section, B
		{560, []int{0, 3, 5, 7, 9}},
		{300, []int{0, 2, 3, 4, 5, 6, 7, 8, 9, 10}},
	} {
		l := LayoutGrid(r, GridOptions{Width: c.width})
		var got []int
		for _, s := range l.Systems {
			got = append(got, s.FirstBar)
		}
		if len(got) != len(c.want) {
			t.Errorf("width %g: systems start at %v, want %v", c.width, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("width %g: systems start at %v, want %v", c.width, got, c.want)
				break
			}
		}
	}
}

func TestPrettyFunction(t *testing.T) {
	for in, want := range map[string]string{
		"bVI": "♭VI", "V of bII": "V of ♭II", "#iv": "♯iv", "i · home": "i · home", "subV": "subV", "": "",
	} {
		if got := prettyFunction(in); got != want {
			t.Errorf("prettyFunction(%q) = %q, want %q", in, got, want)
		}
	}
}

// TestTilesJoin paints a chart in one piece and in tiles: no pixel may differ,
// or scrolling would leave seams.
func TestTilesJoin(t *testing.T) {
	l := LayoutGrid(demo(), GridOptions{Width: 700})
	for _, scale := range []float64{1, 1.5, 2} {
		whole := NewPicture(700, l.TotalHeight, scale, Dark().Ground)
		PaintGrid(whole, l, Dark(), nil)
		tiled := NewPicture(700, l.TotalHeight, scale, Light().Ground)
		b := tiled.img.Rect
		const step = 173
		for y := 0; y < b.Max.Y; y += step {
			for x := 0; x < b.Max.X; x += step {
				PaintGrid(NewCanvas(subImage(tiled.img, x, y, step), scale, 0, 0), l, Dark(), nil)
			}
		}
		if n := differing(whole, tiled); n > 0 {
			t.Errorf("scale %g: tiles differ from the whole in %d pixels", scale, n)
		}
	}
}

// A long symbol late in a bar keeps off the number of the next bar.
func TestChordSymbolsStayInTheirBar(t *testing.T) {
	chart := project.New()
	for at, symbol := range map[project.Ticks]string{3 * project.Quarter: "Bbmaj7#11/D", project.Whole - project.Quarter/2: "F#m7b5", project.Whole: "G"} {
		next, err := project.SetChord{Start: at, Chord: theory.MustParseChord(symbol)}.Apply(chart)
		if err != nil {
			t.Fatal(err)
		}
		chart = next
	}
	l := LayoutGrid(arrange.Realise(chart, arrange.Options{}), GridOptions{Width: 900})
	labels := l.placed(0).labels
	if len(labels) != 3 {
		t.Fatalf("%d labels", len(labels))
	}
	for i := range labels {
		m := &labels[i]
		bar := &l.Bars[l.Ruler.BarAt(l.Realisation.Chart.Changes[m.change].Start)]
		if m.Right() > bar.Right() || i > 0 && labels[i-1].Right() > m.X {
			t.Errorf("%s from %.0f to %.0f leaves its room (bar ends at %.0f)", m.text, m.X, m.Right(), bar.Right())
		}
		if size := fittingSize(m.text, SemiBold, m.W, chordSizes); TextWidth(Shorten(m.text, SemiBold, size, m.W), SemiBold, size) > m.W {
			t.Errorf("%s is wider than its room", m.text)
		}
	}
}

// TestManySymbolsWidenTheirBar writes four long symbols into each of two bars: none of
// them is cut, at the usual width of bars and in a narrow window, and the other bars
// stay as wide as each other.
func TestManySymbolsWidenTheirBar(t *testing.T) {
	for _, width := range []float64{700, 1100, 1600} {
		r := demo()
		var changes []project.Change
		for i, symbol := range []string{"C#maj7#11/G#", "Bb13b9/E", "F#m(maj7)/C#", "Ebm7b5/Gb", "D7b9#9/F#", "G7sus4b9/C", "Abmaj13/Bb", "Bm(maj9)/A#"} {
			changes = append(changes, project.Change{Start: q + project.Ticks(i)*q, Chord: theory.MustParseChord(symbol)})
		}
		r.Chart.Changes = changes
		l := LayoutGrid(r, GridOptions{Width: width})
		for k := range l.Systems {
			for _, m := range l.Systems[k].labels {
				size := fittingSize(m.text, SemiBold, m.W, chordSizes)
				if got := Shorten(m.text, SemiBold, size, m.W); got != m.text {
					t.Errorf("%v wide: %s is cut to %s", width, m.text, got)
				}
			}
		}
	}
}

// TestBarsOfManyLengthsFillTheirSystems lays out bars of which no two are alike.
func TestBarsOfManyLengthsFillTheirSystems(t *testing.T) {
	c := project.New()
	c.Bars = nil
	for beats := 1; beats <= 12; beats++ {
		c.Bars = append(c.Bars, project.NewBar(project.Meter{Beats: beats, Unit: 4}))
	}
	l := LayoutGrid(arrange.Realise(c, arrange.Options{}), GridOptions{Width: 1400})
	for k := range l.Systems[:len(l.Systems)-1] {
		s := &l.Systems[k]
		if s.Rows.Right() < 0.75*l.Options.Width {
			t.Errorf("system %d, bars %d to %d, ends at %.0f of %.0f", k, s.FirstBar+1, s.EndBar, s.Rows.Right(), l.Options.Width)
		}
	}
}
