package musicxml

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"organbook/internal/theory"
)

// harmony writes a chord symbol on a root such as "Bb" with what follows the
// kind.
func harmony(root, kind string, rest ...string) string {
	return "<harmony>" + rootXML("root", root) + "<kind>" + kind + "</kind>" + strings.Join(rest, "") + "</harmony>"
}

func rootXML(element, name string) string {
	alter := strings.Count(name, "#") - strings.Count(name[1:], "b")
	return fmt.Sprintf("<%[1]s><%[1]s-step>%[2]s</%[1]s-step><%[1]s-alter>%[3]d</%[1]s-alter></%[1]s>", element, name[:1], alter)
}

func degree(number, alter int, op string) string {
	return fmt.Sprintf("<degree><degree-value>%d</degree-value><degree-alter>%d</degree-alter><degree-type>%s</degree-type></degree>", number, alter, op)
}

// kindNotes gives semitones above the root for each kind of the standard, from
// the words of its documentation. Thirteenths over a major third are played
// without the eleventh, which the standard's stack would add.
var kindNotes = map[string][]int{
	"major": {0, 4, 7}, "minor": {0, 3, 7}, "augmented": {0, 4, 8}, "diminished": {0, 3, 6},
	"dominant": {0, 4, 7, 10}, "major-seventh": {0, 4, 7, 11}, "minor-seventh": {0, 3, 7, 10},
	"diminished-seventh": {0, 3, 6, 9}, "augmented-seventh": {0, 4, 8, 10}, "half-diminished": {0, 3, 6, 10},
	"major-minor": {0, 3, 7, 11}, "major-sixth": {0, 4, 7, 9}, "minor-sixth": {0, 3, 7, 9},
	"dominant-ninth": {0, 2, 4, 7, 10}, "major-ninth": {0, 2, 4, 7, 11}, "minor-ninth": {0, 2, 3, 7, 10},
	"dominant-11th": {0, 2, 4, 5, 7, 10}, "major-11th": {0, 2, 4, 5, 7, 11}, "minor-11th": {0, 2, 3, 5, 7, 10},
	"dominant-13th": {0, 2, 4, 7, 9, 10}, "major-13th": {0, 2, 4, 7, 9, 11}, "minor-13th": {0, 2, 3, 5, 7, 9, 10},
	"suspended-second": {0, 2, 7}, "suspended-fourth": {0, 5, 7},
	"Neapolitan": {0, 4, 7}, "Italian": {0, 4, 10}, "French": {0, 4, 6, 10}, "German": {0, 4, 7, 10},
	"pedal": {0}, "power": {0, 7}, "Tristan": {0, 3, 6, 10}, "other": {0}, "none": {},
}

func pitchClassesAbove(c theory.Chord, root string) []int {
	var got []int
	for _, pc := range c.PitchClasses() {
		got = append(got, (pc-theory.MustParseName(root).PC()+12)%12)
	}
	slices.Sort(got)
	return got
}

func readOneChord(t *testing.T, xml string) theory.Chord {
	t.Helper()
	c, _ := readText(t, four(xml+n("C4", 8)))
	if len(c.Changes) != 1 || c.Changes[0].Start != 0 {
		t.Fatalf("changes %s, want one at the start", chordText(c))
	}
	return c.Changes[0].Chord
}

func TestEveryKindOnEveryRoot(t *testing.T) {
	if len(kindNotes) != 33 {
		t.Fatalf("%d kinds, the standard has 33", len(kindNotes))
	}
	for kind, want := range kindNotes {
		for _, root := range []string{"C", "Db", "C#", "D", "Eb", "D#", "E", "F", "F#", "Gb", "G", "Ab", "A", "Bb", "B", "Cb", "Fb"} {
			xml := harmony(root, kind)
			if kind == "other" { // its degrees make the chord
				xml = harmony(root, kind, degree(1, 0, "add"))
			}
			c := readOneChord(t, xml)
			if kind == "none" {
				if !c.IsNone() {
					t.Errorf("none: %s", c)
				}
				continue
			}
			if got := pitchClassesAbove(c, root); !slices.Equal(got, want) || c.Root().String() != root || c.HasSlash() {
				t.Errorf("%s on %s: %s with %v, want %v", kind, root, c, got, want)
			}
		}
	}
}

