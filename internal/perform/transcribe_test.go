package perform

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// playing returns a performance of bars of 4/4 at 120 with a swing.
func playing(t *testing.T, bars int, swing float64) *Performance {
	t.Helper()
	r := realised(strings.TrimSpace(strings.Repeat("- ", bars)))
	r.Chart.Swing = swing
	return perform(t, r, Options{})
}

// strokes reads "60 0-0.5" in beats of half a second.
func strokes(beats ...float64) (list []Stroke) {
	for i := 0; i+2 < len(beats); i += 3 {
		list = append(list, Stroke{int(beats[i]), beats[i+1] / 2, beats[i+2] / 2})
	}
	return list
}

// written tells notes as "C4 0+1" in quarters.
func written(notes []project.Note) string {
	var words []string
	for _, n := range notes {
		words = append(words, fmt.Sprintf("%v %.4g+%.4g", n.Pitch, float64(n.Start)/float64(q), float64(n.Duration)/float64(q)))
	}
	return strings.Join(words, ", ")
}

func TestTranscribe(t *testing.T) {
	for _, tc := range []struct {
		name  string
		swing float64
		grid  Grid
		in    []Stroke
		want  string
	}{
		{"late and early quarters", 0.5, Grid{Value: 8}, strokes(60, 0.05, 0.98, 62, 0.94, 2.1, 64, 2.02, 3), "C4 0+1, D4 1+1, E4 2+1"},
		{"a first note in the count-in", 0.5, Grid{Value: 8}, strokes(60, -0.1, 1), "C4 0+1"},
		{"what is played in the count-in itself", 0.5, Grid{Value: 8}, strokes(60, -1.4, -1, 62, 0, 1), "D4 0+1"},
		{"lifted a little early is no rest", 0.5, Grid{Value: 8}, strokes(60, 0, 0.7, 62, 1, 1.7, 64, 2, 3), "C4 0+1, D4 1+1, E4 2+1"},
		{"short notes are short", 0.5, Grid{Value: 8}, strokes(60, 0, 0.45, 62, 1, 1.4, 64, 2, 3), "C4 0+0.5, D4 1+0.5, E4 2+1"},
		{"the top of a chord", 0.5, Grid{Value: 8}, strokes(60, 0.02, 2, 67, 0, 2, 64, 0.05, 2), "G4 0+2"},
		{"legato overlaps", 0.5, Grid{Value: 8}, strokes(60, 0, 1.2, 62, 1, 2.3, 64, 2, 3), "C4 0+1, D4 1+1, E4 2+1"},
		{"swung eighths are eighths", 0.64, Grid{Value: 8}, strokes(60, 0, 0.6, 62, 0.66, 1, 64, 1.02, 1.6, 65, 1.63, 2), "C4 0+0.5, D4 0.5+0.5, E4 1+0.5, F4 1.5+0.5"},
		{"and stay eighths where triplets are allowed", 0.62, Grid{Value: 8, Triplets: SomeTriplets}, strokes(60, 0, 0.6, 62, 0.66, 1), "C4 0+0.5, D4 0.5+0.5"},
		{"a triplet under swing", 0.62, Grid{Value: 8, Triplets: SomeTriplets}, strokes(60, 0, 0.3, 62, 0.34, 0.6, 64, 0.68, 1, 65, 1, 1.6, 67, 1.62, 2),
			"C4 0+0.3333, D4 0.3333+0.3333, E4 0.6667+0.3333, F4 1+0.5, G4 1.5+0.5"},
		{"a single late note is no triplet", 0.5, Grid{Value: 8, Triplets: SomeTriplets}, strokes(60, 0.32, 1, 62, 1, 2), "C4 0.5+0.5, D4 1+1"},
		{"no triplets asked for", 0.5, Grid{Value: 16}, strokes(60, 0, 0.3, 62, 0.34, 0.6, 64, 0.68, 1), "C4 0+0.25, D4 0.25+0.5, E4 0.75+0.25"},
		{"triplets only", 0.5, Grid{Value: 8, Triplets: AllTriplets}, strokes(60, 0, 0.6, 62, 0.66, 1), "C4 0+0.6667, D4 0.6667+0.3333"},
		{"quarter triplets", 0.5, Grid{Value: 4, Triplets: SomeTriplets}, strokes(60, 0, 0.6, 62, 0.7, 1.3, 64, 1.32, 2, 65, 2, 3),
			"C4 0+0.6667, D4 0.6667+0.6667, E4 1.333+0.6667, F4 2+1"},
		{"a trill faster than the grid", 0.5, Grid{Value: 4}, strokes(60, 0, 0.1, 62, 0.1, 0.2, 60, 0.2, 1), "D4 0+1"},
		{"the last note is cut at the end", 0.5, Grid{Value: 8}, strokes(60, 7, 12), "C4 7+1"},
		{"struck at the very end", 0.5, Grid{Value: 8}, strokes(60, 7.9, 12), ""},
		{"nothing", 0.5, Grid{Value: 8}, nil, ""},
		{"no such grid", 0.5, Grid{Value: 12}, strokes(60, 0, 1), ""},
	} {
		if got := written(playing(t, 2, tc.swing).Transcribe(tc.in, tc.grid)); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.name, got, tc.want)
		}
	}
}

