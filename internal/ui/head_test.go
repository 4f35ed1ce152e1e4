package ui

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/paint"
)

// TestTheHeadOpensItsForms clicks title, key, meter and tempo in the head with
// the caret elsewhere: each opens the form of the chart's start.
func TestTheHeadOpensItsForms(t *testing.T) {
	for _, c := range []struct{ word, holds, types, want string }{
		{"", "", "Renamed", "Renamed"},
		{"minor", "minor", "A minor", "A minor"},
		{"4/4", "4/4", "3/4", "3/4"},
		{"♩", "", "99", "♩ = 99"},
	} {
		w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
		w.session.SetCaret(w.session.Chart().BarStart(9))
		p := fyne.NewPos(5, w.top.head.title.Position().Y+8)
		if before, _, ok := strings.Cut(w.top.head.facts.Text, c.word); ok && c.word != "" {
			p = fyne.NewPos(float32(paint.TextWidth(before, paint.Regular, float64(sizeSmall)))+3, w.top.head.facts.Position().Y+6)
		}
		w.top.head.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}})
		if w.top.head.line.Position().X < 0 {
			t.Errorf("%q is not underlined", c.word)
		}
		w.top.head.Tapped(&fyne.PointEvent{Position: p})
		e, ok := w.win.Canvas().Focused().(*escEntry)
		if !ok || !strings.Contains(e.Text, c.holds) {
			t.Errorf("a click on %q opens no form with %q", c.word, c.holds)
			continue
		}
		e.SetText(c.types)
		e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		if head := w.top.head.title.Text + w.top.head.facts.Text; !strings.Contains(head, c.want) {
			t.Errorf("after %q the head says %q", c.types, head)
		}
		w.session.Undo()
		if head := w.top.head.title.Text + w.top.head.facts.Text; strings.Contains(head, c.want) {
			t.Errorf("undone, the head still says %q", c.want)
		}
	}
}

// TestTheHeadGoesByTheFileWhileThereIsNoTitle: saving names a chart in the head, in
// the window's title and among the recent files, and leaves its title alone.
func TestTheHeadGoesByTheFileWhileThereIsNoTitle(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	path := filepath.Join(t.TempDir(), "slow ferry.organbook")
	says := func(when, head, window string) {
		t.Helper()
		w.flush()
		if got := w.top.head.title.Text; got != head {
			t.Errorf("%s, the head says %q, want %q", when, got, head)
		}
		if got := w.win.Title(); got != window+" — Organbook" {
			t.Errorf("%s, the window is called %q, want %q", when, got, window)
		}
	}
	says("new", "Untitled", "Untitled •")
	typeRunes(w, "cde")
	w.saveTo(path, func() {})
	says("saved", "slow ferry", "slow ferry.organbook")
	if list := w.recentButtons(func(string) {}, func() {}); len(list) != 1 || !strings.HasPrefix(list[0].Text, "slow ferry.organbook ") {
		t.Error("the recent files do not name it")
	}
	if title := loaded(t, path).Title; title != "" || w.session.Dirty() {
		t.Errorf("the chart's title is %q, unsaved: %v", title, w.session.Dirty())
	}
	if err := w.session.SetHead("Ferry at Night", "", w.session.Chart().Console); err != nil {
		t.Fatal(err)
	}
	says("with a title", "Ferry at Night", "slow ferry.organbook •")
	w.session.Undo()
	says("without it again", "slow ferry", "slow ferry.organbook")
	inGerman(t)
	w.session.Open(project.New(), "")
	says("in German", "Ohne Titel", "Ohne Titel")
}

