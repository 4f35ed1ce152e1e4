package arrange

import (
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestPinnedApproachKeepsItsReason pins the block that a slide would have chosen
// itself: it stays an approach, says where it leads and that it is pinned.
func TestPinnedApproachKeepsItsReason(t *testing.T) {
	c := sketch(t, "G minor", "Gm6@4", "D5@1 C#5@1 D5@2")
	c.Pins = []project.Pin{{Start: project.Quarter, Voices: pitches("C#5 A4 F#4 Eb4")}}
	st := Realise(c, Options{}).Steps[1]
	want := "You pinned this block. C# over Gm6: it leads to D by a semitone, so the whole block, F#m6, slides up into Gm6."
	if st.Technique != theory.Approach || !st.Pinned || st.Reason.String() != want {
		t.Errorf("%s: %s", stepText(&st), st.Reason)
	}
}

// TestPinnedApproachGoesAstray pins an approach and the note after it to another
// block: both stay, and the reason does not claim what does not happen.
func TestPinnedApproachGoesAstray(t *testing.T) {
	c := sketch(t, "G minor", "Gm6@4", "D5@1 C#5@1 D5@2")
	c.Pins = []project.Pin{
		{Start: project.Quarter, Voices: pitches("C#5 A4 F#4 Eb4")},
		{Start: 2 * project.Quarter, Voices: pitches("D5 Bb4 F4")},
	}
	r := Realise(c, Options{})
	for i, p := range c.Pins {
		if !sameKeys(r.Steps[i+1].Voices, p.Voices) {
			t.Errorf("pin %d became %v", i, r.Steps[i+1].Voices)
		}
	}
	if strings.Contains(r.Steps[1].Reason.String(), "slides up into Gm6") {
		t.Errorf("claims a slide into what is not there: %s", r.Steps[1].Reason)
	}
}

// TestPinnedBorrowingIsRecognised pins a block that only the bench offers, with
// more borrowed voices than the passage asks for.
func TestPinnedBorrowingIsRecognised(t *testing.T) {
	c := sketch(t, "C major", "C6@4", "G4@4")
	r := Realise(c, Options{})
	for _, a := range r.Alternatives(0) {
		if a.Technique != theory.Borrowed {
			continue
		}
		d := *c
		d.Pins = []project.Pin{{Voicing: a.Voicing, Voices: a.Voices}}
		if st := Realise(&d, Options{}).Steps[0]; st.Reason.String() != "You pinned this block. "+a.Reason.String() {
			t.Errorf("%s was offered as %q and pinned as %q", pitchList(a.Voices), a.Reason, st.Reason)
		}
	}
}

// TestPinnedBlockMovesInside keeps the pin at both ends of a held note whose
// inner voices move, and moves them in the pin's voicing.
func TestPinnedBlockMovesInside(t *testing.T) {
	c := sketch(t, "C minor", "Cm6@4", "G5@4")
	c.Passages[0].Treatment.MoveInner = true
	c.Pins = []project.Pin{{Voicing: theory.Drop2, Voices: pitches("G5 C5 A4 Eb4")}}
	got := strings.Join(stepTexts(Realise(c, Options{})), "\n")
	want := "home G5 C5 A4 Eb4 Cm6\nheld borrowed G5 D5 B4 F4 G7\nheld home G5 C5 A4 Eb4 Cm6"
	if got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}
