package arrange

import (
	"math/rand"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// anySymbols are symbols of every kind a lead sheet may hold.
var anySymbols = []string{
	"", "6", "maj7", "maj9", "maj7#11", "6/9", "m", "m6", "m7", "m9", "m(maj7)", "7", "9", "13", "7b9", "7#9", "7#5", "7b5", "13#11", "13b9", "7alt", "9sus4", "7sus4", "sus4", "dim7", "m7b5", "aug", "m11", "add9", "5",
}

// anyTune makes a tune of 16 bars whose chords have nothing to do with each
// other, in a random key, register and tempo, the melody mostly in the key.
func anyTune(rng *rand.Rand) *project.Chart {
	c := project.New()
	c.Bars, c.Tempo = nil, float64(60+rng.Intn(200))
	c.Key = theory.KeyFromFifths(rng.Intn(11)-5, theory.Mode(rng.Intn(2)))
	place := 33 + rng.Intn(6)
	for bar := range 16 {
		c.Bars = append(c.Bars, project.NewBar(project.CommonTime))
		at := project.Ticks(bar) * project.Whole
		for half := range 1 + rng.Intn(2) {
			root := theory.NameFromFifths(c.Key.Fifths() + rng.Intn(10) - 3)
			chord := theory.MustParseChord(root.String() + anySymbols[rng.Intn(len(anySymbols))])
			c.Changes = append(c.Changes, project.Change{Start: at + project.Ticks(half)*project.Whole/2, Chord: chord})
		}
		for used := project.Ticks(0); used < project.Whole; {
			length := min([]project.Ticks{1, 1, 2, 3, 4}[rng.Intn(5)]*project.Quarter/2, project.Whole-used)
			place = min(max(place+[]int{-3, -2, -1, -1, 0, 1, 1, 2, 3}[rng.Intn(9)], 30), 42)
			p := scalePitch(theory.MustParseKey("C"), place, rng.Intn(12) == 0)
			key := p.Key() + theory.MustParseKey("C").Tonic().To(theory.NameFromFifths(c.Key.Fifths())).Semitones()
			if key > 84 {
				key -= 12
			}
			c.Melody = append(c.Melody, project.Note{Start: at + used, Duration: length, Pitch: theory.PitchAt(c.Key.Spell(key%12), key)})
			used += length
		}
	}
	return c
}

// TestQualityOfAnyTune counts what an arranger would mark in red where harmony
// and melody are thrown together, which is worse than any real tune.
func TestQualityOfAnyTune(t *testing.T) {
	rng := rand.New(rand.NewSource(2))
	var all Summary
	bare, rests := 0, 0
	for range 150 {
		r := arrangeOnly(anyTune(rng), Options{})
		s := Summarise(r, nil)
		all.Chorded += s.Chorded
		all.Moving += s.Moving
		all.Repeated += s.Repeated
		all.Unasked += s.Unasked
		all.Crossings += s.Crossings
		for i := range r.Steps {
			if st := &r.Steps[i]; st.Technique == theory.Alone && r.search.spots[r.search.first[i]].thin == notThin {
				bare++
				if testing.Verbose() && bare < 30 {
					t.Logf("%v over %v: %s", st.Lead, st.Chord, st.Reason)
				}
			}
			if r.search.spots[r.search.first[i]].thin != notThin {
				rests++
			}
		}
	}
	t.Logf("%d notes, %d without a block, %d thinned in runs, %d of %d blocks repeated, %d unasked ninths",
		all.Chorded, bare, rests, all.Repeated, all.Moving, all.Unasked)
	if all.Unasked > 0 || all.Crossings > 0 {
		t.Errorf("%d unasked minor ninths, %d crossings", all.Unasked, all.Crossings)
	}
	if 100*bare > 3*all.Chorded {
		t.Errorf("%d of %d notes have no block", bare, all.Chorded)
	}
	if 100*all.Repeated > 2*all.Moving {
		t.Errorf("%d of %d blocks repeat under a moving lead", all.Repeated, all.Moving)
	}
}
