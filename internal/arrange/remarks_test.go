package arrange

import (
	"testing"

	"organbook/internal/theory"
)

// TestVoicingsAreSaidAsMusiciansSayThem where a sentence names one: "in open
// position", not the words that files use.
func TestVoicingsAreSaidAsMusiciansSayThem(t *testing.T) {
	for v, want := range map[theory.Voicing]string{
		theory.Close: "close position", theory.Drop2: "drop 2", theory.Drop3: "drop 3", theory.Drop24: "drop 2 and 4", theory.DoubleLead: "double lead",
		theory.ThreePart: "three parts", theory.Pair: "thirds and sixths", theory.Spread: "open position", theory.Fourths: "fourths",
		theory.Octaves: "octaves", theory.UnisonVoicing: "unison",
	} {
		if got := voicingPhrase(v).String(); got != want {
			t.Errorf("%s is said as %q, want %q", v, got, want)
		}
	}
}
