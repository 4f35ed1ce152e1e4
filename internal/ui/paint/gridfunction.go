package paint

import "strings"

// functionForms returns the label of a function from its full form to the
// shortest that still says it: "V of ii in F" is V/ii where there is less room.
// A label that does not fit in any form is left out; the bench has all of it.
func functionForms(s string) []string {
	forms := []string{s}
	add := func(short string) {
		if short != forms[len(forms)-1] {
			forms = append(forms, short)
		}
	}
	add(strings.NewReplacer(
		" of V of ", " of V/", " of ", "/", ", played as V", " → V", "common-tone", "c.t.", "diminished", "°", "passing", "pass.",
	).Replace(s))
	last := forms[len(forms)-1]
	for _, tail := range []string{" over a pedal", " in "} {
		last, _, _ = strings.Cut(last, tail)
		add(last)
	}
	add(strings.NewReplacer("tritone sub of V/", "subV/", "backdoor V/", "♭VII7/").Replace(last))
	return forms
}

// functionForms returns the forms of a label in the language of the picture's
// reader: the full one is a sentence of its own, the short ones are signs with a
// few words between them.
func (o *GridOptions) functionForms(m *chordLabel) []string {
	forms := functionForms(m.english)
	if o.Words == nil || m.function == m.english {
		return forms
	}
	forms[0] = m.function
	inWords := strings.NewReplacer("c.t.", o.Words("c.t."), "pass.", o.Words("pass."), " to ", o.Words(" to "),
		" minor", o.Words(" minor"), " over a pedal on ", o.Words(" over a pedal on "))
	for i := range forms[1:] {
		forms[i+1] = inWords.Replace(forms[i+1])
	}
	return forms
}

// functionSizes are tried in turn for each form.
var functionSizes = []float64{SizeSmall, 9}

// fittingFunction returns the fullest form of a function that fits a width, and
// the size it fits in; "" where none does.
func fittingFunction(forms []string, width float64) (string, float64) {
	for _, form := range forms {
		for _, size := range functionSizes {
			if TextWidth(form, Regular, size) <= width {
				return form, size
			}
		}
	}
	return "", SizeSmall
}
