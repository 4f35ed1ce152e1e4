package musicxml

import (
	"fmt"
	"strings"
	"testing"
)

func inTuplet(actual, normal int, noteType string) string {
	return fmt.Sprintf("<type>%s</type><time-modification><actual-notes>%d</actual-notes><normal-notes>%d</normal-notes></time-modification>", noteType, actual, normal)
}

func TestTuplets(t *testing.T) {
	triplet := inTuplet(3, 2, "eighth")
	tests := []struct {
		name      string
		divisions int
		notes     string
		want      string
	}{
		{"exact triplets", 6, n("C4", 2, triplet) + n("D4", 2, triplet) + n("E4", 2, triplet) + n("F4", 18),
			"0+3360 C4, 3360+3360 D4, 6720+3360 E4, 10080+30240 F4"},
		{"triplets rounded to divisions that 3 does not divide", 256, n("C4", 85, triplet) + n("D4", 85, triplet) + n("E4", 86, triplet) + n("F4", 768),
			"0+3360 C4, 3360+3360 D4, 6720+3360 E4, 10080+30240 F4"},
		{"rounded triplets that do not add up", 256, n("C4", 85, triplet) + n("D4", 85, triplet) + n("E4", 85, triplet) + n("F4", 768),
			"0+3360 C4, 3360+3360 D4, 6720+3360 E4, 10080+30240 F4"},
		{"triplets in coarse divisions", 4, n("C4", 1, triplet) + n("D4", 1, triplet) + n("E4", 2, triplet) + n("F4", 12),
			"0+3360 C4, 3360+3360 D4, 6720+3360 E4, 10080+30240 F4"},
		{"a quarter and an eighth in a triplet", 8, n("C4", 5, inTuplet(3, 2, "quarter")) + n("D4", 3, triplet) + n("E4", 24),
			"0+6720 C4, 6720+3360 D4, 10080+30240 E4"},
		{"quintuplets", 5, n("C4", 1) + n("D4", 1) + n("E4", 1) + n("F4", 1) + n("G4", 1) + n("A4", 15),
			"0+2016 C4, 2016+2016 D4, 4032+2016 E4, 6048+2016 F4, 8064+2016 G4, 10080+30240 A4"},
		{"septuplets and nonuplets", 63, strings.Repeat(n("C4", 9), 7) + strings.Repeat(n("D4", 7), 9) + n("E4", 126),
			"0+1440 C4, 1440+1440 C4, 2880+1440 C4, 4320+1440 C4, 5760+1440 C4, 7200+1440 C4, 8640+1440 C4, " +
				"10080+1120 D4, 11200+1120 D4, 12320+1120 D4, 13440+1120 D4, 14560+1120 D4, 15680+1120 D4, 16800+1120 D4, 17920+1120 D4, 19040+1120 D4, 20160+20160 E4"},
		{"elevenths do not drift", 11, strings.Repeat(n("C4", 1), 11) + n("D4", 33),
			"0+916 C4, 916+917 C4, 1833+916 C4, 2749+916 C4, 3665+917 C4, 4582+916 C4, 5498+917 C4, 6415+916 C4, 7331+916 C4, 8247+917 C4, 9164+916 C4, 10080+30240 D4"},
		{"huge divisions", 1_000_000, n("C4", 500_000) + n("D4", 3_500_000), "0+5040 C4, 5040+35280 D4"},
		{"a duration the divisions can express is kept against its type", 12, n("C4", 6, triplet) + n("D4", 42), "0+5040 C4, 5040+35280 D4"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, _ := readText(t, partwise(`<measure number="1">`+inHead(tt.divisions, 4, 4)+tt.notes+`</measure>`))
			if got := melodyText(c); got != tt.want {
				t.Errorf("melody\n got %s\nwant %s", got, tt.want)
			}
			if got := barText(c); got != "4/4 40320" {
				t.Errorf("bar %s, want 4/4 40320", got)
			}
		})
	}
}