// TestAChangeIsEditedWhereItStands changes meter, key and tempo inside a chart
// by their commands and then by a double click on the words over the bar.
func TestAChangeIsEditedWhereItStands(t *testing.T) {
	w := open(t, Options{Chart: plainChart(t, 16)}, alwaysLight, fyne.NewSize(1280, 720))
	for bar, do := range map[int]func() error{
		4:  func() error { return w.session.SetMeter(project.Meter{Beats: 3, Unit: 4}) },
		8:  func() error { return w.session.SetKey(theory.MustParseKey("Eb")) },
		12: func() error { return w.session.SetTempo(90, 0.5) },
	} {
		w.session.SetCaret(w.session.Chart().BarStart(bar))
		if err := do(); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		bar          int
		holds, type_ string
	}{{4, "3/4", "5/4"}, {8, "Eb", "F"}, {12, "90", "60"}} {
		b := w.grid.layout.Bars[c.bar]
		at := fyne.NewPos(float32(b.X)+8, float32(w.grid.layout.Systems[b.System].Marks.Y)+8)
		later(time.Minute) // not the second click on the bar before
		click(w, float64(at.X), float64(at.Y), 0)
		w.grid.DoubleTapped(&fyne.PointEvent{Position: at})
		e, ok := w.win.Canvas().Focused().(*escEntry)
		if !ok || !strings.Contains(e.Text, c.holds) {
			t.Errorf("bar %d: no form with %q", c.bar, c.holds)
			continue
		}
		e.SetText(c.type_)
		e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		if w.win.Canvas().Overlays().Top() != nil {
			t.Errorf("bar %d: the form stays", c.bar)
		}
	}
	chart := w.session.Chart()
	if m := chart.Bars[4].Meter; m.Beats != 5 || chart.Bars[15].Meter != m {
		t.Errorf("the meter is %v at first and %v at last", m, chart.Bars[15].Meter)
	}
	if k := chart.Bars[8].Key.String(); k != "F major" {
		t.Errorf("the key is %s", k)
	}
	if chart.Bars[12].Tempo != 60 || chart.Tempo == 60 {
		t.Errorf("the tempo is %v, at the start %v", chart.Bars[12].Tempo, chart.Tempo)
	}
}

// plainChart is a chart of empty bars in common time.
func plainChart(t *testing.T, bars int) *project.Chart {
	t.Helper()
	c := project.New()
	c, err := project.InsertBars{At: len(c.Bars), Count: bars - len(c.Bars)}.Apply(c)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestTheHeadCountsBarsAsThePageDoes adds a pick-up, which has no number.
func TestTheHeadCountsBarsAsThePageDoes(t *testing.T) {
	w := open(t, Options{Chart: plainChart(t, 12)}, alwaysDark, fyne.NewSize(1280, 720))
	for _, tc := range []struct{ pickup, want string }{{"0", "12 bars"}, {"1", "12 bars and a pick-up"}} {
		if err := w.session.SetPickup(tc.pickup); err != nil && tc.pickup != "0" {
			t.Fatal(err)
		}
		if facts := strings.Split(chartFacts(w.session.Chart()), factsApart); facts[len(facts)-1] != tc.want {
			t.Errorf("with a pick-up of %s beats the head says %q, want %q", tc.pickup, facts, tc.want)
		}
	}
}

// TestTheHeadIsReadWholeBesideTheButtons opens the window in both languages at
// several widths: whole facts stand in the head, the first four of them from 1000
// units on and the whole title from 700, and nothing lies over the buttons.
func TestTheHeadIsReadWholeBesideTheButtons(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	for _, language := range []string{"en", "de"} {
		w.run("language." + language)
		whole := strings.Split(tr(paint.Facts(w.session.Chart())), factsApart)
		for width := float32(640); width <= 1600; width += 32 {
			w.win.Resize(fyne.NewSize(width, 720))
			h := w.top.head
			shown := strings.Split(h.facts.Text, factsApart)
			if !slices.Equal(shown, whole[:min(len(shown), len(whole))]) {
				t.Errorf("%s, %g wide: the head says %q", language, width, h.facts.Text)
			}
			if width >= 1000 && len(shown) < 4 || width >= 700 && h.title.Text != w.session.Chart().Title {
				t.Errorf("%s, %g wide: the head says only %q, %q", language, width, h.title.Text, h.facts.Text)
			}
			if end, first := h.Position().X+max(h.facts.MinSize().Width, h.title.MinSize().Width), w.top.rewind.Position().X; end > first {
				t.Errorf("%s, %g wide: the head ends at %g, the buttons begin at %g", language, width, end, first)
			}
			if pace, level := w.top.pace, w.top.level; pace.Visible() && level.Visible() && pace.Position().X+pace.Size().Width > level.Position().X {
				t.Errorf("%s, %g wide: the tempo lies over the level", language, width)
			}
		}
	}
	if err := speak("en"); err != nil {
		t.Fatal(err)
	}
}

// TestTheTabsStandInOneLine looks at the column's tabs where it is narrow.
func TestTheTabsStandInOneLine(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1024, 700))
	inGerman(t)
	w.run("language.de")
	for i, tab := range w.bench.tabs {
		if tab.Position().Y != w.bench.tabs[0].Position().Y || i > 0 && tab.Position().X < w.bench.tabs[i-1].Position().X+w.bench.tabs[i-1].Size().Width {
			t.Errorf("%q stands at %v", tab.label, tab.Position())
		}
	}
	if last := w.bench.tabs[3]; last.Position().X+last.Size().Width > w.bench.foldButton.Position().X {
		t.Error("the last tab lies under the fold button")
	}
}

