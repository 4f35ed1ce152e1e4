package theory

import "fmt"

// ChordError says why a text is not a chord symbol, and where.
type ChordError struct {
	// Input is the whole text.
	Input string
	// Reason says in a few words what is wrong.
	Reason string
	// At counts the characters of Input before the offending one.
	At int
	// Rest is the unread text, from the offending character on.
	Rest string
}

// Error writes the input, the reason and the place.
func (e *ChordError) Error() string {
	return fmt.Sprintf("chord %q: %s", clip(e.Input), e.Problem())
}

// Problem is Error without the input, for places that show it anyway.
func (e *ChordError) Problem() string {
	if e.Rest == "" {
		return e.Reason + " at the end"
	}
	return fmt.Sprintf("%s at character %d, %q", e.Reason, e.At+1, clip(e.Rest))
}

// clip keeps messages short when a whole file was taken for a symbol.
func clip(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "…"
		}
		n++
	}
	return s
}
