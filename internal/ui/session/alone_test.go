package session

import (
	"testing"

	"organbook/internal/arrange"
)

// TestHearAlone hears one layer, then another, then all again.
func TestHearAlone(t *testing.T) {
	s := fingered(t)
	heard := func() (out []arrange.Layer) {
		for l := arrange.LayerLead; l <= arrange.LayerHold; l++ {
			if !s.Muted(l) {
				out = append(out, l)
			}
		}
		return out
	}
	for _, l := range []arrange.Layer{arrange.LayerBass, arrange.LayerLead} {
		if err := s.HearAlone(l); err != nil {
			t.Fatal(err)
		}
		if got := heard(); len(got) != 1 || got[0] != l {
			t.Errorf("alone %s: %v are heard", l, got)
		}
	}
	if err := s.HearAlone(arrange.LayerLead); err != nil {
		t.Fatal(err)
	}
	if got := heard(); len(got) != int(arrange.LayerHold)+1 {
		t.Errorf("the second time: %v are heard, not all", got)
	}
}
