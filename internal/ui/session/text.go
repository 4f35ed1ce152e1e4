package session

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentence turns an error into a sentence: a capital first, unless it begins
// with a file's name, and a full stop.
func Sentence(err error) string {
	text := strings.TrimSpace(err.Error())
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return ""
	}
	if first, _, _ := strings.Cut(text, " "); !strings.ContainsAny(first, "./\\") {
		text = string(unicode.ToUpper(r)) + text[n:]
	}
	if !strings.ContainsAny(text[len(text)-1:], ".!?") {
		text += "."
	}
	return text
}

// Quoted puts a name that a file or a user gave in quotation marks, which keep it
// from being translated where it happens to be a word of the program.
func Quoted(name string) string { return "“" + name + "”" }
