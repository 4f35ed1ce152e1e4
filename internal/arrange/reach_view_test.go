package arrange

import (
	"slices"
	"strings"
	"testing"

	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
)

func TestStretchOfAStep(t *testing.T) {
	plan := project.Shout
	r := Realise(sketch(t, "C major", "C6@4", "C5@4"), Options{Plan: &plan})
	text := strings.Join(texts(r.Reach().StretchText(0)), "; ")
	if want := "the right hand stretches 118 mm (a minor sixth), comfortable; the left hand plays one key"; text != want {
		t.Errorf("%s, not %s", text, want)
	}
}

func TestBarsOfTheReport(t *testing.T) {
	rr := Realise(failingChart(t), Options{Profile: failingPlayer()}).Reach()
	severities, strain := rr.BarSeverity(), rr.BarStrain()
	for bar := 0; bar < len(severities); bar += 2 {
		if severities[bar] != int(reach.Unplayable)+1 {
			t.Errorf("bar %d: severity %d", bar+1, severities[bar])
		}
	}
	if slices.Max(strain) < 0.2 || slices.Min(strain) < 0 {
		t.Errorf("strain %v", strain)
	}
}

func texts(list []phrase.Phrase) (out []string) {
	for _, p := range list {
		out = append(out, p.String())
	}
	return out
}