func TestTranscribingSpellsByTheChord(t *testing.T) {
	p := playing(t, 1, 0.5)
	p.chart.Changes = []project.Change{{Start: 0, Chord: theory.MustParseChord("Ab6")}, {Start: 2 * q, Chord: theory.MustParseChord("E7")}}
	if got := written(p.Transcribe(strokes(68, 0, 1, 68, 2, 3), Grid{Value: 4})); got != "Ab4 0+1, G#4 2+1" {
		t.Error(got)
	}
}

// TestTranscribingCompoundMeters rounds to the eighths of a dotted beat, which
// need no triplets, and swings nothing.
func TestTranscribingCompoundMeters(t *testing.T) {
	r := realised("- -")
	r.Chart.Swing = 0.66
	for i := range r.Chart.Bars {
		r.Chart.Bars[i] = project.NewBar(project.Meter{Beats: 6, Unit: 8})
	}
	p := perform(t, r, Options{})
	for _, triplets := range []Triplets{NoTriplets, SomeTriplets} {
		got := written(p.Transcribe(strokes(60, 0, 0.4, 62, 0.47, 1, 64, 1.04, 1.5, 65, 1.5, 3, 67, 3.5, 4.5), Grid{Value: 8, Triplets: triplets}))
		if want := "C4 0+0.5, D4 0.5+0.5, E4 1+0.5, F4 1.5+1.5, G4 3.5+1"; got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// TestTranscribingARepeat keeps what was played the last time through.
func TestTranscribingARepeat(t *testing.T) {
	r := realised("|: - - :|")
	p := perform(t, r, Options{})
	if p.Length < 8*q || len(p.Played) < 2*len(r.Chart.Bars) {
		t.Skip("the marks do not repeat")
	}
	got := p.Transcribe(strokes(60, 0, 1, 67, p.SecondsOf(p.Played[len(r.Chart.Bars)].At)*2, 100), Grid{Value: 4})
	if len(got) != 1 || got[0].Pitch.Key() != 67 || got[0].Start != 0 || got[0].End() != r.Chart.Length() {
		t.Errorf("%s", written(got))
	}
}

// TestWhatIsWrittenDownIsALine holds for anything that is played to anything:
// notes ascend, do not overlap, and stay in the bars.
func TestWhatIsWrittenDownIsALine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRealisation(t)
		p, err := Perform(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var list []Stroke
		for range rapid.IntRange(0, 30).Draw(t, "strokes") {
			down := rapid.Float64Range(-2, p.Duration+2).Draw(t, "down")
			list = append(list, Stroke{rapid.IntRange(0, 127).Draw(t, "key"), down, down + rapid.Float64Range(0, 3).Draw(t, "held")})
		}
		g := Grid{rapid.SampledFrom([]int{4, 8, 16, 32}).Draw(t, "value"), Triplets(rapid.IntRange(0, 2).Draw(t, "triplets"))}
		last := project.Ticks(0)
		for _, n := range p.Transcribe(list, g) {
			if n.Start < last || n.Duration <= 0 || n.End() > r.Chart.Length() || !n.Pitch.IsValid() {
				t.Fatalf("note %+v after %d", n, last)
			}
			last = n.End()
		}
	})
}

