package ui

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
)

// tooWide is a chart with a pinned block that one hand cannot take.
func tooWide(t *testing.T) *project.Chart {
	t.Helper()
	c := project.New()
	for _, e := range []project.Edit{
		project.SetChord{Start: 0, Chord: theory.MustParseChord("C6")},
		project.SetPlan{Plan: project.SoloOverComp},
		project.AddNote{Note: project.Note{Duration: project.Whole, Pitch: theory.MustParsePitch("G5")}},
		project.SetPin{Voices: []theory.Pitch{
			theory.MustParsePitch("G5"), theory.MustParsePitch("E5"), theory.MustParsePitch("C5"), theory.MustParsePitch("C4"),
		}},
	} {
		next, err := e.Apply(c)
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	return c
}

// TestWalkingFindingsByKey opens the findings, walks to the first one, takes
// its first way out with Enter and takes that back.
func TestWalkingFindingsByKey(t *testing.T) {
	w := open(t, Options{Chart: tooWide(t)}, alwaysDark, fyne.NewSize(1280, 720))
	w.background = func(do func()) { do() }
	w.FocusPanel(command.Reach)
	n := len(w.session.Reach().Findings)
	if n == 0 || w.session.Finding() != 0 {
		t.Fatalf("%d findings, the %d. is chosen; want the first", n, w.session.Finding())
	}
	row := w.bench.findings.rows[0]
	if !strings.Contains(row.head(), "unplayable") || len(row.ways) == 0 {
		t.Fatalf("row %q offers %d ways out", row.head(), len(row.ways))
	}
	before := w.session.Chart()
	press(w, fyne.KeyReturn)
	if len(w.session.Reach().Findings) >= n {
		t.Errorf("Enter left %d findings of %d", len(w.session.Reach().Findings), n)
	}
	w.run("edit.undo")
	if !w.session.Chart().Equal(before) {
		t.Error("one undo did not take the way out back")
	}
	w.run("reach.next")
	row = w.bench.findings.rows[0]
	row.Tapped(&fyne.PointEvent{Position: fyne.NewPos(wayLeft+4, row.ways[0].top+4)})
	if w.session.Chart().Equal(before) {
		t.Error("the button of a way out did nothing")
	}
	w.run("focus.bench")
	if w.bench.page != command.Bench || w.win.Canvas().Focused() != w.bench {
		t.Error("the bench did not come back")
	}
}

// TestMeasuringTheFindingsBeforeTheirUpdate measures the page, as a frame does,
// after an edit gave the report more findings than the page has rows.
func TestMeasuringTheFindingsBeforeTheirUpdate(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.background = func(do func()) { do() }
	w.session.OpenImported(project.New())
	w.FocusPanel(command.Reach)
	rows := len(w.bench.findings.rows)
	w.flushing = true // holds the update back, as an edit does to the end of its turn
	w.session.OpenImported(tooWide(t))
	if n := len(w.session.Reach().Findings); n <= rows {
		t.Fatalf("%d findings for %d rows: nothing is missing to measure", n, rows)
	}
	w.bench.body.MinSize()
	if got := len(w.bench.findings.objects()); got != 3+rows {
		t.Errorf("%d objects before the update, want the %d of the report shown", got, 3+rows)
	}
	w.flush()
	w.bench.body.MinSize()
	if got, n := len(w.bench.findings.objects()), len(w.session.Reach().Findings); got < 3+n {
		t.Errorf("%d objects after the update for %d findings", got, n)
	}
}

func TestThePlayerIsRemembered(t *testing.T) {
	o := Options{Own: filepath.Join(t.TempDir(), "own.json")}
	w := open(t, o, alwaysDark, fyne.NewSize(1280, 720))
	p := reach.DefaultProfile()
	p.Name, p.Hands[0], p.Speed = ownHands, reach.Stretch{Comfortable: 150, Maximal: 190}, 0.8
	if err := w.keepPlayer(p); err != nil {
		t.Fatal(err)
	}
	if got := nextWindow(t, w).player(); got != p {
		t.Errorf("remembered %+v, want %+v", got, p)
	}
}

func TestReadingAStretch(t *testing.T) {
	for _, tc := range []struct {
		text string
		want reach.Stretch
		bad  bool
	}{
		{"188–212", reach.Stretch{Comfortable: 188, Maximal: 212}, false},
		{"150 - 190 mm", reach.Stretch{Comfortable: 150, Maximal: 190}, false},
		{"150", reach.Stretch{}, true},
		{"wide–wider", reach.Stretch{}, true},
	} {
		got, err := readStretch(tc.text)
		if (err != nil) != tc.bad || err == nil && got != tc.want {
			t.Errorf("%q: %v, %v", tc.text, got, err)
		}
	}
}
