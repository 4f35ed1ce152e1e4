package arrange

import (
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestSheetsKeepTheRules holds lead sheets in every voicing to what must always
// be: the lead on top, voices in order, no note doubled but by a voicing that
// doubles, no block that stands for its chord against the symbol's own word.
func TestSheetsKeepTheRules(t *testing.T) {
	sheets(3, func(style *sheetStyle, c *project.Chart) {
		for v := theory.Close; v <= theory.UnisonVoicing; v++ {
			r := arrangeOnly(c, Options{Voicing: &v})
			for i := range r.Steps {
				st := &r.Steps[i]
				if text := brokenRule(r, i); text != "" {
					t.Fatalf("%s, %v, note %d: %v over %v %s", style.name, v, i, st.Voices, st.Chord, text)
				}
			}
		}
	})
}

func brokenRule(r *Realisation, i int) string {
	st := &r.Steps[i]
	if st.Voices[0].Key() != st.Lead.Key() {
		return "has not its lead on top"
	}
	for k := 1; k < len(st.Voices); k++ {
		if st.Voices[k].Key() >= st.Voices[k-1].Key() {
			return "crosses voices"
		}
	}
	if st.Voicing != theory.DoubleLead && st.Voicing != theory.Octaves && classes(st.Voices).Len() != len(st.Voices) {
		return "doubles a note"
	}
	c, sp := chosenAt(r, i), &r.search.spots[r.search.first[i]]
	if sp.reading != nil && len(st.Voices) > 1 && !passes(c) && quarrelsIn(st.Voices, sp.reading.against) > 0 {
		return "quarrels with the symbol"
	}
	return ""
}

// TestSheetsMoveToEveryKey arranges lead sheets in other keys: where the register
// asks for nothing else, the same blocks come out, moved.
func TestSheetsMoveToEveryKey(t *testing.T) {
	ignored := project.ReachIgnored
	o := Options{Reach: &ignored}
	sheets(2, func(style *sheetStyle, c *project.Chart) {
		for i := range c.Melody {
			c.Melody[i].Pitch = intoOctave(c.Melody[i].Pitch, 74)
		}
		c.Passages[0].Treatment.LeadOctave = 0
		a := arrangeOnly(c, o)
		for _, by := range []theory.Interval{theory.MinorSecond, theory.MinorThird, theory.MajorSecond.Invert(), theory.MajorThird} {
			d, err := c.Transpose(by)
			if err != nil {
				t.Fatal(err)
			}
			b := arrangeOnly(d, o)
			for i := range a.Steps {
				if want, got := keyText(a.Steps[i].Voices, by.Semitones()), keyText(b.Steps[i].Voices, 0); got != want {
					t.Fatalf("%s moved by %v: note %d over %v is %v, was %v", style.name, by, i, b.Steps[i].Chord, b.Steps[i].Voices, a.Steps[i].Voices)
				}
			}
		}
	})
}

// TestSheetsInHands realises lead sheets whole, for every hand plan, with the
// alternatives of some notes and the proposals of their passage.
func TestSheetsInHands(t *testing.T) {
	sheets(1, func(style *sheetStyle, c *project.Chart) {
		for _, plan := range project.HandPlans {
			r := Realise(c, Options{Plan: &plan})
			for i := 0; i < len(r.Steps); i += 17 {
				if list := r.Alternatives(i); len(list) == 0 || list[0].Cost != 0 {
					t.Fatalf("%s, %v: note %d has %d alternatives", style.name, plan, i, len(list))
				}
			}
		}
		for _, p := range Surprise(c, 0, Options{}, 3) {
			if p.Changed == 0 || p.Says.IsZero() {
				t.Errorf("%s: a proposal that changes nothing: %+v", style.name, p)
			}
		}
	})
}
