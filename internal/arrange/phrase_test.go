package arrange

import (
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestPhrasesEndAtRest counts the last notes of phrases in lead sheets over chords
// at rest: on a note of the home chord they rest on it, and on any other they pass
// on the away chord in one case of ten at most, where borrowing is allowed.
func TestPhrasesEndAtRest(t *testing.T) {
	var onHome, atHome, off, passing int
	sheets(15, func(_ *sheetStyle, c *project.Chart) {
		c.Passages[0].Treatment = project.Treatment{}
		r := arrangeOnly(c, Options{})
		for i := range r.Steps {
			sp, st := &r.search.spots[r.search.first[i]], &r.Steps[i]
			if !playable(st.Chord) || len(sp.services) == 0 || sp.services[0].Leading || !r.search.stage.closesPhrase(i, r.search.stage.meterAt(st.Start).Pulse()) {
				continue
			}
			switch step, on := sp.services[0].Family.StepOf(st.Lead.Name().PC()); {
			case on && step%2 == 0:
				onHome++
				if st.Technique == theory.Home {
					atHome++
				}
			case on:
				off++
				if st.Technique == theory.Away {
					passing++
				}
			}
		}
	})
	t.Logf("%d of %d phrases that end on a home note rest there; %d of %d others pass", atHome, onHome, passing, off)
	if 20*atHome < 19*onHome || 10*passing > off || onHome < 100 || off < 20 {
		t.Errorf("%d of %d phrases rest on their home note, %d of %d others pass", atHome, onHome, passing, off)
	}
}
