package arrange

import (
	"math/rand"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// chorusChanges is a chorus with most things changes do: turnaround, major and
// minor twos, blues dominants, a backdoor and a secondary dominant.
var chorusChanges = []string{
	"Cmaj7", "A7", "Dm7", "G7", "Em7", "A7", "Dm7", "G7",
	"C7", "F7", "Fm7", "Bb7", "Am7", "D7", "Dm7b5", "G7b9",
}

// chorus makes a chorus with a melody that walks and leaps about the scale, one
// note in twelve raised, in eighths, quarters and halves.
func chorus(rng *rand.Rand) *project.Chart {
	c := project.New()
	c.Bars = nil
	place := 28 + rng.Intn(7)
	for bar, symbol := range chorusChanges {
		c.Bars = append(c.Bars, project.NewBar(project.CommonTime))
		at := project.Ticks(bar) * project.Whole
		c.Changes = append(c.Changes, project.Change{Start: at, Chord: theory.MustParseChord(symbol)})
		for used := project.Ticks(0); used < project.Whole; {
			length := min([]project.Ticks{1, 1, 2, 4}[rng.Intn(4)]*project.Quarter/2, project.Whole-used)
			place = min(max(place+[]int{-3, -2, -1, -1, 0, 1, 1, 2, 3}[rng.Intn(9)], 30), 41)
			c.Melody = append(c.Melody, project.Note{Start: at + used, Duration: length, Pitch: scalePitch(c.Key, place, rng.Intn(12) == 0)})
			used += length
		}
	}
	return c
}

// scalePitch counts white keys upward, 35 for C5.
func scalePitch(key theory.Key, place int, raised bool) theory.Pitch {
	k := 12*(place/7) + majorDegrees[place%7] + 12
	if raised {
		k++
	}
	return theory.PitchAt(key.Spell(k%12), k)
}

// TestQualityOfManyChoruses counts what an arranger would mark in red.
func TestQualityOfManyChoruses(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	var notes, bare, moving, repeated, ninths int
	for range 100 {
		r := Realise(chorus(rng), Options{})
		for i := range r.Steps {
			st := &r.Steps[i]
			notes++
			if len(st.Voices) == 1 {
				bare++
			}
			for _, v := range st.Voices[1:] {
				if d := st.Lead.Key() - v.Key(); d > 12 && d%12 == 1 {
					ninths++
				}
			}
			if i > 0 && r.Steps[i-1].Lead != st.Lead && len(st.Voices) > 1 {
				moving++
				if keyText(st.Voices[1:], 0) == keyText(r.Steps[i-1].Voices[1:], 0) {
					repeated++
				}
			}
		}
	}
	t.Logf("%d notes, %d without a block, %d of %d blocks repeated under a moving lead", notes, bare, repeated, moving)
	if ninths > 0 {
		t.Errorf("%d minor ninths under the lead", ninths)
	}
	if 100*bare > notes {
		t.Errorf("%d of %d notes have no block", bare, notes)
	}
	if 100*repeated > moving {
		t.Errorf("%d of %d blocks repeat under a moving lead", repeated, moving)
	}
}

// TestSyncopationCountsAsItsBeat rests a syncopated away note like one on the
// beat it comes early for.
func TestSyncopationCountsAsItsBeat(t *testing.T) {
	c := sketch(t, "C major", "Cmaj7@8", "C5@1.5 D5@2.5 C5@1 D5@0.5 E5@2.5")
	r := Realise(c, Options{})
	spots := r.search.spots
	if spots[1].restless <= spots[3].restless {
		t.Errorf("a long syncopated D is no more at rest (%d) than a passing one (%d)", spots[1].restless, spots[3].restless)
	}
}