// degreeSemitones gives a degree's place in a dominant chord.
var degreeSemitones = map[int]int{2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 10, 9: 14, 11: 17, 13: 21}

// TestEveryKindWithAddedDegrees adds each degree to each kind: the chord has
// the kind's notes and the added one.
func TestEveryKindWithAddedDegrees(t *testing.T) {
	for kind, notes := range kindNotes {
		if kind == "none" {
			continue
		}
		for number, semitones := range degreeSemitones {
			for alter := -1; alter <= 1; alter++ {
				c := readOneChord(t, harmony("D", kind, degree(number, alter, "add")))
				want := append(slices.Clone(notes), (semitones+alter+12)%12)
				slices.Sort(want)
				want = slices.Compact(want)
				if got := slices.Compact(pitchClassesAbove(c, "D")); !slices.Equal(got, want) {
					t.Errorf("%s add %d altered by %d: %s with %v, want %v", kind, number, alter, c, got, want)
				}
			}
		}
	}
}

// kindText is a harmony on C whose kind is printed as text.
func kindText(kind, text string, rest ...string) string {
	return strings.Replace(harmony("C", kind, rest...), "<kind", `<kind text="`+text+`"`, 1)
}

func TestChordSymbols(t *testing.T) {
	tests := []struct{ name, xml, want string }{
		{"altered ninth and fifth", harmony("C", "dominant", degree(9, -1, "add"), degree(5, 1, "alter")), "C7#5b9"},
		{"altered ninth of a ninth", harmony("C", "dominant-ninth", degree(9, 1, "alter")), "C7#9"},
		{"sharp eleventh", harmony("F", "dominant", degree(11, 1, "add")), "F7#11"},
		{"added ninth", harmony("C", "major", degree(9, 0, "add")), "Cadd9"},
		{"six nine", harmony("C", "major-sixth", degree(9, 0, "add")), "C6/9"},
		{"suspended seventh", harmony("G", "suspended-fourth", degree(7, 0, "add")), "G7sus4"},
		{"without fifth", harmony("C", "major", degree(5, 0, "subtract")), "Cno5"},
		{"minor major seventh", harmony("C", "major-minor"), "Cm(maj7)"},
		{"other, made of degrees", harmony("C", "other", degree(3, -1, "add"), degree(5, 0, "add")), "Cm"},
		{"slash", harmony("C", "minor-seventh", rootXML("bass", "Bb")), "Cm7/Bb"},
		{"slash before degrees", harmony("C", "dominant", rootXML("bass", "E"), degree(9, -1, "add")), "C7b9/E"},
		{"bass like the root", harmony("Eb", "major", rootXML("bass", "Eb")), "Eb"},
		{"bass with a separator", harmony("C", "major", "<bass arrangement=\"vertical\"><bass-separator>/</bass-separator><bass-step>G</bass-step></bass>"), "C/G"},
		{"inversion", harmony("C", "major", "<inversion>1</inversion>"), "C/E"},
		{"root position", harmony("C", "major", "<inversion>0</inversion>"), "C"},
		{"bass beats inversion", harmony("C", "major", "<inversion>1</inversion>", rootXML("bass", "G")), "C/G"},
		{"no chord by kind", "<harmony><root><root-step text=\"\">C</root-step></root><kind text=\"N.C.\">none</kind></harmony>", "N.C."},
		{"no chord by text", "<harmony><root><root-step>C</root-step></root><kind text=\"N.C.\">other</kind></harmony>", "N.C."},
		{"no root but a text", "<harmony><kind text=\"Fm7\">other</kind></harmony>", "Fm7"},
		{"kind in capitals with blanks", harmony("C", " Minor Seventh "), "Cm7"},
		{"rest of the kind in the text", kindText("dominant", "7(b9)"), "C7b9"},
		{"number in the text", kindText("major", "6/9"), "C6/9"},
		{"suspension in the text", kindText("dominant", "9sus4"), "C9sus4"},
		{"lowered fifth in the text", kindText("minor-seventh", "ø7"), "Cm7b5"},
		{"text of another third", kindText("minor-seventh", "7"), "Cm7"},
		{"text of another seventh", kindText("major-seventh", "7"), "Cmaj7"},
		{"text that says less", kindText("dominant-ninth", "7"), "C9"},
		{"text without the degrees", kindText("dominant", "7", degree(9, -1, "add")), "C7b9"},
		{"seventh counted from the major chord", kindText("suspended-fourth", "7sus4", degree(7, -1, "add")), "C7sus4"},
		{"seventh counted from no chord", kindText("major", "maj7", degree(7, 0, "add")), "Cmaj7"},
		{"kind of older files", harmony("C", "dominant-seventh"), "C7"},
		{"kind as printed", harmony("C", "m7b5"), "Cm7b5"},
		{"other with a text", "<harmony>" + rootXML("root", "C") + "<kind text=\"7alt\">other</kind></harmony>", "C7alt"},
		{"other with a text that looks like a root", "<harmony>" + rootXML("root", "C") + "<kind text=\"b5\">other</kind></harmony>", "C(b5)"},
		{"other with a text that ends a chord", "<harmony>" + rootXML("root", "C") + "<kind text=\"9\">other</kind></harmony>", "C9"},
		{"unknown kind with text", "<harmony>" + rootXML("root", "C") + "<kind text=\"13\">lush</kind></harmony>", "C13"},
		{"unknown kind", harmony("C", "lush"), "C"},
		{"empty kind", harmony("C", ""), "C"},
		{"decimal alter", "<harmony><root><root-step>B</root-step><root-alter>-1.0</root-alter></root><kind>minor</kind></harmony>", "Bbm"},
		{"accidental in the step", "<harmony><root><root-step>Bb</root-step></root><kind>minor</kind></harmony>", "Bbm"},
		{"hidden symbols count", strings.Replace(harmony("C", "minor"), "<harmony>", `<harmony print-object="no">`, 1), "Cm"},
		{"function", "<harmony><function>V</function><kind>dominant</kind></harmony>", "G7"},
		{"lowered function", "<harmony><function>bVII</function><kind>dominant</kind></harmony>", "Bb7"},
		{"minor function without kind", "<harmony><function>ii</function></harmony>", "Dm"},
		{"function with inversion", "<harmony><function>V</function><kind>dominant</kind><inversion>3</inversion></harmony>", "G7/F"},
		{"numeral", "<harmony><numeral><numeral-root>2</numeral-root></numeral><kind>minor-seventh</kind></harmony>", "Dm7"},
		{"numeral of another key", "<harmony><numeral><numeral-root>5</numeral-root><numeral-key><numeral-fifths>-3</numeral-fifths><numeral-mode>harmonic minor</numeral-mode></numeral-key></numeral><kind>dominant</kind></harmony>", "G7"},
		{"numeral in minor", "<harmony><numeral><numeral-root>6</numeral-root><numeral-key><numeral-fifths>-3</numeral-fifths><numeral-mode>natural minor</numeral-mode></numeral-key></numeral><kind>major</kind></harmony>", "Ab"},
		{"altered numeral", "<harmony><numeral><numeral-root>4</numeral-root><numeral-alter>1</numeral-alter></numeral><kind>half-diminished</kind></harmony>", "F#m7b5"},
		{"the first of stacked chords", "<harmony>" + rootXML("root", "D") + "<kind>major</kind>" + rootXML("root", "C") + "<kind>dominant</kind>" + rootXML("bass", "E") + "</harmony>", "D"},
		{"a degree no chord has", harmony("C", "dominant", degree(9, -7, "add"), degree(13, 0, "add")), "C7add13"},
		{"degrees that take all away", harmony("C", "pedal", degree(1, 0, "subtract")), "Cno3no5"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			want := theory.MustParseChord(tt.want)
			if got := readOneChord(t, tt.xml); got != want {
				t.Errorf("got %s, want %s", got, want)
			}
		})
	}
}

