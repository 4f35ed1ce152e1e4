package arrange

import (
	"organbook/internal/phrase"
	"organbook/internal/project"
)

// find notes a finding at a position.
func (p *player) find(at project.Ticks, limb Limb, severity Severity, text phrase.Phrase, remedies ...phrase.Phrase) {
	p.findings = append(p.findings, Finding{
		Start: at, Bar: p.rule.BarAt(at), Limb: limb, Severity: severity, Text: text, Remedies: remedies,
	})
}
