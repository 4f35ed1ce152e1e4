package musicxml

import (
	"slices"
	"strings"

	"organbook/internal/theory"
)

// chord turns a written harmony into a chord symbol where it sounds, in the key
// that sounds there. Whatever cannot be taken over is named at the bar. ok is false when
// nothing of the symbol can be read.
func (h *harmonyItem) chord(key theory.Key, bar string, notes *notices) (c theory.Chord, ok bool) {
	if h.isNone() {
		return theory.NoChord(), true
	}
	root := h.rootIn(key.Transpose(h.shift.Invert()))
	if !root.IsValid() {
		if c, err := theory.ParseChord(h.text); err == nil {
			return c.Transpose(h.shift), true // some files keep the whole symbol in the text
		}
		notes.add(bar, "a chord symbol without a root is left out")
		return theory.Chord{}, false
	}
	if h.stacked {
		notes.add(bar, "of chord symbols above one another only the first is kept")
	}
	c = h.build(root, bar, notes)
	return h.withBass(c, bar, notes).Transpose(h.shift), true
}

// isNone recognises the symbol for no chord.
func (h *harmonyItem) isNone() bool {
	if strings.EqualFold(h.kind, "none") {
		return true
	}
	c, err := theory.ParseChord(h.text)
	return err == nil && c.IsNone()
}

// rootIn returns the root, computed from the numeral where there is no letter.
func (h *harmonyItem) rootIn(key theory.Key) theory.Name {
	if h.root.IsValid() || h.numeral == 0 {
		return h.root
	}
	if h.numeralKey.IsValid() {
		key = h.numeralKey
	}
	major := [...]theory.Interval{
		theory.Unison, theory.MajorSecond, theory.MajorThird, theory.PerfectFourth,
		theory.PerfectFifth, theory.MajorSixth, theory.MajorSeventh,
	}
	i := major[h.numeral-1]
	if key.Mode() == theory.Minor && (h.numeral == 3 || h.numeral >= 6) {
		i = i.Plus(theory.NewInterval(0, -1))
	}
	return key.Tonic().Transpose(i.Plus(theory.NewInterval(0, h.numeralAlter)))
}

// build finds the quality: by the standard's kind, by what other programs
// write for it, or by the text that is printed.
func (h *harmonyItem) build(root theory.Name, bar string, notes *notices) theory.Chord {
	kind, known := parseKind(h.kind)
	if h.kind == "" && h.minorNumeral && h.text == "" {
		kind, known = theory.KindMinor, true
	}
	if known && (kind != theory.KindOther || len(h.degrees) > 0) {
		return h.asPrinted(root, h.ofKind(root, kind, bar, notes))
	}
	for _, text := range []string{h.text, h.kind} {
		if c, ok := fromText(root, text); ok && text != "" && !strings.EqualFold(text, "other") {
			return h.withDegrees(c, bar, notes)
		}
	}
	switch {
	case h.kind == "" && h.text == "":
		return h.ofKind(root, theory.KindMajor, bar, notes)
	case known: // "other" without degrees or a readable text
		notes.add(bar, "the chord %s%s is of no known kind; it is kept as a major triad", root, h.text)
	default:
		notes.add(bar, "the chord kind %q is not known; %s is kept as a major triad", shorten(h.kind), root)
	}
	return h.ofKind(root, theory.KindMajor, bar, notes)
}

