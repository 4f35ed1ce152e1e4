package paint

import "testing"

func TestFunctionsGetShorterWithoutBeingCut(t *testing.T) {
	for s, want := range map[string]string{
		"V of ♭III": "V/♭III", "iiø, played as V": "iiø → V", "V of ii in F minor": "V/ii", "tritone sub of V of i": "subV/i", "i": "i", "": "",
		"IV7 over a pedal on G": "IV7",
	} {
		forms := functionForms(s)
		if forms[0] != s || forms[len(forms)-1] != want {
			t.Errorf("%q becomes %q, want %q at the end", s, forms, want)
		}
		for i := 1; i < len(forms); i++ {
			if TextWidth(forms[i], Regular, SizeSmall) >= TextWidth(forms[i-1], Regular, SizeSmall) {
				t.Errorf("%q is no shorter than %q", forms[i], forms[i-1])
			}
		}
		for width := 4.0; width < 200; width += 3 {
			got, size := fittingFunction(forms, width)
			if got != "" && TextWidth(got, Regular, size) > width {
				t.Errorf("%q at %g is %q, which does not fit", s, width, got)
			}
		}
		if got, _ := fittingFunction(forms, 500); got != s {
			t.Errorf("with room %q is shown as %q", s, got)
		}
	}
}
