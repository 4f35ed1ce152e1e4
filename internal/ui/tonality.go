package ui

import (
	"strings"

	"organbook/internal/theory"
)

// tonalityText is a key as a line of text shows it, in the language of the window's user.
func tonalityText(k theory.Key) string { return tr(k.String()) }

// readTonality reads a key as it is written in English or in the language of the window's
// user: "G minor", "Gm" or "G-Moll". Names of notes are international in either, and one alone is a key of the
// given mode.
func readTonality(text string, alone theory.Mode) (theory.Key, error) {
	plain := strings.TrimSpace(text)
	for _, mode := range []string{"major", "minor"} {
		said := tr(mode)
		if at := len(plain) - len(said); at > 0 && strings.EqualFold(plain[at:], said) {
			return theory.ParseKey(strings.TrimRight(plain[:at], " -") + " " + mode)
		}
	}
	return theory.ParseKeyIn(text, alone)
}
