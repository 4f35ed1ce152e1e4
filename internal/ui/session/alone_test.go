package session

import (
	"errors"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// TestHearAlone hears one layer, then another, then what was heard before.
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
	// What was silent before is silent again.
	if err := errors.Join(s.ToggleMute(arrange.LayerLead), s.HearAlone(arrange.LayerBass), s.HearAlone(arrange.LayerLead), s.HearAlone(arrange.LayerLead)); err != nil {
		t.Fatal(err)
	}
	if got := heard(); len(got) != int(arrange.LayerHold) || got[0] == arrange.LayerLead {
		t.Errorf("after the lead was silent: %v are heard", got)
	}
	if err := s.ToggleTriplet(); err != nil {
		t.Fatal(err)
	}
	s.Open(project.New(), "")
	if got := heard(); len(got) != int(arrange.LayerHold)+1 || s.Entry() != firstEntry {
		t.Errorf("in another chart %v are heard, and a %v is entered", got, s.Entry())
	}
}
