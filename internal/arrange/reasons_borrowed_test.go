package arrange

import (
	"testing"

	"organbook/internal/theory"
)

// TestBorrowedLeadIsPlaced says what a borrowed lead is to the chord in force
// where it belongs to it, and claims no rest of any note.
func TestBorrowedLeadIsPlaced(t *testing.T) {
	chord, err := theory.ParseChord("Eb7")
	if err != nil {
		t.Fatal(err)
	}
	name := theory.NameFromFifths
	for _, c := range []struct {
		lead theory.Name
		want string
	}{
		{name(-3), "the root, but not in the home chord Bbm6; borrowed onto it in place of F, giving Eb9"},
		{name(0), "not in the home chord Bbm6; borrowed onto it in place of F, giving Eb9"},
	} {
		sp := &spot{lead: theory.PitchAt(c.lead, 60+c.lead.PC()), heard: chord, tones: chord.Tones()}
		served := theory.Service{Family: theory.NewFamily(name(-2), theory.MinorSixthFamily)}
		b := &candidate{service: servingOf(served), instead: name(-1)}
		if got := (&search{}).writer().borrowedLeadReason(sp, b, "Eb9").String(); got != c.want {
			t.Errorf("%v: %s", c.lead, got)
		}
	}
}
