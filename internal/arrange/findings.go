package arrange

import "organbook/internal/project"

// find notes a finding at a position.
func (p *player) find(at project.Ticks, limb Limb, severity Severity, text string, remedies ...string) {
	p.findings = append(p.findings, Finding{
		Start: at, Bar: p.rule.BarAt(at), Limb: limb, Severity: severity, Text: text, Remedies: remedies,
	})
}
