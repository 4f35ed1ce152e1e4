package arrange

import (
	"math/rand"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// eighths makes a chart of so many bars filled with eighth notes over a minor
// ii–V–i and a major one in turn.
func eighths(bars int) *project.Chart {
	c := project.New()
	c.Key = theory.MustParseKey("G minor")
	changes := []string{"Am7b5", "D7", "Gm6", "Gm6", "Cm7", "F7", "Bbmaj7", "Eb7"}
	line := []string{"Eb5", "D5", "C5", "Bb4", "A4", "C5", "Bb4", "G4", "F#4", "A4", "C5", "Eb5", "D5", "Bb4", "G4", "Bb4",
		"A4", "Bb4", "B4", "C5", "D5", "F5", "E5", "Eb5", "D5", "C5", "Bb4", "Ab4", "G4", "F4", "G4", "A4"}
	c.Bars = nil
	for i := range bars {
		c.Bars = append(c.Bars, project.NewBar(project.CommonTime))
		at := project.Ticks(i) * project.Whole
		c.Changes = append(c.Changes, project.Change{Start: at, Chord: theory.MustParseChord(changes[i%len(changes)])})
		for k := range 8 {
			c.Melody = append(c.Melody, project.Note{
				Start: at + project.Ticks(k)*project.Quarter/2, Duration: project.Quarter / 2,
				Pitch: theory.MustParsePitch(line[(8*i+k)%len(line)]),
			})
		}
	}
	return c
}

func benchmarkRealise(b *testing.B, bars int) {
	c := eighths(bars)
	b.ReportAllocs()
	for b.Loop() {
		Realise(c, Options{})
	}
}

// BenchmarkArrange64 measures the analysis and the search alone, without hands,
// comp, bass and the reach report.
func BenchmarkArrange64(b *testing.B) {
	c := eighths(64)
	b.ReportAllocs()
	for b.Loop() {
		arrangeOnly(c, Options{})
	}
}

// anyChanges is eighths over changes that have nothing to do with each other.
func anyChanges(bars int) *project.Chart {
	rng := rand.New(rand.NewSource(3))
	c := eighths(bars)
	c.Changes = nil
	for i := range 2 * bars {
		symbol := theory.NameFromFifths(rng.Intn(12)-6).String() + anySymbols[rng.Intn(len(anySymbols))]
		c.Changes = append(c.Changes, project.Change{Start: project.Ticks(i) * project.Whole / 2, Chord: theory.MustParseChord(symbol)})
	}
	return c
}

// BenchmarkArrangeAny64 is the same for a tune in which hardly a note comes back
// over the same chord.
func BenchmarkArrangeAny64(b *testing.B) {
	c := anyChanges(64)
	b.ReportAllocs()
	for b.Loop() {
		arrangeOnly(c, Options{})
	}
}

func BenchmarkRealise64(b *testing.B)  { benchmarkRealise(b, 64) }
func BenchmarkRealise256(b *testing.B) { benchmarkRealise(b, 256) }

// BenchmarkRealiseEdit64 moves a note in the middle by a step and back, and
// realises each chart with what was known of the one before, as a window does.
func BenchmarkRealiseEdit64(b *testing.B) {
	c := eighths(64)
	up, err := project.MoveNotes{Starts: []project.Ticks{c.Melody[256].Start}, Pitch: project.PitchMove{N: 1}}.Apply(c)
	if err != nil {
		b.Fatal(err)
	}
	charts := [2]*project.Chart{up, c}
	r := Realise(c, Options{})
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		r = Realise(charts[i%2], Options{After: r})
	}
}

func BenchmarkAlternatives(b *testing.B) {
	r := Realise(eighths(64), Options{})
	for b.Loop() {
		r.Alternatives(256)
	}
}