func TestRoundedTupletsKeepOtherVoicesInPlace(t *testing.T) {
	triplet := inTuplet(3, 2, "eighth")
	lower := n("C4", 85, triplet, inVoice("2")) + n("D4", 85, triplet, inVoice("2")) + n("E4", 85, triplet, inVoice("2")) + n("F4", 768, inVoice("2"))
	for _, back := range []int{1023, 1024} {
		c, _ := readText(t, partwise(`<measure number="1">`+inHead(256, 4, 4)+
			n("r", 1024, inVoice("1"))+backup(1024)+lower+backup(back)+n("C5", 256, inVoice("1"))+n("D5", 768, inVoice("1"))+`</measure>`))
		if got, want := melodyText(c), "0+10080 C5, 10080+30240 D5"; got != want {
			t.Errorf("after a backup of %d: %s, want %s", back, got, want)
		}
		if got := barText(c); got != "4/4 40320" {
			t.Errorf("after a backup of %d: bar %s, want 4/4 40320", back, got)
		}
	}
}

func TestDivisions(t *testing.T) {
	quarter, half := "<type>quarter</type>", "<type>half</type>"
	tests := []struct{ name, xml, want string }{
		{"change between bars", `<measure number="1">` + inHead(2, 4, 4) + n("C4", 8) + `</measure><measure number="2"><attributes><divisions>6</divisions></attributes>` + n("D4", 24) + `</measure>`,
			"0+40320 C4, 40320+40320 D4"},
		{"change inside a bar", `<measure number="1">` + inHead(2, 4, 4) + n("C4", 4) + `<attributes><divisions>6</divisions></attributes>` + n("D4", 12) + `</measure>`,
			"0+20160 C4, 20160+20160 D4"},
		{"missing, told from types", `<measure number="1">` + n("C4", 24, quarter) + n("D4", 48, half) + n("r", 24, quarter) + `</measure>`,
			"0+10080 C4, 10080+20160 D4"},
		{"zero, told from types", `<measure number="1">` + inHead(0, 4, 4) + n("C4", 24, quarter) + n("D4", 72) + `</measure>`,
			"0+10080 C4, 10080+30240 D4"},
		{"given after the first notes", `<measure number="1">` + n("C4", 4) + `<attributes><divisions>4</divisions></attributes>` + n("D4", 12) + `</measure>`,
			"0+10080 C4, 10080+30240 D4"},
		{"zero keeps those before", `<measure number="1">` + inHead(4, 4, 4) + n("C4", 16) + `</measure><measure number="2"><attributes><divisions>0</divisions></attributes>` + n("D4", 16) + `</measure>`,
			"0+40320 C4, 40320+40320 D4"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, _ := readText(t, partwise(tt.xml))
			if got := melodyText(c); got != tt.want {
				t.Errorf("melody %s, want %s", got, tt.want)
			}
		})
	}
}

