package ui

import (
	"cmp"
	"embed"
	"encoding/json"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"organbook/internal/phrase"
	"organbook/internal/ui/command"
)

// The texts of the window are written in English where they are used, and the
// English text is the key under which translations/LANGUAGE.json has the same
// in another language; what has no translation stays English. Most texts pass
// through a few places (buttons, commands, menus, dialogs, the status line),
// and those call tr, so that a new text needs nothing but a line in the files.
// A key with %s stands for all texts of that form; a translation may turn them
// round (%[2]s). What the arranger and the reach report say about the music comes
// as phrases, whose forms are in translations/music.LANGUAGE.json: say fills them
// in. What goes wrong is in translations/errors.LANGUAGE.json, without the capital
// and the full stop that make a sentence of it. Names of notes and chords are the chart's own, international ones in either
// language: B flat is B♭ and never the German B.

//go:embed translations
var translations embed.FS

// forMusic begins the names of the files with the forms that phrases have: what
// the arranger and the reach model say.
const forMusic = "music."

// forErrors begins the names of the files with what goes wrong.
const forErrors = "errors."

// nameOfLanguage is the key whose translation is the language's own name.
const nameOfLanguage = "This window's language"

// translator keeps what was translated.
type translator struct {
	sync.Mutex
	spoken   string // the code of the language
	english  bool   // nothing to do
	known    map[string]bool
	patterns []pattern
	cache    map[string]string
	unknown  map[string]bool // what was asked for and has no translation
}

// pattern is a key with %s in it, as an expression for the texts of its form.
type pattern struct {
	key       string
	texts     *regexp.Regexp
	separated bool
	// named tells which operands are what a user has named and stay as they are:
	// those in quotation marks, but for the titles of commands.
	named []bool
}

var translated = &translator{spoken: "en", english: true}

// systemsOwn adds the translations and returns the code of the language that
// the toolkit then takes for the system's: it looks texts up under that alone.
var systemsOwn = sync.OnceValues(func() (string, error) {
	if err := lang.AddTranslationsFS(translations, "translations"); err != nil {
		return "", err
	}
	if lang.L(nameOfLanguage) == nameOfLanguage {
		return "en", nil
	}
	return "de", nil
})

// speak chooses a language by its code; "" follows the system. Another one than
// the system's is given to the toolkit in its place.
func speak(code string) error {
	system, err := systemsOwn()
	if err != nil {
		return err
	}
	keys, err := keysOf("de")
	if err != nil {
		return err
	}
	if code == "" {
		code = system
	}
	if translated.spoken == code {
		return nil
	}
	texts := keys
	if code == "en" {
		texts = map[string]string{}
		for k := range keys {
			texts[k] = k
		}
	}
	data, err := json.Marshal(texts)
	if err != nil {
		return err
	}
	if err := lang.AddTranslationsForLocale(data, fyne.Locale(system)); err != nil {
		return err
	}
	translated.spoken = code
	translated.reset(keys)
	return nil
}

func keysOf(code string) (map[string]string, error) {
	keys := map[string]string{}
	for _, part := range []string{forErrors, forMusic, ""} {
		some, err := readKeys(part + code)
		if err != nil {
			return nil, err
		}
		maps.Copy(keys, some)
	}
	return keys, nil
}

func readKeys(name string) (map[string]string, error) {
	data, err := translations.ReadFile("translations/" + name + ".json")
	if err != nil {
		return nil, err
	}
	keys := map[string]string{}
	return keys, json.Unmarshal(data, &keys)
}

func (t *translator) reset(keys map[string]string) {
	t.Lock()
	defer t.Unlock()
	t.known, t.cache, t.unknown = map[string]bool{}, map[string]string{}, map[string]bool{}
	for k := range keys {
		t.known[k] = true
	}
	t.patterns = windowPatterns()
	t.english = lang.L(nameOfLanguage) == nameOfLanguage
}

// windowPatterns are the forms of the window's own texts, those with more of their
// own before those with less: "bars %s of %s" before "bars %s".
var windowPatterns = sync.OnceValue(func() (out []pattern) {
	keys, err := readKeys("de")
	if err != nil {
		fyne.LogError("translations", err)
	}
	failures, err := readKeys(forErrors + "de")
	if err != nil {
		fyne.LogError("translations", err)
	}
	maps.Copy(keys, failures)
	for k := range keys {
		if !strings.Contains(k, "%s") {
			continue
		}
		form := strings.ReplaceAll(regexp.QuoteMeta(k), "%s", "(.+?)")
		separated := slices.ContainsFunc(separators, func(between string) bool { return strings.Contains(k, between) })
		out = append(out, pattern{k, regexp.MustCompile("(?s)^" + form + "$"), separated, namedOperands(k)})
	}
	slices.SortFunc(out, func(a, b pattern) int {
		return cmp.Or(len(b.key)-2*strings.Count(b.key, "%s")-len(a.key)+2*strings.Count(a.key, "%s"), strings.Compare(a.key, b.key))
	})
	return out
})

// tr says an English text of the window in the language of its user.
func tr(s string) string {
	t := translated
	t.Lock()
	defer t.Unlock()
	if t.english || s == "" {
		return s
	}
	return t.say(s)
}

// say says a phrase about the music in the language of the window's user.
func say(p phrase.Phrase) string { return p.In(tr) }

// paintedWord says a word beside the keyboards or over the drawbars, where the
// name of a division has little room.
func paintedWord(s string) string {
	if translated.spoken == "en" {
		return s
	}
	return tr("short: " + s)
}

// maxTranslated bounds what is kept; positions and numbers make many texts.
const maxTranslated = 4000

func (t *translator) say(s string) string {
	if out, ok := t.cache[s]; ok {
		return out
	}
	if len(t.cache) >= maxTranslated {
		clear(t.cache)
		clear(t.unknown)
	}
	out := t.translate(s)
	t.cache[s] = out
	return out
}

// missing lists the texts that were asked for and have no translation.
func (t *translator) missing() (out []string) {
	t.Lock()
	defer t.Unlock()
	for s := range t.unknown {
		if hasWord(s) {
			out = append(out, s)
		}
	}
	return out
}

// hasWord reports whether a text has a word of at least three letters; notes,
// keys and numbers are the same everywhere.
func hasWord(s string) bool {
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r < 'a' || r > 'z' }) {
		if len(word) >= 3 {
			return true
		}
	}
	return false
}

// language is the code of the language that the window speaks.
func language() string { return translated.spoken }

// SetLanguage chooses the language of the window's texts and remembers it. The
// panels are made anew, because many of their texts are said when they are made;
// page, place and keyboard stay where they were.
func (w *Window) SetLanguage(code string) {
	w.prefs.setLanguage(code)
	if err := speak(code); err != nil {
		fyne.LogError("translations", err)
	}
	page, at, scrolled := w.bench.page, w.focusedPanel(), w.grid.scroll.Offset
	w.makePanels()
	w.bench.showPage(page)
	w.showFolds()
	w.refreshAll()
	w.grid.scroll.ScrollToOffset(scrolled)
	w.focusPanel(at)
	w.session.Say("The language is changed.")
}

// focusedPanel is the panel that has the keyboard, the grid where none has.
func (w *Window) focusedPanel() command.Panel {
	switch w.win.Canvas().Focused() {
	case w.strip:
		return command.Strip
	case w.bench:
		return w.bench.page
	case w.console:
		return command.Console
	case w.top.play:
		return command.Transport
	}
	return command.Grid
}
