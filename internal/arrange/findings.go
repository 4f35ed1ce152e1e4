package arrange

import (
	"fmt"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// find notes a finding at a position.
func (p *player) find(at project.Ticks, limb Limb, severity Severity, text string, remedies ...string) {
	p.findings = append(p.findings, Finding{
		Start: at, Bar: p.rule.BarAt(at), Limb: limb, Severity: severity, Text: text, Remedies: remedies,
	})
}

// reachFindings reports stretches wider than a hand and keys the manual does
// not have.
func (p *player) reachFindings(start project.Ticks, g grip, keys []int16, voices []theory.Pitch) {
	right, left := g.spans(keys)
	p.spanFinding(start, RightHand, right)
	p.spanFinding(start, LeftHand, left)
	for k, key := range keys {
		if !p.console.Upper.Has(int(key)) {
			p.find(start, RightHand, Unplayable,
				fmt.Sprintf("%s is outside the upper manual, which goes from key %d to %d", voices[k], p.console.Upper.Lowest, p.console.Upper.Highest),
				"move the lead by an octave", "choose a console with a wider compass")
		}
	}
}

func (p *player) spanFinding(start project.Ticks, limb Limb, semitones int) {
	if semitones <= handSpan {
		return
	}
	p.find(start, limb, Unplayable,
		fmt.Sprintf("the %s is asked to stretch %d semitones; a tenth is %d", limb, semitones, handSpan),
		"choose a closer voicing", "plan two hands for the block", "thin the block to three voices")
}
