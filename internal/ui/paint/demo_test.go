package paint

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"sort"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/theory"
)

const q = project.Quarter

// demo returns a realisation built by hand, so that these tests depend on the
// painter alone: eight bars and a pickup in G minor with everything that can
// stand on the grid.
func demo() *arrange.Realisation {
	c := &project.Chart{
		Title: "Lantern Stairs", Composer: "Test Chart", Key: theory.MustParseKey("G minor"),
		Tempo: 168, Swing: 2.0 / 3, Console: "full",
	}
	c.Bars = append(c.Bars, project.Bar{Meter: project.CommonTime, Length: q, Unnumbered: true})
	for i := 0; i < 10; i++ {
		c.Bars = append(c.Bars, project.Bar{Meter: project.CommonTime, Length: 4 * q})
	}
	c.Bars[1].Section, c.Bars[1].RepeatStart = "A", true
	c.Bars[1].Segno = true
	c.Bars[4].Ending, c.Bars[4].EndingStart, c.Bars[4].RepeatEnd = []int{1}, true, true
	c.Bars[5].Ending, c.Bars[5].EndingStart = []int{2}, true
	c.Bars[7].Section = "B"
	c.Bars[8].ToCoda = true
	c.Bars[10].Jump = project.DalSegnoAlCoda
	b := &demoBuilder{chart: c}
	b.melody()
	c.Passages = []project.Passage{
		{Name: "Opening", First: 0, Treatment: project.Treatment{Voicing: theory.Close}},
		{Name: "Bridge", First: 7, Plan: project.SoloOverComp, Treatment: project.Treatment{Voicing: theory.Drop24, LeadOctave: 1},
			Registration: project.Registration{Name: "low brass"}},
	}
	b.changes()
	b.blocks()
	c.Pins = []project.Pin{{Start: c.Melody[4].Start}}
	sort.SliceStable(b.r.Notes, func(i, j int) bool { return b.r.Notes[i].Start < b.r.Notes[j].Start })
	b.r.Cues = []arrange.Cue{
		{Start: 0, Kind: arrange.CueRegistration, Value: "full section over low brass"},
		{Start: 0, Kind: arrange.CueRotary, Value: "slow", Registration: project.Registration{Rotary: project.RotarySlow}},
		{Start: 0, Kind: arrange.CueExpression, Value: "6", Registration: project.Registration{Swell: 0.6}},
		{Start: 17 * q, Kind: arrange.CueRotary, Value: "fast", Registration: project.Registration{Rotary: project.RotaryFast}},
	}
	b.r.Findings = []arrange.Finding{
		{Start: 9 * q, Limb: arrange.RightHand, Severity: arrange.Caution},
		{Start: 13 * q, Limb: arrange.LeftHand, Severity: arrange.Unplayable},
	}
	return &b.r
}

type demoBuilder struct {
	chart *project.Chart
	r     arrange.Realisation
}

func (b *demoBuilder) melody() {
	t := project.Ticks(0)
	add := func(d project.Ticks, pitch string) {
		if pitch != "" {
			b.chart.Melody = append(b.chart.Melody, project.Note{Start: t, Duration: d, Pitch: theory.MustParsePitch(pitch)})
		}
		t += d
	}
	add(q/2, "D4")
	add(q/2, "F#4")
	for _, n := range []struct {
		d project.Ticks
		p string
	}{
		{q, "D5"}, {q / 2, "Eb5"}, {3 * q / 2, "D5"}, {q / 2, "C5"}, {q / 2, "Bb4"},
		{q, "A4"}, {q, "C5"}, {q, "Eb5"}, {q, "Bb4"},
		{3 * q / 2, "G5"}, {q / 2, "F#5"}, {2 * q, "G5"},
		{q / 3, "E5"}, {q / 3, "Eb5"}, {q / 3, "D5"}, {q, ""}, {2 * q, "Bb4"},
		{4 * q, "C5"}, {2 * q, "D5"}, {q, ""}, {q, "G4"},
		{q / 4, "A4"}, {q / 4, "Bb4"}, {q / 4, "B4"}, {q / 4, "C5"}, {3 * q, "D5"},
	} {
		add(n.d, n.p)
	}
}

func (b *demoBuilder) changes() {
	scale := func(tonic string, s theory.Sixth) theory.Family {
		return theory.NewFamily(theory.MustParseName(tonic), s)
	}
	gm, cm := scale("G", theory.MinorSixthFamily), scale("C", theory.MinorSixthFamily)
	for _, x := range []struct {
		at       project.Ticks
		symbol   string
		function string
		family   theory.Family
	}{
		{q, "Gm6", "i", gm}, {5 * q, "Am7b5", "ii, played as V", gm}, {7 * q, "D7b9", "V of i", gm},
		{9 * q, "Gm6", "i", gm}, {13 * q, "C7", "IV, does not resolve", scale("C", theory.DominantFamily)},
		{17 * q, "Eb7", "bVI", scale("Eb", theory.DominantFamily)}, {21 * q, "N.C.", "", theory.Family{}},
		{25 * q, "Cm6", "iv", cm}, {29 * q, "G7b9/D", "V of iv", cm}, {31 * q, "Abmaj7#11", "bII", scale("Ab", theory.MajorSixthFamily)},
	} {
		chord := theory.MustParseChord(x.symbol)
		b.chart.Changes = append(b.chart.Changes, project.Change{Start: x.at, Chord: chord})
		b.r.Spans = append(b.r.Spans, arrange.Span{Start: x.at, Chord: chord, Function: phrase.Of(x.function), Family: x.family})
	}
	spans := b.r.Spans
	spans[0].Start = 0
	for i := range spans {
		spans[i].End = b.chart.Length()
		if i+1 < len(spans) {
			spans[i].End = spans[i+1].Start
		}
	}
	b.r.Chart = b.chart
}

// blocks puts three voices in minor thirds under each note, the lead an octave
// lower in the left hand and a bass note on each half.
func (b *demoBuilder) blocks() {
	for i, n := range b.chart.Melody {
		b.r.Steps = append(b.r.Steps, arrange.Step{Start: n.Start, Duration: n.Duration, Lead: n.Pitch})
		for v := 0; v < 4; v++ {
			layer := arrange.LayerBlock
			if v == 0 {
				layer = arrange.LayerLead
			}
			b.note(n.Start, n.Duration, n.Pitch.Key()-3*v, arrange.Upper, arrange.RightHand, layer, i)
		}
		b.note(n.Start, n.Duration, n.Pitch.Key()-12, arrange.Lower, arrange.LeftHand, arrange.LayerDouble, i)
	}
	for t := q; t < b.chart.Length(); t += 2 * q {
		foot := arrange.LeftFoot
		if t/(2*q)%2 == 1 {
			foot = arrange.RightFoot
		}
		b.note(t, 2*q, 43, arrange.Pedal, foot, arrange.LayerBass, -1)
	}
}

func (b *demoBuilder) note(start, d project.Ticks, key int, div arrange.Division, limb arrange.Limb, layer arrange.Layer, step int) {
	b.r.Notes = append(b.r.Notes, arrange.Note{Start: start, Duration: d, Key: key, Division: div, Limb: limb, Layer: layer, Step: step})
}

// savePicture writes a picture where -pictures asks for it, to be looked at.
func savePicture(t *testing.T, name string, img image.Image) {
	t.Helper()
	dir := os.Getenv("ORGANBOOK_PICTURES")
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, name+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

// subImage returns a square of an image.
func subImage(img *image.RGBA, x, y, size int) *image.RGBA {
	return img.SubImage(image.Rect(x, y, x+size, y+size)).(*image.RGBA)
}
