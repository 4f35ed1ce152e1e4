package assets

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	pictures = regexp.MustCompile(`!\[[^\]]*\]\(([^)]+)\)`)
	keysOf   = regexp.MustCompile(`\*\*(?:Ctrl|Alt)[^*]*\*\*`)
)

// TestTheHandbooksSayTheSame compares the German pages with the English ones:
// headings by their depth, list entries, pictures and examples to hear, and the
// keys that are named.
func TestTheHandbooksSayTheSame(t *testing.T) {
	english, err := Handbook()
	if err != nil {
		t.Fatal(err)
	}
	german, err := HandbookIn("de")
	if err != nil {
		t.Fatal(err)
	}
	if len(german) != len(english) {
		t.Fatalf("%d pages in German, %d in English", len(german), len(english))
	}
	for i := range english {
		e, g := english[i], german[i]
		if e.Title == g.Title {
			t.Errorf("page %q is not in German", e.Title)
		}
		for _, what := range []struct {
			name string
			of   func(string) []string
		}{{"headings and lists", outline}, {"pictures", targets}, {"keys", named}} {
			if want, got := what.of(e.Text), what.of(g.Text); !slices.Equal(want, got) {
				t.Errorf("%s: %s are\n%q, in English\n%q", g.Title, what.name, got, want)
			}
		}
	}
}

func TestALanguageWithoutAHandbookGetsTheEnglishOne(t *testing.T) {
	english, _ := Handbook()
	other, err := HandbookIn("xx")
	if err != nil || !slices.Equal(other, english) {
		t.Errorf("another handbook, %v", err)
	}
}

// outline lists the marks at the starts of headings and list entries.
func outline(page string) (out []string) {
	for line := range strings.Lines(page) {
		if mark, _, found := strings.Cut(line, " "); found && strings.Trim(mark, "#-") == "" {
			out = append(out, mark)
		}
	}
	return out
}

// targets lists what the pictures of a page show.
func targets(page string) (out []string) {
	for _, m := range pictures.FindAllStringSubmatch(page, -1) {
		out = append(out, m[1])
	}
	return out
}

// named lists the keys a page names, in any order.
func named(page string) []string {
	out := keysOf.FindAllString(page, -1)
	slices.Sort(out)
	return out
}