func TestBars(t *testing.T) {
	m := func(attributes, contents string) string {
		return "<measure " + attributes + ">" + contents + "</measure>"
	}
	timeOf := func(inner string) string { return "<attributes><time>" + inner + "</time></attributes>" }
	tests := []struct {
		name, xml, want string
		warnings        []string
	}{
		{"pickup that says so", m(`number="0" implicit="yes"`, inHead(2, 4, 4)+n("G4", 2)) + m(`number="1"`, n("C5", 8)),
			"4/4 10080*, 4/4 40320", nil},
		{"pickup that does not", m(`number="1"`, inHead(2, 4, 4)+n("G4", 2)) + m(`number="2"`, n("C5", 8)),
			"4/4 10080*, 4/4 40320", nil},
		{"a lone short bar counts", m(`number="1"`, inHead(2, 4, 4)+n("G4", 2)), "4/4 10080", nil},
		{"a split bar", m(`number="1"`, inHead(2, 4, 4)+n("C4", 6)) + m(`number="X1" implicit="yes"`, n("D4", 2)) + m(`number="2"`, n("E4", 8)),
			"4/4 30240, 4/4 10080*, 4/4 40320", nil},
		{"a split bar in the middle", m(`number="1"`, inHead(2, 4, 4)+n("C4", 8)) + m(`number="2"`, n("C4", 6)) + m(`number="2"`, n("D4", 2)),
			"4/4 40320, 4/4 30240, 4/4 10080*", nil},
		{"all implicit means nothing", m(`implicit="yes"`, inHead(2, 4, 4)+n("C4", 8)) + m(`implicit="yes"`, n("D4", 8)),
			"4/4 40320, 4/4 40320", nil},
		{"longer than the meter", m(`number="1"`, inHead(2, 4, 4)+n("C4", 8)+n("D4", 2)) + m(`number="2"`, n("E4", 8)),
			"4/4 50400, 4/4 40320", nil},
		{"empty bars last as the meter says", m(`number="1"`, inHead(2, 3, 4)) + m(`number="2"`, n("C4", 6)) + m(`number="3"`, ""),
			"3/4 30240, 3/4 30240, 3/4 30240", nil},
		{"the furthest voice decides", m(`number="1"`, inHead(2, 4, 4)+n("C5", 4, inVoice("1"))+backup(4)+n("C4", 8, inVoice("2"))),
			"4/4 40320", []string{"voice 1"}},
		{"forward counts", m(`number="1"`, inHead(2, 4, 4)+n("C5", 4)+forward(4)), "4/4 40320", nil},
		{"a bar rest without duration", m(`number="1"`, inHead(2, 3, 4)+`<note><rest measure="yes"/></note>`) + m(`number="2"`, n("C4", 6)),
			"3/4 30240, 3/4 30240", nil},
		{"a whole rest without duration fills any bar", m(`number="1"`, inHead(2, 3, 4)+`<note><rest/><type>whole</type></note>`) + m(`number="2"`, n("C4", 6)),
			"3/4 30240, 3/4 30240", nil},
		{"meter changes", m(`number="1"`, inHead(2, 4, 4)+n("C4", 8)) + m(`number="2"`, timeOf("<beats>6</beats><beat-type>8</beat-type>")+n("C4", 6)) + m(`number="3"`, ""),
			"4/4 40320, 6/8 30240, 6/8 30240", nil},
		{"a change announced at the end of a bar", m(`number="1"`, inHead(2, 4, 4)+n("C4", 8)+timeOf("<beats>3</beats><beat-type>4</beat-type>")) + m(`number="2"`, ""),
			"4/4 40320, 3/4 30240", nil},
		{"additive", m(`number="1"`, inHead(2, 4, 4)+timeOf("<beats>3+2</beats><beat-type>8</beat-type>")+n("C4", 5)), "3+2/8 25200", nil},
		{"additive as fractions of one unit", m(`number="1"`, inHead(2, 4, 4)+timeOf("<beats>2</beats><beat-type>8</beat-type><beats>3</beats><beat-type>8</beat-type>")+n("C4", 5)), "2+3/8 25200", nil},
		{"composite", m(`number="1"`, inHead(2, 4, 4)+timeOf("<beats>2</beats><beat-type>4</beat-type><beats>3</beats><beat-type>8</beat-type>")+n("C4", 7)), "7/8 35280", nil},
		{"interchangeable", m(`number="1"`, inHead(2, 4, 4)+timeOf("<beats>3</beats><beat-type>4</beat-type><interchangeable><beats>6</beats><beat-type>8</beat-type></interchangeable>")+n("C4", 6)), "3/4 30240", nil},
		{"free time keeps the meter", m(`number="1"`, inHead(2, 4, 4)+timeOf("<senza-misura/>")+n("C4", 11)), "4/4 55440", nil},
		{"a meter that cannot be printed", m(`number="1"`, inHead(2, 4, 4)+timeOf("<beats>4</beats><beat-type>5</beat-type>")+n("C4", 8)), "4/4 40320", []string{"4/5"}},
		{"no meter at all", m(`number="1"`, "<attributes><divisions>2</divisions></attributes>"+n("C4", 8)), "4/4 40320", []string{"4/4 is assumed"}},
		{"meters of the second staff do not count", m(`number="1"`, `<attributes><divisions>2</divisions><time number="2"><beats>2</beats><beat-type>2</beat-type></time><time number="1"><beats>4</beats><beat-type>4</beat-type></time></attributes>`+n("C4", 8)),
			"4/4 40320", nil},
		{"an endless bar is cut", m(`number="1"`, inHead(1, 4, 4)+n("C4", 4)+forward(100000)), "4/4 2580480", []string{"cut there"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, warnings := readText(t, partwise(tt.xml))
			if got := barText(c); got != tt.want {
				t.Errorf("bars %s, want %s", got, tt.want)
			}
			wantWarnings(t, warnings, append(tt.warnings, noChords)...)
		})
	}
}

