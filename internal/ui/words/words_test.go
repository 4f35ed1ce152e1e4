package words

import (
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestEveryChoiceHasWordsOfItsOwn guards against two choices that read alike
// and against the short forms of the file leaking out.
func TestEveryChoiceHasWordsOfItsOwn(t *testing.T) {
	var names []string
	for v := theory.Close; v <= theory.UnisonVoicing; v++ {
		names = append(names, Voicing(v))
	}
	for _, p := range project.HandPlans {
		names = append(names, Plan(p))
	}
	for _, b := range project.BassStyles {
		names = append(names, Bass(b))
	}
	seen := map[string]bool{}
	for _, n := range names {
		if n == "" || seen[n] || strings.Contains(n, "drop2") || strings.HasPrefix(n, "Voicing(") {
			t.Errorf("%q is empty, said twice or a short form", n)
		}
		seen[n] = true
	}
}

func TestWords(t *testing.T) {
	for got, want := range map[string]string{
		Voicing(theory.Drop24): "drop 2 and 4", Voicing(theory.Close): "close", Voicing(theory.UnisonVoicing): "lead alone",
		Plan(project.TwoHandBlock): "two-hand block", Plan(project.SoloOverComp): "solo over comp",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
