package arrange

import (
	"fmt"

	"organbook/internal/project"
)

// find notes a finding at a position.
func (p *player) find(at project.Ticks, limb Limb, severity Severity, text string, remedies ...string) {
	p.findings = append(p.findings, Finding{
		Start: at, Bar: p.rule.BarAt(at), Limb: limb, Severity: severity, Text: text, Remedies: remedies,
	})
}

// reachFindings reports stretches wider than a hand and keys the manual does
// not have.
func (p *player) reachFindings(i int, g grip, keys []int16) {
	step := &p.steps[i]
	right, left := g.spans(keys)
	p.spanFinding(step, RightHand, right)
	p.spanFinding(step, LeftHand, left)
	for k, key := range keys {
		if !p.console.Upper.Has(int(key)) {
			p.find(step.Start, RightHand, Unplayable,
				fmt.Sprintf("%s is outside the upper manual, which goes from key %d to %d", step.Voices[k], p.console.Upper.Lowest, p.console.Upper.Highest),
				"move the lead by an octave", "choose a console with a wider compass")
		}
	}
}

func (p *player) spanFinding(step *Step, limb Limb, semitones int) {
	if semitones <= handSpan {
		return
	}
	p.find(step.Start, limb, Unplayable,
		fmt.Sprintf("the %s is asked to stretch %d semitones; a tenth is %d", limb, semitones, handSpan),
		"choose a closer voicing", "plan two hands for the block", "thin the block to three voices")
}
