package phrase

import (
	"slices"
	"testing"
)

// german has forms as a translation has them, one with its operands turned.
var german = map[string]string{
	"%s with %s on top, %s s": "oben %[2]s über %[1]s, %[3]s s", "the ninth": "die None", DecimalSign: ",",
}

func say(form string) string {
	if s, ok := german[form]; ok {
		return s
	}
	return form
}

func TestPhrases(t *testing.T) {
	for _, c := range []struct {
		p                Phrase
		english, another string
	}{
		{Phrase{}, "", ""},
		{Of("the ninth"), "the ninth", "die None"},
		{Of("100 % sure"), "100 % sure", "100 % sure"},
		{Of("%s with %s on top, %s s", "Bb6", Of("the ninth"), Decimal(0.126, 2)), "Bb6 with the ninth on top, 0.13 s", "oben die None über Bb6, 0,13 s"},
		{Of("%s %d", Phrase{}, 3), " 3", " 3"},
		{Of("%s with %s on top, %s s", Verbatim("the ninth"), "E", "1"), "the ninth with E on top, 1 s", "oben E über the ninth, 1 s"},
	} {
		if got := c.p.String(); got != c.english {
			t.Errorf("in English %q, want %q", got, c.english)
		}
		if got := c.p.In(say); got != c.another {
			t.Errorf("in the other language %q, want %q", got, c.another)
		}
	}
}

// later makes a phrase and counts how often.
type later struct {
	p     Phrase
	asked int
}

func (l *later) Phrase() Phrase {
	l.asked++
	return l.p
}

// TestLaterIsThePhraseItself reads phrases that are made when they are read, alone
// and as operands, and finds what they would say if they had been made before.
func TestLaterIsThePhraseItself(t *testing.T) {
	for _, p := range []Phrase{{}, Of("the ninth"), Verbatim("the ninth"), Of("%s with %s on top, %s s", "E", Of("the ninth"), Decimal(0.5, 1))} {
		m := &later{p: p}
		for _, pair := range [][2]Phrase{{Later(m), p}, {Later(&later{p: Later(m)}), p}, {Of("%s!", Later(m)), Of("%s!", p)}} {
			if got, want := pair[0].String(), pair[1].String(); got != want {
				t.Errorf("in English %q, want %q", got, want)
			}
			if got, want := pair[0].In(say), pair[1].In(say); got != want {
				t.Errorf("in the other language %q, want %q", got, want)
			}
			var forms [2][]string
			for i := range pair {
				pair[i].Forms(func(f string) { forms[i] = append(forms[i], f) })
			}
			if !slices.Equal(forms[0], forms[1]) {
				t.Errorf("forms %q, want %q", forms[0], forms[1])
			}
		}
		if asked := m.asked; asked == 0 || Later(m).IsZero() || m.asked != asked {
			t.Errorf("asked %d times", m.asked)
		}
	}
}

func TestFormsAreListed(t *testing.T) {
	var forms []string
	p := Of("%s: %s", Of("the %s", Of("lead")), "C")
	p.Forms(func(f string) { forms = append(forms, f) })
	if want := []string{"%s: %s", "the %s", "lead"}; !slices.Equal(forms, want) {
		t.Errorf("forms %q, want %q", forms, want)
	}
	if Of("x").IsZero() || !(Phrase{}).IsZero() {
		t.Error("IsZero is wrong")
	}
}
