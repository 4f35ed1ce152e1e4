package perform

import (
	"fmt"
	"slices"
	"sort"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// Options choose what is performed. The zero value plays the whole chart once
// with its repeats, at its tempo, all layers sounding.
type Options struct {
	// FromBar and ToBar, when ToBar is above zero, play the written bars from
	// index FromBar up to but not including ToBar once, ignoring repeats,
	// endings and jumps. Notes held into FromBar sound from its start.
	FromBar, ToBar int
	// Passes, unless empty, play those bars again and again, once for each
	// entry, which multiplies every tempo of that pass: a practice tempo that
	// rises. Without a range of bars they mean nothing.
	Passes []float64
	// TempoScale multiplies every tempo; 0 means 1.
	TempoScale float64
	// Mute is the set of layers that stay silent.
	Mute LayerSet
}

// Performance is a realisation as it is played.
//
// Invariants: Events ascend by At, and at one instant by Kind; every KeyDown
// has exactly one KeyUp of its division and key later or at the latest at
// Length; a key never goes down twice without coming up between; Played bars
// follow each other without gaps and their lengths sum to Length.
type Performance struct {
	Events []Event
	Played []PlayedBar
	// Tempos is the tempo map; the first entry stands at 0.
	Tempos []Tempo
	// Length is the end of the last bar in performed ticks.
	Length project.Ticks
	// Duration is Length in seconds.
	Duration float64
	// Tone is how the instrument is made.
	Tone project.Tone
	// Cut reports that the repeats would have run beyond the limit of bars a
	// performance may hold, and that it ends there.
	Cut bool

	chart *project.Chart
	page  page
	// first holds the indexes of the Played bars that show a written bar for
	// the first time, ascending by Written.
	first []int
	// ranged reports that a range of bars is played, each time from its start.
	ranged bool
}

// Perform plays a realisation. It fails when the range of bars in the options
// is not part of the chart.
func Perform(r *arrange.Realisation, o Options) (*Performance, error) {
	c := r.Chart
	order, cut, err := playedOrder(c.Bars, o)
	if err != nil {
		return nil, err
	}
	p := &Performance{
		chart: c, page: newPage(c, r.Notes), Cut: cut, ranged: o.ToBar > 0, Tone: c.Sounding(),
	}
	p.layOut(order, o)
	runs := p.runs()
	notes := p.place(r.Notes, runs, o)
	p.Events = append(p.keyEvents(notes), p.cueEvents(r, runs)...)
	for i := range p.Events {
		p.Events[i].Seconds = p.SecondsOf(p.Events[i].At)
	}
	slices.SortStableFunc(p.Events, compareEvents)
	return p, nil
}

// playedOrder returns the indexes of the bars in playing order.
func playedOrder(bars []project.Bar, o Options) (order []int, cut bool, err error) {
	if o.ToBar <= 0 {
		if o.FromBar != 0 {
			return nil, false, fmt.Errorf("perform: a first bar needs a last bar too")
		}
		order, cut = unroll(bars)
		return order, cut, nil
	}
	if o.FromBar < 0 || o.ToBar > len(bars) || o.FromBar >= o.ToBar {
		return nil, false, fmt.Errorf("perform: bars %d to %d are not part of a chart of %d bars", o.FromBar+1, o.ToBar, len(bars))
	}
	for range max(1, len(o.Passes)) {
		for i := o.FromBar; i < o.ToBar; i++ {
			order = append(order, i)
		}
	}
	return order, false, nil
}

// layOut places the bars of the playing order one after the other and fills
// Played, the tempo map, Length and Duration.
func (p *Performance) layOut(order []int, o Options) {
	scale := o.TempoScale
	if scale <= 0 {
		scale = 1
	}
	tempos := barTempos(p.chart)
	passes := make([]int, len(p.chart.Bars))
	for _, bar := range order {
		passes[bar]++
		if passes[bar] == 1 {
			p.first = append(p.first, len(p.Played))
		}
		p.setTempo(tempos[bar] * scale * o.pass(passes[bar]))
		length := p.chart.Bars[bar].Length
		p.Played = append(p.Played, PlayedBar{
			Bar: bar, Pass: passes[bar], Written: p.page.starts[bar],
			At: p.Length, Length: length, Seconds: p.SecondsOf(p.Length),
		})
		p.Length += length
	}
	p.Duration = p.SecondsOf(p.Length)
	sort.Slice(p.first, func(i, j int) bool {
		return p.Played[p.first[i]].Written < p.Played[p.first[j]].Written
	})
}

// pass returns by what the tempo of a pass is multiplied, 1 being the first.
func (o *Options) pass(n int) float64 {
	if o.ToBar <= 0 || n > len(o.Passes) || !(o.Passes[n-1] > 0) {
		return 1
	}
	return o.Passes[n-1]
}

// run is a stretch of played bars that also follow each other on the page, so
// that one offset leads from written to performed ticks.
type run struct {
	from, to project.Ticks // written
	offset   project.Ticks // performed less written
	// held lets notes that began before the run sound from its start.
	held bool
}

// runs groups the played bars. Only a performance that starts in the middle
// of the page takes over what is held there: after a jump a note from the bar
// above on the page was never struck.
func (p *Performance) runs() []run {
	var runs []run
	for i, b := range p.Played {
		if n := len(runs); n > 0 && runs[n-1].to == b.Written && p.Played[i-1].Bar+1 == b.Bar {
			runs[n-1].to += b.Length
			continue
		}
		held := i == 0 || p.ranged && b.Bar == p.Played[0].Bar
		runs = append(runs, run{b.Written, b.Written + b.Length, b.At - b.Written, held})
	}
	return runs
}