// TestPlayingWhatIsWrittenGivesItBack writes a melody on a grid, lets the
// performance play it, moves each key by less than half a step and writes it
// down again: the same notes come out, under any swing and tempo.
func TestPlayingWhatIsWrittenGivesItBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Grid{rapid.SampledFrom([]int{4, 8, 16}).Draw(t, "value"), rapid.SampledFrom([]Triplets{NoTriplets, AllTriplets}).Draw(t, "triplets")}
		step := project.Whole / project.Ticks(g.Value)
		if g.Triplets == AllTriplets {
			step = step * 2 / 3
		}
		r := realised("- - - -")
		r.Chart.Swing = rapid.Float64Range(0.5, 0.67).Draw(t, "swing")
		if g.Triplets == AllTriplets && g.Value > 8 {
			r.Chart.Swing = 0.5 // half a beat alone is played swung, which no triplet means
		}
		r.Chart.Tempo = rapid.Float64Range(40, 240).Draw(t, "tempo")
		want := anyMelody(t, step, r.Chart.Length())
		for _, n := range want {
			r.Notes = append(r.Notes, arrange.Note{Start: n.Start, Duration: n.Duration, Key: n.Pitch.Key()})
		}
		p, err := Perform(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		// The shortest step of the grid as played is the later half of a beat.
		reach := 0.45 * (1 - r.Chart.Swing) / 0.5 * float64(step) / float64(project.Quarter) * 60 / r.Chart.Tempo
		got := p.Transcribe(sloppily(t, p, reach), g)
		if !slices.Equal(got, want) {
			t.Fatalf("played %s, written down %s", written(want), written(got))
		}
	})
}

// anyMelody draws notes on a grid, each at least a step and with either no rest
// or one of two steps and more after it: a shorter one is a matter of touch.
func anyMelody(t *rapid.T, step, end project.Ticks) (notes []project.Note) {
	for at := project.Ticks(0); at < end; {
		length := min(step*project.Ticks(rapid.IntRange(1, 5).Draw(t, "length")), end-at)
		key := rapid.IntRange(48, 84).Draw(t, "key")
		if n := len(notes); n > 0 && notes[n-1].Pitch.Key() == key {
			key++ // a key that is struck again is lifted early, which is a matter of touch too
		}
		notes = append(notes, project.Note{Start: at, Duration: length, Pitch: theory.PitchAt(theory.NewKey(theory.NewName(theory.C, 0), theory.Major).Spell(key%12), key)})
		at += length
		if rapid.IntRange(0, 3).Draw(t, "rest") == 0 {
			at += step * project.Ticks(rapid.IntRange(2, 4).Draw(t, "rests"))
		}
	}
	return notes
}

// sloppily plays a performance's keys, each pressed and released a little off.
func sloppily(t *rapid.T, p *Performance, reach float64) (list []Stroke) {
	open := map[int]int{}
	for _, e := range p.Events {
		off := rapid.Float64Range(-reach, reach).Draw(t, "off")
		switch e.Kind {
		case KeyDown:
			open[e.Key] = len(list)
			list = append(list, Stroke{Key: e.Key, Down: e.Seconds + off})
		case KeyUp:
			list[open[e.Key]].Up = e.Seconds + off
		}
	}
	return list
}

// BenchmarkTranscribe writes down eighths over 200 bars of 4/4.
func BenchmarkTranscribe(b *testing.B) {
	r := realised(strings.TrimSpace(strings.Repeat("- ", 200)))
	p, err := Perform(r, Options{})
	if err != nil {
		b.Fatal(err)
	}
	var list []Stroke
	for i := range 1600 {
		list = append(list, Stroke{60 + i%12, float64(i) / 4, float64(i)/4 + 0.2})
	}
	for b.Loop() {
		p.Transcribe(list, Grid{Value: 8, Triplets: SomeTriplets})
	}
}
