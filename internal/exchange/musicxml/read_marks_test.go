package musicxml

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"organbook/internal/project"
)

// bars writes measures of a whole note each with what comes before and after
// the note; the first gets the attributes. "|" separates before from after.
func bars(contents ...string) string {
	var out strings.Builder
	for i, c := range contents {
		before, after, _ := strings.Cut(c, "|")
		if i == 0 {
			before = inHead(2, 4, 4) + before
		}
		fmt.Fprintf(&out, `<measure number="%d">%s%s%s</measure>`, i+1, before, n("C4", 8), after)
	}
	return partwise(out.String())
}

func barline(location, inner string) string {
	return fmt.Sprintf(`<barline location="%s">%s</barline>`, location, inner)
}

func ending(number, kind string) string {
	return fmt.Sprintf(`<ending number="%s" type="%s"/>`, number, kind)
}

func words(s string) string {
	return "<direction><direction-type><words>" + s + "</words></direction-type></direction>"
}

func sound(attributes string) string {
	return "<direction><direction-type><words/></direction-type><sound " + attributes + "/></direction>"
}

// markText writes the marks of each bar in a short form of its own.
func markText(c *project.Chart) string {
	var out []string
	for _, b := range c.Bars {
		s := ""
		for _, m := range []struct {
			on   bool
			text string
		}{
			{b.Section != "", "<" + b.Section + ">"}, {b.Segno, "S"}, {b.Coda, "O"}, {b.RepeatStart, "["},
			{b.EndingStart, "e"}, {b.Ending != nil, strings.ReplaceAll(fmt.Sprint(b.Ending), " ", "")}, {b.ToCoda, "t"}, {b.Fine, "f"},
			{b.RepeatEnd, "]"}, {b.Times > 0, fmt.Sprint("x", b.Times)}, {b.Jump != project.NoJump, "(" + b.Jump.String() + ")"},
			{b.Tempo > 0, fmt.Sprint("=", b.Tempo)},
		} {
			if m.on {
				s += m.text
			}
		}
		out = append(out, s)
	}
	return strings.Join(out, "|")
}

