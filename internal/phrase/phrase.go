// Package phrase holds what the program says about music as a form and what
// fills it, so that one place says it in English, which files and the command
// line keep, and another in the language of a window.
//
// A phrase is made where the fact is known, by Of; nothing is put together
// until somebody reads it. Where few of many phrases are read, Later keeps the
// facts and has the phrase itself made by whoever reads it. A translation knows
// the form alone ("%s with %s on top"), may turn its operands round (%[2]s), and
// never sees a finished sentence. Operands that are words themselves are phrases
// and are translated in turn; note names, chord symbols and other strings stay as
// they are.
package phrase

import (
	"fmt"
	"slices"
	"strings"
)

// Phrase is a sentence or a part of one. The zero value says nothing. Phrases
// made by different calls differ under ==, whatever they say.
type Phrase struct {
	said  *said
	later Maker // makes the phrase in place of said
}

// Maker knows the facts of a phrase and makes it of them.
type Maker interface{ Phrase() Phrase }

// Later is the phrase that m makes, made anew by everyone who reads it. m makes
// the same each time, of facts that no longer change and are only read, so that
// any number of goroutines may read the phrase.
func Later(m Maker) Phrase { return Phrase{later: m} }

// made is the phrase with what is left for later done; nil says nothing.
func (p Phrase) made() *said {
	for p.later != nil {
		p = p.later.Phrase()
	}
	return p.said
}

// said keeps the operands of most forms beside the form: arranging makes a few
// phrases for every note, and this is one allocation each.
type said struct {
	form     string
	operands []any
	few      [4]any
	verbatim bool // the form is a name and has no translation
}

// Of makes a phrase of a form with the verbs of package fmt, one for each
// operand; without operands the form is taken as it stands. Decimals are made by
// Decimal, since languages write them differently.
func Of(form string, operands ...any) Phrase {
	s := &said{form: form}
	if len(operands) <= len(s.few) {
		s.operands = s.few[:copy(s.few[:], operands)]
	} else {
		s.operands = slices.Clone(operands)
	}
	return Phrase{said: s}
}

// Verbatim makes a phrase that is the same in every language, such as the name of
// a chord that stands in many phrases.
func Verbatim(name string) Phrase { return Phrase{said: &said{form: name, verbatim: true}} }

// IsZero reports whether the phrase is the zero value.
func (p Phrase) IsZero() bool { return p == Phrase{} }

// String is the phrase in English.
func (p Phrase) String() string {
	s := p.made()
	switch {
	case s == nil:
		return ""
	case len(s.operands) == 0:
		return s.form
	}
	return fmt.Sprintf(s.form, s.operands...)
}

// In is the phrase in another language: say returns the translation of a form,
// which has the same verbs for the same operands, or the form itself.
func (p Phrase) In(say func(form string) string) string {
	s := p.made()
	switch {
	case s == nil:
		return ""
	case s.verbatim:
		return s.form
	case len(s.operands) == 0:
		return say(s.form)
	}
	operands := make([]any, len(s.operands))
	for i, o := range s.operands {
		switch o := o.(type) {
		case Phrase:
			operands[i] = o.In(say)
		case decimal:
			operands[i] = strings.Replace(o.String(), DecimalSign, say(DecimalSign), 1)
		default:
			operands[i] = o
		}
	}
	return fmt.Sprintf(say(s.form), operands...)
}

// Forms calls with the form of the phrase and those of its operands.
func (p Phrase) Forms(with func(form string)) {
	s := p.made()
	if s == nil || s.verbatim {
		return
	}
	with(s.form)
	for _, o := range s.operands {
		if o, ok := o.(Phrase); ok {
			o.Forms(with)
		}
	}
}

// DecimalSign stands between a number's whole and its parts in English, and is
// the form under which a language has its own.
const DecimalSign = "."

type decimal struct {
	value  float64
	places int
}

// String writes the number in English.
func (d decimal) String() string { return fmt.Sprintf("%.*f", d.places, d.value) }

// Decimal is an operand for %s: a number with so many decimal places.
func Decimal(value float64, places int) fmt.Stringer { return decimal{value, places} }