func TestTiesAcrossBars(t *testing.T) {
	c, _ := readText(t, partwise(`<measure number="1">`+inHead(2, 4, 4)+n("C4", 4)+n("D4", 4, tieStart)+
		`</measure><measure number="2">`+n("D4", 8, tieStop, tieStart)+
		`</measure><measure number="3">`+n("D4", 2, tieStop)+n("E4", 6)+`</measure>`))
	if got, want := melodyText(c), "0+20160 C4, 20160+70560 D4, 90720+30240 E4"; got != want {
		t.Errorf("melody %s, want %s", got, want)
	}
}

func TestKeys(t *testing.T) {
	key := func(inner string) string { return "<attributes><key>" + inner + "</key></attributes>" }
	tests := []struct{ name, xml, want string }{
		{"major", key("<fifths>-3</fifths><mode>major</mode>"), "Eb major"},
		{"minor", key("<fifths>-2</fifths><mode>minor</mode>"), "G minor"},
		{"no mode", key("<fifths>2</fifths>"), "D major"},
		{"dorian keeps its signature", key("<fifths>0</fifths><mode>dorian</mode>"), "A minor"},
		{"mixolydian keeps its signature", key("<fifths>-1</fifths><mode>Mixolydian</mode>"), "F major"},
		{"a signed number", key("<fifths>+1</fifths>"), "G major"},
		{"too many sharps", key("<fifths>8</fifths>"), "Ab major"},
		{"single steps", key("<key-step>B</key-step><key-alter>-1</key-alter>"), "C major"},
		{"none", "", "C major"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, _ := readText(t, partwise(`<measure number="1"><attributes><divisions>2</divisions></attributes>`+tt.xml+n("C4", 8)+`</measure>`))
			if got := c.Key.String(); got != tt.want {
				t.Errorf("key %s, want %s", got, tt.want)
			}
		})
	}
}

func TestKeyChanges(t *testing.T) {
	c, _ := readText(t, partwise(`<measure number="1">`+inHead(2, 4, 4)+n("C4", 8)+`<attributes><key><fifths>1</fifths></key></attributes></measure>`+
		`<measure number="2">`+n("C4", 8)+`</measure><measure number="3"><attributes><key><fifths>1</fifths></key></attributes></measure>`+
		`<measure number="4"><attributes><key><fifths>-1</fifths><mode>minor</mode></key></attributes></measure>`))
	var got []string
	for _, b := range c.Bars {
		got = append(got, b.Key.String())
	}
	if s := strings.Join(got, ","); s != ",G major,,D minor" {
		t.Errorf("key changes %q", s)
	}
}

func TestModeLeftOpen(t *testing.T) {
	minor, major, five := harmony("A", "minor-sixth"), harmony("C", "major-seventh"), harmony("E", "dominant")
	tests := []struct{ name, key, first, last, want string }{
		{"begins in minor", "<fifths>0</fifths>", minor, five, "A minor"},
		{"ends in minor", "<fifths>0</fifths>", five, minor, "A minor"},
		{"ends in major", "<fifths>0</fifths>", minor, major, "C major"},
		{"neither", "<fifths>0</fifths>", five, five, "C major"},
		{"stated", "<fifths>0</fifths><mode>major</mode>", minor, minor, "C major"},
		{"another signature", "<fifths>-1</fifths>", minor, minor, "F major"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, _ := readText(t, partwise("<measure><attributes><divisions>2</divisions><key>"+tt.key+"</key></attributes>"+tt.first+n("C4", 4)+tt.last+n("C4", 4)+"</measure>"))
			if got := c.Key.String(); got != tt.want {
				t.Errorf("key %s, want %s", got, tt.want)
			}
		})
	}
}
