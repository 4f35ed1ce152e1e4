package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2/canvas"

	"organbook/internal/arrange"
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/session"
)

// headingOf is "B♭ over D7♭9".
func headingOf(p theory.Pitch, step arrange.Step) string {
	switch {
	case !step.Chord.IsValid():
		return p.Name().Pretty()
	case step.Chord.IsNone():
		return tr(p.Name().Pretty() + ", no chord")
	}
	return say(phrase.Of("%s over %s", p.Name().Pretty(), step.Chord.Pretty()))
}

func placeOf(c *project.Chart, t project.Ticks) string {
	bar, beat, _ := strings.Cut(c.PositionText(t), ".")
	return tr("bar "+bar) + ", " + tr("beat "+beat)
}

// soundsAs names the block as a chord; where there is little room the name
// stands alone.
func soundsAs(b arrange.Block, room float32, t *canvas.Text) string {
	if b.Name == "" {
		return session.VoicingName(b.Voicing)
	}
	name := theory.Pretty(b.Name)
	if long := tr("sounds as") + " " + name; fitText(long, t, room) == long {
		return long
	}
	return "= " + name
}

// functionOf says what the chord of a step does in the changes: "A7♭9 · V of V ·
// leads to D7".
func functionOf(r *arrange.Realisation, step arrange.Step) string {
	if step.Span < 0 || step.Span >= len(r.Spans) || !step.Chord.IsValid() || step.Chord.IsNone() {
		return ""
	}
	span := r.Spans[step.Span]
	if span.Function.IsZero() {
		return ""
	}
	text := step.Chord.Pretty() + " · " + theory.Pretty(say(span.Function))
	if span.Target.IsValid() {
		text += " · " + tr("leads to "+span.Target.Pretty())
	}
	return text
}

// findingText is a finding with its place, sign and remedies in one line.
func findingText(c *project.Chart, f arrange.Finding) string {
	sign := [...]string{"▲", "◆", "⯃"}[f.Severity]
	text := fmt.Sprintf("%s %s: %s", sign, placeOf(c, f.Start), say(f.Text))
	if len(f.Remedies) > 0 {
		ways := make([]string, len(f.Remedies))
		for i, r := range f.Remedies {
			ways[i] = say(r)
		}
		if !strings.HasSuffix(text, ".") {
			text += "."
		}
		text += tr(" Ways out: ") + strings.Join(ways, "; ") + "."
	}
	return text
}

// pinLabel says what is pinned: nothing, the block, its voicing or its technique.
func pinLabel(s *session.Session) string {
	strength, ok := s.PinStrength()
	switch {
	case !s.IsPinned():
		return "pin"
	case s.InGroup() || !ok || strength == project.PinBlock:
		return "pinned"
	}
	return strength.String() + " pinned"
}

// filterText is the filter in words: "drop 2, minor family, in comfort".
func filterText(f session.BenchFilter) string {
	var parts []string
	if f.InVoicing {
		parts = append(parts, session.VoicingName(f.Voicing))
	}
	if f.OfFamily {
		parts = append(parts, f.Family.String()+" family")
	}
	if f.Reach != session.AnyReach {
		parts = append(parts, f.Reach.String())
	}
	return strings.Join(parts, ", ")
}

// reachRemark says with a sign and in words how a block lies under the hands
// where that is not easy; both are empty where it is.
func reachRemark(r session.ReachFilter) (sign, words string) {
	switch r {
	case session.InComfort:
		return "", ""
	case session.WithinReach:
		return "◆", "wide for the hands"
	}
	return "⯃", "out of reach"
}

// mannerText says what pinning a way to play several notes would do.
func mannerText(m session.Manner, at int) string {
	switch {
	case at == 0:
		return tr("Down walks to other ways to play these notes. Enter pins every block as it is; Del takes all their pins out.")
	case m.Differ == 0:
		return tr("The notes that have such a block have it already.")
	case m.Can == len(m.Blocks):
		return tr("Every note has such a block. Enter pins them as one edit; h plays the new way and the old one in turn.")
	}
	return tr("Notes without such a block stay as they are. Enter pins the others as one edit; h plays the new way and the old one in turn.")
}