func TestChordPositions(t *testing.T) {
	offset := func(d string) string { return "<offset>" + d + "</offset>" }
	after := `</measure><measure number="2">`
	tests := []struct {
		name, xml, want string
		warnings        []string
	}{
		{"before notes", harmony("C", "major") + n("C4", 4) + harmony("F", "major") + n("C4", 4), "0 C, 20160 F", nil},
		{"by offset", harmony("C", "major") + harmony("F", "major", offset("4")) + harmony("G", "major", offset("6")) + n("C4", 8), "0 C, 20160 F, 30240 G", nil},
		{"by negative offset", n("C4", 8) + harmony("F", "major", offset("-2")), "30240 F", nil},
		{"by decimal offset", harmony("F", "major", offset("0.5")) + n("C4", 8), "2520 F", nil},
		{"between voices", n("C4", 8) + backup(8) + forward(4) + harmony("F", "major") + forward(4), "20160 F", nil},
		{"two at one place", harmony("C", "major") + harmony("F", "major") + n("C4", 8), "0 F", []string{"only the last"}},
		{"the same twice", harmony("C", "major") + harmony("C", "major") + n("C4", 8), "0 C", nil},
		{"an alternate reading", harmony("C", "major") + strings.Replace(harmony("A", "minor"), "<harmony>", `<harmony type="alternate">`, 1) + n("C4", 8), "0 C", []string{"alternate"}},
		{"at a bar's end", harmony("C", "major") + n("C4", 8) + harmony("F", "major") + after + n("D4", 8), "0 C, 40320 F", nil},
		{"beyond a bar's end", harmony("F", "major", offset("10")) + n("C4", 8) + after + n("D4", 8), "50400 F", nil},
		{"at the very end", n("C4", 8) + harmony("F", "major"), "", []string{"end of the last bar"}},
		{"before the beginning", harmony("F", "major", offset("-4")) + n("C4", 8), "0 F", []string{"before the first bar"}},
		{"without a root", "<harmony><kind>major</kind></harmony>" + n("C4", 8), "", []string{"without a root"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, warnings := readText(t, four(tt.xml))
			if got := chordText(c); got != tt.want {
				t.Errorf("chords %q, want %q", got, tt.want)
			}
			wantWarnings(t, warnings, tt.warnings...)
		})
	}
}

func TestChordsOfAnotherPart(t *testing.T) {
	xml := `<score-partwise><part id="P1"><measure number="1">` + inHead(2, 4, 4) + n("C5", 8) + `</measure><measure number="2">` + n("D5", 8) + `</measure></part>` +
		`<part id="P2"><measure number="1">` + inHead(4, 4, 4) + harmony("C", "major") + n("C3", 8) + harmony("G", "dominant") + n("G2", 8) + `</measure>` +
		`<measure number="2">` + harmony("C", "major-sixth") + n("C3", 16) + `</measure><measure number="3">` + harmony("F", "major") + n("C3", 16) + `</measure></part></score-partwise>`
	c, warnings := readText(t, xml)
	if got, want := chordText(c), "0 C, 20160 G7, 40320 C6"; got != want {
		t.Errorf("chords %s, want %s", got, want)
	}
	if got, want := melodyText(c), "0+40320 C5, 40320+40320 D5"; got != want {
		t.Errorf("melody %s, want %s", got, want)
	}
	wantWarnings(t, warnings, "part 1 of 2", "after the melody's last bar")
}