func TestMarks(t *testing.T) {
	forward, backward := `<repeat direction="forward"/>`, `<repeat direction="backward"/>`
	segno := "<direction><direction-type><segno/></direction-type></direction>"
	coda := "<direction><direction-type><coda/></direction-type></direction>"
	rehearsal := func(s string) string {
		return "<direction><direction-type><rehearsal>" + s + "</rehearsal></direction-type></direction>"
	}
	tests := []struct{ name, xml, want string }{
		{"a repeat", bars("", barline("left", forward), "|"+barline("right", backward), ""), "|[|]|"},
		{"a repeat from the start", bars("", "|"+barline("right", backward)), "|]"},
		{"played three times", bars("|" + barline("right", `<repeat direction="backward" times="3"/>`)), "]x3"},
		{"twice is what a repeat means", bars("|" + barline("right", `<repeat direction="backward" times="2"/>`)), "]"},
		{"a start at the bar before's end", bars("|"+barline("right", forward), "|"+barline("right", backward)), "|[]"},
		{"an end at the bar after's start", bars("", barline("left", backward)), "]|"},
		{"places told from the order", bars("<barline>"+forward+"</barline>|<barline>"+backward+"</barline>", ""), "[]|"},
		{"a repeat inside a bar", bars("|"+barline("middle", backward), ""), "]|"},
		{"endings", bars(barline("left", forward), barline("left", ending("1", "start"))+"|"+barline("right", ending("1", "stop")+backward), barline("left", ending("2", "start"))+"|"+barline("right", ending("2", "discontinue")), ""),
			"[|e[1]]|e[2]|"},
		{"endings of several bars and passes", bars("", barline("left", ending("1, 2", "start")), "|"+barline("right", ending("1, 2", "stop")+backward), barline("left", ending("3", "start")), "|"+barline("right", ending("3", "stop"))),
			"|e[12]|[12]]|e[3]|[3]"},
		{"ending numbers in words of their own", bars(barline("left", ending("1.-3.", "start"))+"|"+barline("right", ending("1.-3.", "stop")+backward), barline("left", `<ending type="start">4.</ending>`)+"|"+barline("right", `<ending type="stop">4.</ending>`)),
			"e[123]]|e[4]"},
		{"an ending without a number", bars(barline("left", ending("1", "start"))+"|"+barline("right", ending("1", "stop")+backward), barline("left", ending("", "start"))+"|"+barline("right", ending("", "stop"))),
			"e[1]]|e[2]"},
		{"an ending closed by its repeat", bars(barline("left", ending("1", "start")), "|"+barline("right", backward), ""), "e[1]|[1]]|"},
		{"an ending never closed", bars("", barline("left", ending("2", "start")), "", ""), "|e[2]||"},
		{"two endings of the same number", bars(barline("left", ending("1", "start"))+"|"+barline("right", ending("1", "stop")), barline("left", ending("1", "start"))+"|"+barline("right", ending("1", "stop"))),
			"e[1]|e[1]"},
		{"a stop without a start", bars("|"+barline("right", ending("1", "stop")), ""), "|"},
		{"segno and D.S. al Coda by sound", bars(segno, "|"+sound(`tocoda="coda"`), "|<direction><direction-type><words>D.S. al Coda</words></direction-type><sound dalsegno=\"segno\"/></direction>", sound(`coda="coda"`)),
			"S|t|(dal segno al coda)|O"},
		{"all by words", bars(segno, "|"+words("To Coda"), "|"+words("D.S. al Coda"), words("Coda")), "S|t|(dal segno al coda)|O"},
		{"all by signs", bars(segno, "|"+coda, "|"+words("D. S. al  Coda"), coda), "S|t|(dal segno al coda)|O"},
		{"a sign beside its words", bars("", "|<direction><direction-type><words>to </words></direction-type><direction-type><coda/></direction-type></direction>", coda), "|t|O"},
		{"a sign with tocoda sound", bars("", "|<direction><direction-type><coda/></direction-type><sound tocoda=\"c\"/></direction>", coda), "|t|O"},
		{"words and signs apart", bars(segno, "|"+words("To Coda")+coda, "|"+segno+words("D.S. al Coda"), words("Coda")+coda), "S|t|(dal segno al coda)|O"},
		{"a coda sign at the end of a bar opens the next", bars("", "|"+words("To Coda"), "|"+coda, ""), "|t||O"},
		{"D.C. al Fine", bars("|"+words("Fine"), "|"+words("D.C. al Fine")), "f|(da capo al fine)"},
		{"da capo by sound", bars("|"+sound(`fine="yes"`), "|"+sound(`dacapo="yes"`)), "f|(da capo)"},
		{"da capo in full", bars("", "|"+words("Da Capo")), "|(da capo)"},
		{"D.S. alone", bars(segno, "|"+words("D.S.")), "S|(dal segno)"},
		{"the sign of a barline", bars(barline("left", "<segno/>"), ""), "S|"},
		{"words that only look like jumps", bars(words("Discreetly"), words("fine tone"), words("codas ad lib.")), "||"},
		{"rehearsal marks", bars(rehearsal("A"), "", rehearsal("B1")), "<A>||<B1>"},
		{"a rehearsal mark at the end of a bar", bars("|"+rehearsal("A"), ""), "|<A>"},
		{"two labels", bars(rehearsal("A")+rehearsal(" Verse\n")+"|", ""), "<A Verse>|"},
		{"boxed words are labels", bars(`<direction><direction-type><words enclosure="rectangle">Bridge</words></direction-type></direction>`), "<Bridge>"},
		{"tempo changes", bars(sound(`tempo="120"`), sound(`tempo="120"`), "|"+sound(`tempo="90"`), ""), "|||=90"},
		{"a bare sound element", bars("", `<sound tempo="80"/>`), "|=80"},
		{"a tempo out of bounds", bars("", sound(`tempo="1000"`)), "|=400"},
		{"a mark beyond the last bar", bars("|" + sound(`tempo="90"`) + "<direction><direction-type><segno/></direction-type><offset>40</offset></direction>"), "S"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, _ := readText(t, tt.xml)
			if got := markText(c); got != tt.want {
				t.Errorf("marks\n got %s\nwant %s", got, tt.want)
			}
		})
	}
}

func TestTempo(t *testing.T) {
	metronome := func(inner string) string {
		return "<direction><direction-type><metronome>" + inner + "</metronome></direction-type></direction>"
	}
	tests := []struct {
		name, xml string
		want      float64
	}{
		{"none", "", 120},
		{"quarter", metronome("<beat-unit>quarter</beat-unit><per-minute>96</per-minute>"), 96},
		{"dotted quarter", metronome("<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>100</per-minute>"), 150},
		{"half", metronome("<beat-unit>half</beat-unit><per-minute>ca. 110-120</per-minute>"), 220},
		{"sound wins", `<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>96</per-minute></metronome></direction-type><sound tempo="144.5"/></direction>`, 144.5},
		{"no number", metronome("<beat-unit>quarter</beat-unit><per-minute>fast</per-minute>"), 120},
		{"another beat", metronome("<beat-unit>quarter</beat-unit><beat-unit>half</beat-unit>"), 120},
		{"in words", words("Medium (♩ = c. 138)"), 138},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if c, _ := readText(t, bars(tt.xml, "")); c.Tempo != tt.want {
				t.Errorf("tempo %v, want %v", c.Tempo, tt.want)
			}
		})
	}
}

