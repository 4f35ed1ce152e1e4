package musicxml

import (
	"strings"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/reach"
)

func TestScoreCarriesFingersAndFeet(t *testing.T) {
	r := arrange.Realise(sampleChart(), arrange.Options{})
	text := string(writtenScore(t, r))
	fingered, feet := 0, 0
	for _, n := range r.Notes {
		switch {
		case n.Finger > 0:
			fingered++
		case n.Part.String() != "":
			feet++
		}
	}
	if fingered == 0 || feet == 0 {
		t.Fatalf("%d fingered notes, %d notes of feet", fingered, feet)
	}
	if got := strings.Count(text, "<fingering>"); got != fingered {
		t.Errorf("%d fingerings for %d notes", got, fingered)
	}
	if got := strings.Count(text, "<toe placement=") + strings.Count(text, "<heel placement="); got != feet {
		t.Errorf("%d foot marks for %d notes", got, feet)
	}
}

func TestSlidesAndCrossingsAreWrittenInWords(t *testing.T) {
	r := arrange.Realise(sampleChart(), arrange.Options{})
	r.Notes[0].Glide = true
	for i := range r.Notes {
		r.Notes[i].Cross = reach.NoCross
		if r.Notes[i].Part != reach.NoPart {
			r.Notes[i].Cross = reach.Behind
		}
	}
	text := string(writtenScore(t, r))
	for _, want := range []string{"<other-technical>slide</other-technical>", "<other-technical>behind</other-technical>"} {
		if !strings.Contains(text, want) {
			t.Errorf("the score has no %s", want)
		}
	}
}

func TestSubstitutionIsWrittenBehindItsFinger(t *testing.T) {
	r := realise(sampleChart())
	r.Notes[0].Finger, r.Notes[0].Then = 5, 4
	if text := string(writtenScore(t, r)); !strings.Contains(strings.Join(strings.Fields(text), ""), `<fingering>5</fingering><fingeringsubstitution="yes">4</fingering>`) {
		t.Error("5-4 is not in the score")
	}
}
