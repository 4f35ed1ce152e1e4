package arrange

import (
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
)

// StretchText says, a sentence for each hand, how far a step's keys open the
// hands of the player. Keys that a hand holds over from before count.
func (rr *ReachReport) StretchText(step int) []phrase.Phrase {
	var out []phrase.Phrase
	at := rr.Realisation.Steps[step].Start
	for _, hand := range []Limb{RightHand, LeftHand} {
		if keys := rr.keysAt(at, hand); len(keys) > 0 {
			out = append(out, reach.StretchText(rr.Profile, hand, keys...))
		}
	}
	return out
}

// keysAt returns the keys a limb holds at a position.
func (rr *ReachReport) keysAt(t project.Ticks, limb Limb) (keys []int) {
	for i := range rr.Realisation.Notes {
		n := &rr.Realisation.Notes[i]
		if n.Start > t {
			break
		}
		if n.Limb == limb && n.Start+n.Duration > t {
			keys = append(keys, n.Key)
		}
	}
	return keys
}

// BarStrain returns how tiring each written bar is, for the hand that tires
// more: 0 is rest, 1 the limit of stretch or speed. It feeds the line over the
// passage.
func (rr *ReachReport) BarStrain() []float64 {
	rule := rr.Realisation.Chart.Ruler()
	out := make([]float64, len(rr.Realisation.Chart.Bars))
	for _, loads := range rr.Strain {
		for _, l := range loads {
			bar := rule.BarAt(project.Ticks(l.At))
			out[bar] = max(out[bar], l.Value)
		}
	}
	return out
}

// BarSeverity returns, for each written bar, one more than the worst severity
// of what is found in it; 0 for bars where nothing is. It feeds the marks on
// the bars.
func (rr *ReachReport) BarSeverity() []int {
	out := make([]int, len(rr.Realisation.Chart.Bars))
	for i, p := range rr.Places {
		for bar := p.Bar; bar < min(p.End, len(out)); bar++ {
			out[bar] = max(out[bar], int(rr.Findings[i].Severity)+1)
		}
	}
	return out
}
