package ui

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/assets"
	"organbook/internal/arrange"
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/project/projecttest"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// phrasesOf calls with everything that is said about a chart.
func phrasesOf(c *project.Chart, notes, findings int, with func(phrase.Phrase)) {
	r := arrange.Realise(c, arrange.Options{})
	for _, s := range r.Spans {
		with(s.Function)
		with(s.Reason)
	}
	for i, s := range r.Steps {
		with(s.Reason)
		for _, m := range s.Moves {
			with(m.Reason)
		}
		if i < notes {
			for _, f := range r.Families(i) {
				with(f.Reason)
			}
			for _, a := range r.Alternatives(i) {
				with(a.Reason)
				with(a.Remark)
				for _, p := range a.Parts {
					with(p.Text)
				}
			}
			for _, p := range r.Reach().StretchText(i) {
				with(p)
			}
		}
	}
	for _, f := range r.Findings {
		with(f.Text)
		for _, m := range f.Remedies {
			with(m)
		}
	}
	for i := range min(findings, len(r.Reach().Findings)) {
		for _, m := range r.Reach().Remedies(i) {
			with(m.Text)
		}
	}
	for _, p := range arrange.Surprise(c, 0, arrange.Options{}, 3) {
		with(p.Says)
	}
}

// TestTheMusicIsSaidInGerman asks for all that is said about the demo and about
// random charts: every form has a German one, with the same operands.
func TestTheMusicIsSaidInGerman(t *testing.T) {
	inGerman(t)
	missing, texts := map[string]bool{}, 0
	hear := func(p phrase.Phrase) {
		texts++
		p.Forms(func(form string) {
			if !translated.known[form] && hasWord(withoutVerbs(form)) {
				missing[form] = true
			}
		})
		if said := say(p); strings.Contains(said, "%!") {
			t.Fatalf("%q is said as %q", p, said)
		}
	}
	demo, err := assets.Demo()
	if err != nil {
		t.Fatal(err)
	}
	phrasesOf(demo, 40, 20, hear)
	for kind := reach.Wide; kind <= reach.Strain; kind++ {
		hear(phrase.Of("No way out: %s.", (&reach.Finding{Kind: kind}).ByHand()))
	}
	rapid.Check(t, func(t *rapid.T) {
		phrasesOf(projecttest.Charts(projecttest.Small).Draw(t, "chart"), 2, 1, hear)
		s := theory.ServeToward(projecttest.Chords().Draw(t, "chord"), projecttest.Chords().Draw(t, "target"))
		for _, f := range s {
			hear(f.Reason)
		}
	})
	if texts < 1000 {
		t.Errorf("only %d texts were heard", texts)
	}
	for form := range missing {
		t.Errorf("no German for %q", form)
	}
}

var verbs = regexp.MustCompile(`%(\.\d)?(\[\d\])?[sdfv]`)

func withoutVerbs(form string) string { return verbs.ReplaceAllString(form, "") }

// TestGermanFormsTakeTheOperandsOfEnglish compares the verbs of every form.
func TestGermanFormsTakeTheOperandsOfEnglish(t *testing.T) {
	keys, err := keysOf("de")
	if err != nil {
		t.Fatal(err)
	}
	operands := func(form string) (out []string) {
		next := 1
		for _, v := range verbs.FindAllString(form, -1) {
			if _, at, turned := strings.Cut(v, "["); turned {
				fmt.Sscanf(at, "%d", &next)
			}
			out = append(out, fmt.Sprint(next, v[len(v)-1:]))
			next++
		}
		slices.Sort(out)
		return out
	}
	for english, german := range keys {
		if want, got := operands(english), operands(german); !slices.Equal(want, got) {
			t.Errorf("%q has the operands %v, %q has %v", english, want, german, got)
		}
	}
}
