package projecttest

import (
	"pgregory.net/rapid"

	"organbook/internal/project"
)

// meters are common and odd ones.
var meters = []project.Meter{
	{Beats: 4, Unit: 4},
	{Beats: 4, Unit: 4},
	{Beats: 3, Unit: 4},
	{Beats: 2, Unit: 2},
	{Beats: 6, Unit: 8},
	{Beats: 12, Unit: 8},
	{Beats: 5, Unit: 4},
	{Beats: 5, Unit: 4, Groups: "2+3"},
	{Beats: 9, Unit: 8, Groups: "2+2+2+3"},
	{Beats: 7, Unit: 8},
	{Beats: 1, Unit: 4},
	{Beats: 9, Unit: 16},
}

// Bars generates 1 to limit bars: pickups, split bars, changes of meter, key
// and tempo, repeats, endings, signs and jumps.
func Bars(limit int) *rapid.Generator[[]project.Bar] {
	return rapid.Custom(func(t *rapid.T) []project.Bar {
		n := rapid.IntRange(1, max(1, limit)).Draw(t, "bars")
		meter := rapid.SampledFrom(meters).Draw(t, "meter")
		bars := make([]project.Bar, 0, n+2)
		if rapid.Bool().Draw(t, "pickup") {
			bars = append(bars, project.Bar{Meter: meter, Length: meter.Beat(), Unnumbered: true})
		}
		for len(bars) < n {
			if rapid.IntRange(0, 5).Draw(t, "new meter") == 5 {
				meter = rapid.SampledFrom(meters).Draw(t, "meter")
			}
			bars = append(bars, drawBar(t, meter)...)
		}
		drawEndings(t, bars)
		return bars[:n]
	})
}

// drawBar returns one bar, or the two halves of a split one.
func drawBar(t *rapid.T, m project.Meter) []project.Bar {
	bar := project.NewBar(m)
	if rapid.IntRange(0, 2).Draw(t, "marked") == 2 {
		mark(t, &bar)
	}
	if m.Beats < 2 || rapid.IntRange(0, 9).Draw(t, "split") < 9 {
		return []project.Bar{bar}
	}
	second := project.Bar{Meter: m, Length: m.Beat(), Unnumbered: true}
	bar.Length -= second.Length
	return []project.Bar{bar, second}
}

func mark(t *rapid.T, b *project.Bar) {
	switch rapid.IntRange(0, 6).Draw(t, "mark") {
	case 0:
		b.Key = Keys().Draw(t, "key")
	case 1:
		b.Tempo = rapid.Float64Range(project.MinTempo, project.MaxTempo).Draw(t, "tempo")
	case 2:
		b.Section = Texts().Draw(t, "section")
	case 3:
		b.RepeatStart = true
	case 4:
		b.RepeatEnd = true
		b.Times = rapid.SampledFrom([]int{0, 2, 3}).Draw(t, "times")
	case 5:
		b.Jump = project.Jump(rapid.IntRange(0, int(project.DalSegnoAlCoda)).Draw(t, "jump"))
	case 6:
		b.Segno, b.Coda = rapid.Bool().Draw(t, "segno"), rapid.Bool().Draw(t, "coda")
		b.Fine, b.ToCoda = rapid.Bool().Draw(t, "fine"), rapid.Bool().Draw(t, "to coda")
	}
}

// drawEndings lays a first and a second ending somewhere, or none.
func drawEndings(t *rapid.T, bars []project.Bar) {
	if len(bars) < 4 || !rapid.Bool().Draw(t, "endings") {
		return
	}
	at := rapid.IntRange(1, len(bars)-3).Draw(t, "ending")
	bars[at].Ending, bars[at].EndingStart = []int{1}, true
	bars[at+1].Ending, bars[at+1].RepeatEnd = []int{1}, true
	bars[at+2].Ending, bars[at+2].EndingStart = []int{2, 3}, true
}
