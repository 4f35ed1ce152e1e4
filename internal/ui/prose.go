package ui

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"organbook/internal/theory"
)

// prose prints the accidentals of note names and chord symbols that stand in a
// sentence: "Bb is borrowed" becomes "B♭ is borrowed".
func prose(s string) string {
	words := strings.Split(s, " ")
	for i, w := range words {
		core := strings.TrimRight(w, ".,;:!?)")
		core = strings.TrimLeft(core, "(")
		if strings.ContainsAny(core, "#b") && isMusicName(core) {
			words[i] = strings.Replace(w, core, theory.Pretty(core), 1)
		}
	}
	return strings.Join(words, " ")
}

// isMusicName reports whether a word is a note name, a pitch or a chord.
func isMusicName(s string) bool {
	if s[0] < 'A' || s[0] > 'G' {
		return false
	}
	if _, err := theory.ParseName(s); err == nil {
		return true
	}
	if _, err := theory.ParsePitch(s); err == nil {
		return true
	}
	_, err := theory.ParseChord(s)
	return err == nil
}

// sentence turns an error into a sentence: a capital first, unless it begins
// with a file's name, and a full stop.
func sentence(err error) string {
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