// kindWords maps kinds outside the standard, as older and other programs write
// them, to the standard's.
var kindWords = map[string]theory.Kind{
	"maj": theory.KindMajor, "min": theory.KindMinor, "aug": theory.KindAugmented, "dim": theory.KindDiminished,
	"dominant-seventh": theory.KindDominant, "dominant-7th": theory.KindDominant,
	"major-7th": theory.KindMajorSeventh, "minor-7th": theory.KindMinorSeventh,
	"diminished-7th": theory.KindDiminishedSeventh, "augmented-7th": theory.KindAugmentedSeventh,
	"half-diminished-seventh": theory.KindHalfDiminished, "minor-major": theory.KindMajorMinor,
	"minor-major-seventh": theory.KindMajorMinor, "major-minor-seventh": theory.KindMajorMinor,
	"major-6th": theory.KindMajorSixth, "minor-6th": theory.KindMinorSixth,
	"dominant-9th": theory.KindDominantNinth, "major-9th": theory.KindMajorNinth, "minor-9th": theory.KindMinorNinth,
	"dominant-eleventh": theory.KindDominant11th, "major-eleventh": theory.KindMajor11th, "minor-eleventh": theory.KindMinor11th,
	"dominant-thirteenth": theory.KindDominant13th, "major-thirteenth": theory.KindMajor13th, "minor-thirteenth": theory.KindMinor13th,
	"suspended-2nd": theory.KindSuspendedSecond, "suspended-4th": theory.KindSuspendedFourth,
	"suspended": theory.KindSuspendedFourth, "fifth": theory.KindPower,
}

// parseKind reads a kind of the standard whatever its case and hyphens.
func parseKind(s string) (theory.Kind, bool) {
	plain := strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" -_\t\n\r", r) }), "-")
	for _, word := range []string{plain, strings.ToUpper(plain[:min(1, len(plain))]) + plain[min(1, len(plain)):]} {
		if k, err := theory.ParseKind(word); err == nil {
			return k, true
		}
	}
	k, ok := kindWords[plain]
	return k, ok
}

// fromText reads the printed quality after a root, or a whole symbol.
func fromText(root theory.Name, text string) (theory.Chord, bool) {
	for _, s := range []string{root.String() + text, root.String() + "(" + text + ")", text} {
		if c, err := theory.ParseChord(s); err == nil && (c.Root() == root || c.IsNone()) {
			return c, true
		}
	}
	return theory.Chord{}, false
}

// ofKind builds the chord from its parts, dropping degrees no chord has.
func (h *harmonyItem) ofKind(root theory.Name, kind theory.Kind, bar string, notes *notices) theory.Chord {
	usable := slices.Clone(h.degrees)
	usable = slices.DeleteFunc(usable, func(d theory.Degree) bool {
		_, err := theory.NewChord(root, kind, []theory.Degree{d}, theory.Name{})
		return err != nil
	})
	if len(usable) < len(h.degrees) || h.badDegree {
		notes.add(bar, "a degree of the chord on %s cannot be read and is left out", root)
	}
	c, err := theory.NewChord(root, kind, usable, theory.Name{})
	if err != nil { // the degrees take every note out
		notes.add(bar, "the degrees of the chord on %s leave no note and are not applied", root)
		c, _ = theory.NewChord(root, kind, nil, theory.Name{})
	}
	return c
}

// withDegrees applies the degrees to a chord that was read from text. Such a
// text often names the degrees already, so only what is new changes it.
func (h *harmonyItem) withDegrees(c theory.Chord, bar string, notes *notices) theory.Chord {
	if c.IsNone() || len(h.degrees) == 0 {
		return c
	}
	kind, own := c.Kind()
	full, err := theory.NewChord(c.Root(), kind, append(own, h.degrees...), c.Bass())
	if err != nil {
		notes.add(bar, "a degree of the chord on %s cannot be read and is left out", c.Root())
		return c
	}
	return full
}

// withBass puts the chord over its written bass, or over the note that an
// inversion names.
func (h *harmonyItem) withBass(c theory.Chord, bar string, notes *notices) theory.Chord {
	switch tones := c.Tones(); {
	case c.IsNone():
	case h.bass.IsValid():
		return c.WithBass(h.bass)
	case h.inversion > 0 && h.inversion < len(tones):
		return c.WithBass(tones[h.inversion])
	case h.inversion > 0:
		notes.add(bar, "the chord %s has no inversion %d; it is kept in root position", c, h.inversion)
	}
	return c
}

// shorten keeps a text from a file short enough for a warning.
func shorten(s string) string {
	if r := []rune(s); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return s
}
