package ui

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fyne.io/fyne/v2/lang"

	"organbook/internal/ui/session"
)

// separators stand between texts that are said each for itself: the parts of a
// title, and where something went wrong, what, and why.
var separators = []string{" · ", ": ", "; "}

// quotation is what a file or the user says, which is never translated.
var quotation = regexp.MustCompile(`^(?:"([^"]*)"|“([^”]*)”)$`)

// translate looks a text up: as it stands and without what made it a sentence, by
// its form, and by its parts. Forms with a separator of their own come before the
// parts.
func (t *translator) translate(s string) string {
	if t.known[s] {
		return lang.L(s)
	}
	if data := quotation.FindStringSubmatch(s); data != nil {
		return fmt.Sprintf(lang.L("“%s”"), data[1]+data[2])
	}
	readings := readingsOf(s)
	for _, r := range readings {
		if t.known[r.core] {
			return r.restore(lang.L(r.core))
		}
	}
	if out, found := t.byForm(readings, true); found {
		return out
	}
	for _, between := range separators {
		if a, b, found := cutUnquoted(s, between); found {
			return t.part(a) + between + t.part(b)
		}
	}
	if face, found := strings.CutSuffix(s, " ▾"); found {
		return t.say(face) + " ▾"
	}
	out, found := t.byForm(readings, false)
	if !found {
		t.unknown[s] = true
		return s
	}
	return out
}

// cutUnquoted is strings.Cut at the first separator that is not within quotation marks.
func cutUnquoted(s, between string) (before, after string, found bool) {
	for from := 0; ; {
		at := strings.Index(s[from:], between)
		if at < 0 {
			return s, "", false
		}
		at += from
		if strings.Count(s[:at], "“") <= strings.Count(s[:at], "”") {
			return s[:at], s[at+len(between):], true
		}
		from = at + len(between)
	}
}

// ofTitles are the forms in which the title of a command stands in quotation marks.
var ofTitles = []string{"%s already means “%s”", "Press the new key for “%s”. Escape keeps %s.", "“%s” is %s from now on.", "“%s” does not apply to what is selected."}

// namedOperands tells of each operand of a form whether it is a name in quotation marks.
func namedOperands(key string) (named []bool) {
	for at := range strings.Split(key, "%s")[1:] {
		parts := strings.SplitN(key, "%s", at+2)
		quoted := strings.HasSuffix(parts[at], "“") && strings.HasPrefix(parts[at+1], "”")
		named = append(named, quoted && !slices.Contains(ofTitles, key))
	}
	return named
}

// part says a part of a text with the blanks around it.
func (t *translator) part(s string) string {
	core := strings.TrimSpace(s)
	if core == "" || t.known[s] {
		return t.say(s)
	}
	before, after, _ := strings.Cut(s, core)
	return before + t.say(core) + after
}

// byForm fills the first form that fits a text, among those that have a separator
// or those that have none.
func (t *translator) byForm(readings []reading, separated bool) (string, bool) {
	for _, p := range t.patterns {
		if p.separated != separated {
			continue
		}
		for _, r := range readings {
			if operands := p.texts.FindStringSubmatch(r.core); operands != nil {
				said := make([]any, len(operands)-1)
				for i, o := range operands[1:] {
					if said[i] = o; !p.named[i] {
						said[i] = t.say(o)
					}
				}
				return r.restore(fmt.Sprintf(withSigns(lang.L(p.key)), said...)), true
			}
		}
	}
	return "", false
}

var signs = regexp.MustCompile(`%(?:\[\d\])?s|%`)

// withSigns lets per cent signs that take no operand stand.
func withSigns(form string) string {
	return signs.ReplaceAllStringFunc(form, func(sign string) string {
		if sign == "%" {
			return "%%"
		}
		return sign
	})
}

// reading is a text without what may have made a sentence of it.
type reading struct {
	core            string
	raised, stopped bool
}

// readingsOf lists a text without its full stop and as it stands, then both
// without the capital: an operand at the end of a form takes no full stop with it,
// and one at the start keeps its capital.
func readingsOf(s string) []reading {
	list := []reading{{core: s}}
	if core, stopped := strings.CutSuffix(s, "."); stopped {
		list = []reading{{core: core, stopped: true}, {core: s}}
	}
	if first, n := utf8.DecodeRuneInString(s); unicode.IsUpper(first) {
		for _, r := range list {
			list = append(list, reading{string(unicode.ToLower(first)) + r.core[n:], true, r.stopped})
		}
	}
	return list
}

// restore makes a sentence again.
func (r reading) restore(out string) string {
	if r.raised {
		out = capital(out)
	}
	if r.stopped {
		out += "."
	}
	return out
}

// sentence is an error as a sentence in the language of the window's user.
func sentence(err error) string { return tr(session.Sentence(err)) }

// sentenceAbout is sentence for an error that may begin with a file's path, which
// is not translated.
func sentenceAbout(path string, err error) string {
	if reason, found := strings.CutPrefix(err.Error(), path+": "); found {
		return path + ": " + tr(reason+".")
	}
	return sentence(err)
}

// passageTitle names a passage: by its name as it was given, or by its bars in the
// language of the window's user.
func (w *Window) passageTitle(i int) string {
	title := w.session.PassageTitle(i)
	if w.session.Chart().Passages[i].Name == "" {
		return tr(title)
	}
	return title
}
