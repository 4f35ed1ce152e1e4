package session

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// sentence turns an error into a sentence for the user: a capital and a full
// stop.
func sentence(err error) string {
	text := strings.TrimSpace(err.Error())
	if text == "" {
		return ""
	}
	r, n := utf8.DecodeRuneInString(text)
	text = string(unicode.ToUpper(r)) + text[n:]
	if !strings.ContainsAny(text[len(text)-1:], ".!?") {
		text += "."
	}
	return text
}
