package arrange

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestReasons reads the sentence of one note of each kind.
func TestReasons(t *testing.T) {
	for _, c := range []struct {
		name, key, changes, melody string
		step                       int
		want                       string
	}{
		{"home chord as written", "G minor", "Gm6@4", "D5@4", 0,
			"D over Gm6: the fifth of the family's home chord, so Gm6 with D on top."},
		{"borrowed onto a dominant", "F minor", "C7@4 Fm6@4", "Ab4@4 F4@4", 0,
			"Ab over C7: not in the diminished chord; borrowed from Fm6 in place of G, giving C7b9#5."},
		{"home chord over another root", "G minor", "Am7b5@4 D7@4 Gm6@4", "Eb5@4 D5@4 D5@4", 0,
			"Eb over Am7b5: the third of the family's home chord, so Cm6 with Eb on top; over A it sounds as Am7b5."},
		{"home chord over a slash bass", "C major", "Cmaj7/G@4", "E5@4", 0,
			"E over Cmaj7/G: the third of the family's home chord, so C6 with E on top; over G it sounds as C6/G."},
		{"minor seventh at the tonic", "F minor", "Fm7@4", "C5@4", 0,
			"C over Fm7: the fifth of the family's home chord, so Fm6 with C on top; as a tonic Fm7 rests on the sixth in place of its seventh."},
		{"dominant", "G minor", "D7@4 Gm6@4", "Eb5@4 D5@4", 0,
			"Eb over D7: in the diminished chord F# A C Eb, which stands for D7 on its way to Gm6, so D7b9 with Eb on top."},
		{"passing diminished names a chord of the chart", "C major", "Em7@2 Ebdim7@2 Dm7@4", "B4@2 A4@2 A4@4", 1,
			"A over Ebdim7: a note of the diminished chord itself, which leads to Dm7, so Ebdim7 with A on top."},
		{"passing note", "G minor", "Gm6@4", "G4@1 A4@1 Bb4@2", 1,
			"A over Gm6: not in the home chord; it passes on the family's diminished chord F# A C Eb, which is D7b9 without its root and leads back to Gm6."},
		{"slide", "G minor", "Gm6@4", "D5@1 C#5@1 D5@2", 1,
			"C# over Gm6: it leads to D by a semitone, so the whole block, F#m6, slides up into Gm6."},
		{"blue note", "C major", "C7@8", "Eb5@2 C5@2 G4@4", 0,
			"Eb over C7: the blue third, over the dominant's own notes, giving C13#9."},
		{"anticipation", "C minor", "G7@4 Cm6@4", "B4@3.5 Eb5@4.5", 1,
			"Eb over Cm6, which it anticipates: the third of the family's home chord, so Cm6 with Eb on top."},
		{"no chord", "C major", "N.C.@4", "C5@4", 0, "No chord is in force (N.C.), so the lead plays alone."},
	} {
		r := Realise(sketch(t, c.key, c.changes, c.melody), Options{})
		if got := r.Steps[c.step].Reason.String(); got != c.want {
			t.Errorf("%s: %s\nwant %s", c.name, got, c.want)
		}
	}
}

// TestTwoPlayedAsFiveNamesTheBass: the bass stays on the two, so it is part of
// what sounds.
func TestTwoPlayedAsFiveNamesTheBass(t *testing.T) {
	c := sketch(t, "G minor", "Am7b5@4 D7@4 Gm6@4", "C5@4 A4@4 G4@4")
	c.Passages[0].Treatment.TwoFiveAsFive = true
	st := Realise(c, Options{}).Steps[0]
	if st.Name != "D7b9/A" || !strings.HasPrefix(st.Reason.String(), "C over Am7b5, played as D7: ") {
		t.Errorf("%s: %s", st.Name, st.Reason)
	}
}

// TestReasonsAreSentences checks on random charts that every reason, the bench's
// included, is whole sentences that name the lead.
func TestReasonsAreSentences(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for i := range r.Steps {
			for _, a := range r.Alternatives(i) {
				text := a.Reason.String()
				if !strings.HasSuffix(text, ".") || strings.Contains(text, "..") || strings.Contains(text, "  ") || strings.Contains(text, " .") {
					t.Fatalf("step %d: %q", i, text)
				}
				if playable(r.Steps[i].Chord) && !strings.Contains(text, r.Steps[i].Lead.Name().String()+" over ") && !strings.Contains(text, " again over ") {
					t.Fatalf("step %d: the lead is missing in %q", i, text)
				}
			}
		}
	})
}

// TestApproachesAreShortAndForeign: a block that slides contradicts the chord in
// force, so only a passing note outside it may have one.
func TestApproachesAreShortAndForeign(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for i := range r.search.spots {
			sp := &r.search.spots[i]
			for k := range r.search.cands[i] {
				if x := &r.search.cands[i][k]; x.technique == theory.Approach && x.origin != fromCommonTone && (!sp.short || hasPC(sp.tones, sp.lead.Name())) {
					t.Fatalf("note %d, %v over %v for %d ticks: %s", i, sp.lead, sp.chord, sp.note.Duration, pitchList(x.voices))
				}
			}
		}
	})
}

// TestOneSpellingOfAFamily spells the minor sixth on a dominant's raised root by
// the lead as it is written, and by the key where the lead says nothing.
func TestOneSpellingOfAFamily(t *testing.T) {
	for _, c := range []struct{ key, changes, lead, want string }{
		{"Bb minor", "F7alt@4 Bbm6@4", "Eb5@4", "Gb"},
		{"Bb major", "F7alt@4 Bb6@4", "Eb5@4", "Gb"},
		{"D minor", "F7alt@4 Bb6@4", "Eb5@4", "F#"},
		{"G minor", "F7alt@4 Bb6@4", "Gb5@4", "Gb"},
		{"Bb major", "F7alt@4 Bb6@4", "F#5@4", "F#"},
	} {
		st := Realise(sketch(t, c.key, c.changes, c.lead), Options{}).Steps[0]
		if got := st.Family.Tonic().String(); got != c.want {
			t.Errorf("%s over %s in %s is of the family on %s, want %s: %s", c.lead, c.changes, c.key, got, c.want, st.Reason)
		}
	}
}