// TestLevelOfNothingHasNoSign writes the level as a mixing desk does.
func TestLevelOfNothingHasNoSign(t *testing.T) {
	for db, want := range map[float64]string{0: "level 0 dB", -0.2: "level 0 dB", -9: "level −9 dB", 3: "level +3 dB"} {
		if got := levelText(db); got != want {
			t.Errorf("%v dB is written %q, want %q", db, got, want)
		}
	}
}

// TestTheHeadShowsAndChangesTheSwing turns the wheel over it, clicks on it, and uses
// the keys; in a chart with straight eighths there is none.
func TestTheHeadShowsAndChangesTheSwing(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	h := w.top.head
	at := func(fact string) fyne.Position {
		before, _, ok := strings.Cut(h.facts.Text, fact)
		if !ok {
			t.Fatalf("the head says %q", h.facts.Text)
		}
		return fyne.NewPos(float32(paint.TextWidth(before, paint.Regular, float64(sizeSmall)))+3, h.facts.Position().Y+6)
	}
	wheel := func(p fyne.Position, dy float32) {
		h.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: p}, Scrolled: fyne.Delta{DY: dy}})
	}
	wheel(at("swing 62 %"), 10)
	if h.facts.Text != "G minor · 4/4 · ♩ = 168 · swing 63 % · 44 bars" || w.session.Message() != "Eighths swing: 63 %, long to short as 1.7 to 1." {
		t.Errorf("a step of the wheel makes it %q, %q", h.facts.Text, w.session.Message())
	}
	wheel(at("♩"), 10)
	w.run("swing.less")
	w.run("swing.less")
	if h.facts.Text != "G minor · 4/4 · ♩ = 168 · swing 61 % · 44 bars" {
		t.Errorf("two steps less make it %q", h.facts.Text)
	}
	p := at("swing")
	h.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}})
	if h.line.Position().X < 0 || w.status.hinted != swingHint {
		t.Errorf("under the pointer the swing is not underlined, or the line says %q", w.status.hinted)
	}
	h.Tapped(&fyne.PointEvent{Position: p})
	if texts := strings.Join(shownTexts(shownMenu(w)), "\n"); !strings.Contains(texts, "hard, 72 %") || !strings.Contains(texts, "Tempo and swing") {
		t.Errorf("a click opens %q", texts)
	}
	w.session.Undo()
	if !strings.Contains(h.facts.Text, "swing 62 %") {
		t.Errorf("undone, the head says %q", h.facts.Text)
	}
	for range 40 {
		w.run("swing.more")
	}
	if !strings.Contains(h.facts.Text, "swing 80 %") {
		t.Errorf("at most it is %q", h.facts.Text)
	}
	w.run("swing.straight")
	if strings.Contains(h.facts.Text, "swing") || w.session.Message() != "Eighths are straight." || len(h.parts()) != 4 {
		t.Errorf("without swing the head says %q, %q", h.facts.Text, w.session.Message())
	}
	wheel(at("44"), -10)
	w.run("swing.less")
	if w.session.Chart().Swing != 0.5 {
		t.Errorf("the swing is %v", w.session.Chart().Swing)
	}
}

// TestTheTempoFormKeepsTheSwing that is no whole number of hundredths.
func TestTheTempoFormKeepsTheSwing(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("swing.triplet")
	w.run("bar.tempo")
	e := w.win.Canvas().Focused().(*escEntry)
	e.SetText("99")
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if c := w.session.Chart(); c.Tempo != 99 || c.Swing != 2.0/3 {
		t.Errorf("the tempo is %v, the swing %v", c.Tempo, c.Swing)
	}
}
