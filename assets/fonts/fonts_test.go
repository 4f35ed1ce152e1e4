package fonts

import (
	"bytes"
	"strings"
	"testing"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// needed are the characters the program writes that letters of a text font
// often lack.
const needed = "♭♯♮𝄪𝄫♩♪𝄞𝄢⅓⅔⅕⅖⅗½¼¾′″–—·…“”‘’×−±→←↑↓↵⟲▶■▲△●○◐⏮⏸⏹⯃▁▂▃▄▅▆▇█øØ°⌫⇧Łőščžñß"

func parse(t *testing.T, data []byte) *sfnt.Font {
	t.Helper()
	f, err := sfnt.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestCoverage(t *testing.T) {
	for name, data := range map[string][]byte{"regular": Regular, "semibold": SemiBold} {
		f := parse(t, data)
		for _, r := range needed {
			if i, err := f.GlyphIndex(nil, r); err != nil || i == 0 {
				t.Errorf("%s lacks %q (U+%04X): %v", name, r, r, err)
			}
		}
	}
	music := parse(t, Music)
	for _, r := range "𝄞𝄢𝅘𝅗♭♯♮𝄪𝄫𝄋𝄌" {
		if i, err := music.GlyphIndex(nil, r); err != nil || i == 0 {
			t.Errorf("the music font lacks %q (U+%04X): %v", r, r, err)
		}
	}
}

func TestFiguresAreTabular(t *testing.T) {
	for name, data := range map[string][]byte{"regular": Regular, "semibold": SemiBold} {
		f := parse(t, data)
		one := advance(t, f, '1')
		for _, r := range "023456789" {
			if w := advance(t, f, r); w != one {
				t.Errorf("%s: %q is %v wide, 1 is %v", name, r, w, one)
			}
		}
	}
}

func advance(t *testing.T, f *sfnt.Font, r rune) fixed.Int26_6 {
	t.Helper()
	i, err := f.GlyphIndex(nil, r)
	if err != nil {
		t.Fatal(err)
	}
	w, err := f.GlyphAdvance(nil, i, fixed.I(1000), 0)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// TestSizes keeps the binary small.
func TestSizes(t *testing.T) {
	const most = 250 << 10
	for name, data := range map[string][]byte{"regular": Regular, "semibold": SemiBold, "music": Music} {
		if len(data) == 0 || len(data) > most {
			t.Errorf("%s is %d bytes, want at most %d", name, len(data), most)
		}
	}
}

// TestLicence keeps the condition on which the fonts may be embedded: their
// licence and copyright lines travel with them.
func TestLicence(t *testing.T) {
	for _, want := range []string{"The Inter Project Authors", "Google Inc.", "SIL OPEN FONT LICENSE Version 1.1", "PERMISSION & CONDITIONS"} {
		if !strings.Contains(Licence, want) {
			t.Errorf("the licence text lacks %q", want)
		}
	}
	// The names of the sources are not ours to use for the derived family.
	if bytes.Contains(Regular, []byte("I\x00n\x00t\x00e\x00r\x00 \x00R")) {
		t.Error("the derived font still carries its source's name")
	}
}