func TestSwing(t *testing.T) {
	swing := func(inner string) string { return "<sound><swing>" + inner + "</swing></sound>" }
	tests := []struct {
		name string
		xml  []string
		want float64
	}{
		{"none", []string{""}, 0.5},
		{"stated", []string{"", "", swing("<first>3</first><second>2</second>")}, 0.6},
		{"triplet", []string{swing("<first>2</first><second>1</second>")}, 2.0 / 3},
		{"straight beats words", []string{words("Swing") + swing("<straight/>")}, 0.5},
		{"sixteenths are another matter", []string{swing("<first>2</first><second>1</second><swing-type>16th</swing-type>")}, 0.5},
		{"too late", []string{swing("<first>9</first><second>1</second>")}, 0.8},
		{"words", []string{words("Medium Swing")}, 2.0 / 3},
		{"words that deny", []string{words("Straight 8ths, no swing")}, 0.5},
		{"words of a later section", []string{"", "", words("Swing")}, 0.5},
		{"equation of notes", []string{"<direction><direction-type><metronome><metronome-note/><metronome-relation>equals</metronome-relation><metronome-note><metronome-tuplet/></metronome-note></metronome></direction-type></direction>"}, 2.0 / 3},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if c, _ := readText(t, bars(tt.xml...)); c.Swing != tt.want {
				t.Errorf("swing %v, want %v", c.Swing, tt.want)
			}
		})
	}
}

func TestEndingNumbers(t *testing.T) {
	tests := []struct {
		text string
		want []int
	}{
		{"1", []int{1}}, {"1, 2", []int{1, 2}}, {"1,2,4", []int{1, 2, 4}}, {"1.-3.", []int{1, 2, 3}},
		{"1 – 3", []int{1, 2, 3}}, {"2. 1.", []int{1, 2}}, {"", nil}, {"last", nil}, {"0", nil}, {"1-", []int{1}},
		{"1-99999999999999999999", []int{1}}, {"3-1", []int{1, 3}},
	}
	for _, tt := range tests {
		if got := endingNumbers(tt.text); !slices.Equal(got, tt.want) {
			t.Errorf("%q: %v, want %v", tt.text, got, tt.want)
		}
	}
}

func TestTitles(t *testing.T) {
	credit := func(kind, size, text string) string {
		return fmt.Sprintf(`<credit page="1">%s<credit-words font-size="%s">%s</credit-words></credit>`, kind, size, text)
	}
	tests := []struct{ name, head, title, composer string }{
		{"work", "<work><work-title>Low Harbour</work-title></work><movement-title>Second</movement-title>", "Low Harbour", ""},
		{"movement", "<work><work-title> </work-title></work><movement-title>Low\n  Harbour</movement-title>", "Low Harbour", ""},
		{"typed credit", credit("", "30", "A Book") + credit("<credit-type>title</credit-type>", "20", "Low Harbour"), "Low Harbour", ""},
		{"largest credit", credit("", "10", "for organ") + credit("", "24.5", "Low Harbour") + credit("", "12", "A. Nobody"), "Low Harbour", ""},
		{"file name", "", "a score", ""},
		{"entities", "<movement-title>Dock &amp; Caf&eacute; &#9834;</movement-title>", "Dock & Café ♪", ""},
		{"unknown entities stay", "<movement-title>A &nothing; B</movement-title>", "A &nothing; B", ""},
		{"composers", `<identification><creator type="lyricist">L. Word</creator><creator type="composer">A. Nobody</creator><creator type="Composer">B. Nobody</creator></identification>`, "a score", "A. Nobody, B. Nobody"},
		{"creator without a role", `<identification><creator>A. Nobody</creator></identification>`, "a score", "A. Nobody"},
		{"composer credit", credit("<credit-type>composer</credit-type>", "9", "A. Nobody"), "a score", "A. Nobody"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, _ := readText(t, strings.Replace(four(n("C4", 8)), "<part-list>", tt.head+"<part-list>", 1))
			if c.Title != tt.title || c.Composer != tt.composer {
				t.Errorf("title %q composer %q, want %q and %q", c.Title, c.Composer, tt.title, tt.composer)
			}
		})
	}
}
