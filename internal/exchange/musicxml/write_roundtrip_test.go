package musicxml

import (
	"bytes"
	"math"
	"reflect"
	"slices"
	"testing"

	"organbook/internal/project"

	"pgregory.net/rapid"
)

type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
	Logf(format string, args ...any)
}

// readBack reads a written score.
func readBack(t fataler, score []byte) *project.Chart {
	t.Helper()
	c, warnings, err := Read(bytes.NewReader(score), int64(len(score)), "tune.musicxml")
	if err != nil {
		t.Fatalf("%v\n%s", err, score)
	}
	t.Logf("warnings: %v", warnings)
	return c
}

// sameTune fails unless two charts agree in all that a score holds.
func sameTune(t fataler, got, want *project.Chart) {
	t.Helper()
	if !slices.Equal(got.Melody, want.Melody) {
		t.Fatalf("melody\n got %v\nwant %v", got.Melody, want.Melody)
	}
	if !slices.Equal(got.Changes, want.Changes) {
		t.Fatalf("changes\n got %v\nwant %v", got.Changes, want.Changes)
	}
	if got.Composer != want.Composer {
		t.Fatalf("composer %q, want %q", got.Composer, want.Composer)
	}
	if math.Abs(got.Swing-want.Swing) > 0.001 {
		t.Fatalf("swing %v, want %v", got.Swing, want.Swing)
	}
	if len(got.Bars) != len(want.Bars) {
		t.Fatalf("%d bars, want %d", len(got.Bars), len(want.Bars))
	}
	for i := range got.Bars {
		if g, w := normal(got, i), normal(want, i); !reflect.DeepEqual(g, w) {
			t.Fatalf("bar %d\n got %+v\nwant %+v", i, g, w)
		}
	}
}

// normal returns a bar with what can be written in two ways made one.
func normal(c *project.Chart, i int) project.Bar {
	b := c.Bars[i]
	b.Key, b.Tempo = c.KeyOfBar(i), c.TempoAt(c.BarStart(i))
	if b.Times == 2 {
		b.Times = 0
	}
	if len(b.Ending) > 0 && (i == 0 || !slices.Equal(c.Bars[i-1].Ending, b.Ending)) {
		b.EndingStart = true
	}
	return b
}

func TestSampleReadsBack(t *testing.T) {
	r := sample()
	got := readBack(t, writtenScore(t, r))
	sameTune(t, got, r.Chart)
	if got.Title != r.Chart.Title {
		t.Errorf("title %q, want %q", got.Title, r.Chart.Title)
	}
}

// What is written can be read: the first voice is the lead, so the tune and
// its changes come back whatever else the realisation plays.
func TestAnyTuneReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRealisation(t)
		if len(r.Chart.Melody) == 0 {
			t.Skip("a score without notes is not read")
		}
		for i := range r.Chart.Bars { // marks at random read as print would mean them
			b := &r.Chart.Bars[i]
			b.Segno, b.Coda, b.Fine, b.ToCoda, b.Jump = false, false, false, false, project.NoJump
		}
		sameTune(t, readBack(t, writtenScore(t, r)), r.Chart)
	})
}

func TestJumpsReadBack(t *testing.T) {
	for _, jump := range []project.Jump{
		project.DaCapo, project.DaCapoAlFine, project.DaCapoAlCoda,
		project.DalSegno, project.DalSegnoAlFine, project.DalSegnoAlCoda,
	} {
		r := sample()
		for i := range r.Chart.Bars {
			b := &r.Chart.Bars[i]
			b.RepeatStart, b.RepeatEnd, b.Ending, b.EndingStart = false, false, nil, false
		}
		r.Chart.Bars[1].Segno = true
		r.Chart.Bars[2].ToCoda, r.Chart.Bars[2].Fine = true, true
		r.Chart.Bars[3].Jump = jump
		r.Chart.Bars[4].Coda = true
		t.Run(jump.String(), func(t *testing.T) {
			sameTune(t, readBack(t, writtenScore(t, r)), r.Chart)
		})
	}
}
