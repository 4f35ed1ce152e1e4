package arrange

import (
	"testing"

	"organbook/internal/project"
)

func TestDiminishedAndVisits(t *testing.T) {
	for _, c := range []struct{ name, key, changes, functions, families string }{
		{"common-tone diminished", "C major", "C6@4 Cdim7@4 C6@4",
			"I|common-tone ° of I|I", "C major|G major V|C major"},
		{"passing diminished going down", "C major", "Em7@2 Ebdim7@2 Dm7@2 G7@2 C6@4",
			"iii|passing ° to ii|ii of I|V of I|I", "G major|G major V|F major|C major V|C major"},
		{"diminished on the raised fourth of a blues", "F major", "Bb7@4 Bdim7@4 F7@4",
			"IV7|common-tone ° of I|I7", "Bb dominant|C major V|F dominant"},
		{"modulation to a foreign key", "C major", "Cmaj7@4 Fm7@2 Bb7@2 Ebmaj7@8 Dm7@2 G7@2 C6@4",
			"I|ii of I in Eb|V of I in Eb|I in Eb|ii of I|V of I|I", "C major|Ab major|Eb major V|Eb major|F major|C major V|C major"},
		{"a foreign goal only touched", "C major", "Cmaj7@4 Fm7@2 Bb7@2 Ebmaj7@4 Dm7@2 G7@2 C6@4",
			"I|ii of bIII|V of bIII|bIII|ii of I|V of I|I", "C major|Ab major|Eb major V|Eb major|F major|C major V|C major"},
		{"an own degree confirmed by a second cadence", "C major", "Gm7@2 C7@2 Fmaj7@4 Gm7@2 C7@2 Fmaj7@4 G7@4 C6@4",
			"ii of I in F|V of I in F|I in F|ii of I in F|V of I in F|I in F|V of I|I",
			"Bb major|F major V|F major|Bb major|F major V|F major|C major V|C major"},
		{"modulation to minor rests on its tonic", "C major", "Cmaj7@4 Fm7b5@2 Bb7@2 Ebm7@8 Dm7@2 G7@2 C6@4",
			"I|iiø of i in Eb minor|V of i in Eb minor|i in Eb minor|ii of I|V of I|I",
			"C major|Ab minor|Eb minor V|Eb minor|F major|C major V|C major"},
		{"pedal point", "C major", "Dm7/G@4 Cmaj7/G@4 G7@4 C6@4",
			"ii over a pedal on G|I over a pedal on G|V of I|I", "F major|C major|C major V|C major"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := Realise(sketch(t, c.key, c.changes, ""), Options{})
			functions, families := spanTexts(r.Spans)
			if functions != c.functions {
				t.Errorf("functions %q, want %q", functions, c.functions)
			}
			if families != c.families {
				t.Errorf("families %q, want %q", families, c.families)
			}
		})
	}
}

// TestJumpsLeadOn reads the chord before a jump by the chord it jumps to, and the
// last chord of a chart that repeats as a whole by the repeat sign's.
func TestJumpsLeadOn(t *testing.T) {
	c := sketch(t, "C major", "Am6@4 F6@4 E7@4 G7@4 C6@4", "")
	c.Bars[2].Jump = project.DaCapoAlCoda
	c.Bars[1].ToCoda, c.Bars[3].Coda = true, true
	if got := Realise(c, Options{}).Spans[2].Function.String(); got != "V of vi" {
		t.Errorf("E7 before da capo to Am6 is %q", got)
	}
	s := sketch(t, "C major", "F6@4 Am6@4 E7@4 G7@4 C6@4", "")
	s.Bars[2].Jump, s.Bars[1].Segno = project.DalSegnoAlFine, true
	if got := Realise(s, Options{}).Spans[2].Function.String(); got != "V of vi" {
		t.Errorf("E7 before dal segno to Am6 is %q", got)
	}
	d := sketch(t, "C major", "Dm7@4 Am6@4 E7@4", "")
	d.Bars[1].RepeatStart, d.Bars[2].RepeatEnd = true, true
	if got := Realise(d, Options{}).Spans[2].Function.String(); got != "V of vi" {
		t.Errorf("E7 before the repeat to Am6 is %q", got)
	}
}
