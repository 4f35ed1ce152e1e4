package musicxml

import (
	"encoding/binary"
	"errors"
	"strings"
	"testing"
	"unicode/utf16"

	"golang.org/x/text/encoding/charmap"
)

const titled = `<?xml version="1.0" encoding="ENC"?>
<!DOCTYPE score-partwise PUBLIC "-//Nobody//DTD Partwise//EN" "http://example.invalid/partwise.dtd">
<score-partwise version="3.1"><movement-title>Frühe Höhe</movement-title><part id="P1"><measure number="1">BODY</measure></part></score-partwise>`

func titledScore(encoding string) string {
	return strings.NewReplacer("ENC", encoding, "BODY", inHead(2, 4, 4)+n("C4", 8)).Replace(titled)
}

func utf16Bytes(s string, order binary.AppendByteOrder, mark bool) []byte {
	var b []byte
	if mark {
		b = order.AppendUint16(b, 0xFEFF)
	}
	for _, u := range utf16.Encode([]rune(s)) {
		b = order.AppendUint16(b, u)
	}
	return b
}

func single(t *testing.T, table *charmap.Charmap, s string) []byte {
	t.Helper()
	b, err := table.NewEncoder().Bytes([]byte(s))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestEncodings(t *testing.T) {
	tests := []struct {
		name string
		file []byte
	}{
		{"UTF-8", []byte(titledScore("UTF-8"))},
		{"UTF-8 with a mark", []byte("\xef\xbb\xbf" + titledScore("utf-8"))},
		{"UTF-8 after blank lines", []byte("\r\n \t" + titledScore("utf-8"))},
		{"no declaration", []byte(strings.SplitN(titledScore(""), "\n", 2)[1])},
		{"XML 1.1", []byte(strings.Replace(titledScore("UTF-8"), "1.0", "1.1", 1))},
		{"UTF-16 little-endian", utf16Bytes(titledScore("UTF-16"), binary.LittleEndian, true)},
		{"UTF-16 big-endian", utf16Bytes(titledScore("UTF-16"), binary.BigEndian, true)},
		{"UTF-16 without a mark", utf16Bytes(titledScore("UTF-16LE"), binary.LittleEndian, false)},
		{"UTF-16 big-endian without a mark", utf16Bytes(titledScore("UTF-16BE"), binary.BigEndian, false)},
		{"UTF-16 declared in UTF-8", []byte(titledScore("utf-16"))},
		{"ISO 8859-1", single(t, charmap.ISO8859_1, titledScore("ISO-8859-1"))},
		{"Windows-1252", single(t, charmap.Windows1252, titledScore("windows-1252"))},
		{"ISO 8859-15", single(t, charmap.ISO8859_15, titledScore("iso-8859-15"))},
		{"Windows-1250", single(t, charmap.Windows1250, titledScore("cp1250"))},
		{"Macintosh", single(t, charmap.Macintosh, titledScore("macintosh"))},
		{"UTF-8 declared ISO 8859-1", []byte(titledScore("ISO-8859-1"))},
		{"ISO 8859-1 declared UTF-8", single(t, charmap.ISO8859_1, titledScore("UTF-8"))},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, warnings := readBytes(t, tt.file)
			if c.Title != "Frühe Höhe" {
				t.Errorf("title %q", c.Title)
			}
			if got := melodyText(c); got != "0+40320 C4" {
				t.Errorf("melody %s", got)
			}
			wantWarnings(t, warnings, noChords)
		})
	}
}

func TestUnknownEncodingKeepsTheMusic(t *testing.T) {
	c, warnings := readBytes(t, single(t, charmap.Windows1252, titledScore("x-secret")))
	if got := melodyText(c); got != "0+40320 C4" {
		t.Errorf("melody %s", got)
	}
	wantWarnings(t, warnings, noChords, `"x-secret"`)
}

func TestSloppyXML(t *testing.T) {
	body := inHead(2, 4, 4) + n("C4", 4) + n("D4", 4)
	tests := []struct {
		name, xml, want string
		warnings        []string
	}{
		{"namespaces", `<mx:score-partwise xmlns:mx="urn:x"><mx:part id="P1"><mx:measure>` + strings.NewReplacer("</", "</mx:", "<", "<mx:").Replace(body) + `</mx:measure></mx:part></mx:score-partwise>`,
			"0+20160 C4, 20160+20160 D4", nil},
		{"a broken end", strings.TrimSuffix(partwise(`<measure number="1">`+body+`</measure><measure number="2">`+n("E4", 8)+"<note><pitch><step>F"), "</part></score-partwise>"),
			"0+20160 C4, 20160+20160 D4, 40320+40320 E4", []string{"breaks off"}},
		{"cut inside a tag", strings.SplitAfter(partwise(`<measure number="1">`+body+`</measure>`), `</note>`)[0] + "<no",
			"0+20160 C4", []string{"breaks off"}},
		{"a missing end tag", partwise(`<measure number="1">` + strings.Replace(body, "</step>", "", 1) + `</measure>`), "20160+20160 D4", []string{"readable pitch"}},
		{"an end tag too many", partwise(`<measure number="1">` + body + `</oops></measure>`), "0+20160 C4, 20160+20160 D4", nil},
		{"control characters", partwise("<measure number=\"1\">\x01" + body + "\x00</measure>"), "0+20160 C4, 20160+20160 D4", nil},
		{"attributes without quotes", partwise(`<measure number=1>` + body + `</measure>`), "0+20160 C4, 20160+20160 D4", nil},
		{"comments and CDATA", partwise(`<measure number="1"><!-- <note> -->` + strings.Replace(body, ">C<", "><![CDATA[C]]><", 1) + `</measure>`), "0+20160 C4, 20160+20160 D4", nil},
		{"unknown elements", partwise(`<measure number="1"><print/><link/><new-thing><note/></new-thing>` + body + `<figured-bass/></measure>`), "0+20160 C4, 20160+20160 D4", nil},
		{"text between elements", partwise(`<measure number="1">stray` + body + `text</measure>`), "0+20160 C4, 20160+20160 D4", nil},
		{"harmless entities", `<!DOCTYPE score-partwise [<!ENTITY do "C"> <!-- isn't it --> <!ENTITY dash "&#8212;">]>` + strings.SplitN(strings.Replace(partwise(`<measure number="1">`+body+`</measure>`), ">C<", ">&do;<", 1), "\n", 2)[1],
			"0+20160 C4, 20160+20160 D4", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, warnings := readText(t, tt.xml)
			if got := melodyText(c); got != tt.want {
				t.Errorf("melody %s, want %s", got, tt.want)
			}
			wantWarnings(t, warnings, append(tt.warnings, noChords)...)
		})
	}
}

func TestTimewise(t *testing.T) {
	m := func(inner string) string { return "<measure number=\"1\">" + inner + "</measure>" }
	part := func(id, inner string) string { return `<part id="` + id + `">` + inner + `</part>` }
	c, _ := readText(t, "<score-timewise>"+
		m(part("P1", inHead(2, 4, 4)+n("C4", 8, tieStart))+part("P2", inHead(1, 4, 4)+n("C2", 4)))+
		m(part("P1", n("C4", 8, tieStop)))+
		m(part("P2", n("D2", 4)))+
		m(part("P1", n("E4", 8))+part("P2", n("E2", 4)))+"</score-timewise>")
	if got, want := melodyText(c), "0+80640 C4, 120960+40320 E4"; got != want {
		t.Errorf("melody %s, want %s", got, want)
	}
}

func TestMelodyPart(t *testing.T) {
	drum := "<note><unpitched/><duration>8</duration></note>"
	clef := "<attributes><clef><sign>percussion</sign></clef></attributes>"
	score := func(parts ...string) string {
		var b strings.Builder
		for _, p := range parts {
			b.WriteString(`<part id="P"><measure number="1">` + inHead(2, 4, 4) + p + `</measure></part>`)
		}
		return "<score-partwise>" + b.String() + "</score-partwise>"
	}
	tests := []struct{ name, xml, want string }{
		{"the first", score(n("C4", 8), n("D4", 8)), "0+40320 C4"},
		{"after silence", score(n("r", 8), n("D4", 8)), "0+40320 D4"},
		{"after drums", score(drum, n("D4", 8)), "0+40320 D4"},
		{"after drums written with pitches", score(clef+n("C4", 8), n("D4", 8)), "0+40320 D4"},
		{"drums with pitches alone", score(clef+n("C4", 8), drum), "0+40320 C4"},
		{"after grace and cue notes", score(n("C4", 8, "<cue/>"), n("D4", 8)), "0+40320 D4"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, _ := readText(t, tt.xml)
			if got := melodyText(c); got != tt.want {
				t.Errorf("melody %s, want %s", got, tt.want)
			}
		})
	}
}

func TestRefusals(t *testing.T) {
	whole := archive(t, container("score.xml"), file{"score.xml", four(n("C4", 8)) + strings.Repeat("<!-- filling -->", 200)})
	var bomb strings.Builder
	bomb.WriteString(`<?xml version="1.0"?><!DOCTYPE score-partwise [<!ENTITY a "aaaaaaaaaa">`)
	for c := 'b'; c < 'k'; c++ {
		bomb.WriteString("<!ENTITY " + string(c) + ` "` + strings.Repeat("&"+string(c-1)+";", 10) + `">`)
	}
	bomb.WriteString(`]><score-partwise><movement-title>&j;</movement-title>` + strings.SplitN(four(n("C4", 8)), "\n", 2)[1])
	tests := []struct {
		name, file string
		want       error
		says       string
	}{
		{"empty", "", ErrNotMusicXML, "empty"},
		{"blanks", "  \n", ErrNotMusicXML, "ends before any element"},
		{"text", "hello", ErrNotMusicXML, "does not begin like XML"},
		{"a MIDI file", "MThd\x00\x00\x00\x06", ErrNotMusicXML, "does not begin like XML"},
		{"zeros", strings.Repeat("\x00", 100000), ErrNotMusicXML, "zeros"},
		{"HTML", "<!DOCTYPE html><html><body>no score</body></html>", ErrNotMusicXML, "<html>"},
		{"an opus", "<opus><title/></opus>", ErrNotMusicXML, "<opus>"},
		{"only a declaration", `<?xml version="1.0"?>`, ErrNotMusicXML, "ends before any element"},
		{"no parts", "<score-partwise/>", ErrNoNotes, "no parts"},
		{"only rests", four(n("r", 8)), ErrNoNotes, "melody"},
		{"only drums", four("<note><unpitched/><duration>8</duration></note>"), ErrNoNotes, "melody"},
		{"cut before any note", four(n("C4", 8))[:200], ErrNoNotes, "line 3"},
		{"an archive cut off", string(whole[:len(whole)/2]), ErrDamaged, "cut off"},
		{"an archive with nothing in it", string(archive(t)), ErrNotMusicXML, "empty"},
		{"an archive without a score", string(archive(t, file{"a.txt", "hello"})), ErrNotMusicXML, "holds no score"},
		{"an entity bomb", bomb.String(), ErrUnsafe, "line 1"},
		{"an external entity", `<!DOCTYPE score-partwise [<!ENTITY x SYSTEM "file:///etc/hostname">]><score-partwise><movement-title>&x;</movement-title></score-partwise>`, ErrUnsafe, "another file"},
		{"a public entity", `<!DOCTYPE score-partwise [<!ENTITY x PUBLIC "p" "http://example.invalid/x">]><score-partwise/>`, ErrUnsafe, "another file"},
		{"a parameter entity", `<!DOCTYPE score-partwise [<!ENTITY % x SYSTEM "http://example.invalid/x"> %x;]><score-partwise/>`, ErrUnsafe, "another file"},
		{"an entity hidden by character references", `<!DOCTYPE score-partwise [<!ENTITY a "b"><!ENTITY c "&#38;a;">]><score-partwise/>`, ErrUnsafe, "other entities"},
		{"a long entity", `<!DOCTYPE score-partwise [<!ENTITY a "` + strings.Repeat("a", 100) + `">]><score-partwise/>`, ErrUnsafe, "longer"},
		{"deep nesting", "<score-partwise>" + strings.Repeat("<a>", 100000), ErrTooLarge, "deeper"},
		{"many parts", "<score-partwise>" + strings.Repeat("<part/>", 2000), ErrTooLarge, "parts"},
		{"a huge note", "<score-partwise><part><measure><note>" + strings.Repeat("<dot/>", 200000), ErrTooLarge, "inside one"},
		{"a huge tag", "<score-partwise " + strings.Repeat("a='b' ", 400000) + ">", ErrTooLarge, "without a tag"},
		{"a huge text", "<score-partwise><movement-title>" + strings.Repeat("ha ", 1<<20), ErrTooLarge, "without a tag"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, _, err := Read(strings.NewReader(tt.file), int64(len(tt.file)), "bad.musicxml")
			if c != nil || !errors.Is(err, tt.want) {
				t.Fatalf("error %v, want %v", err, tt.want)
			}
			if s := err.Error(); !strings.HasPrefix(s, "bad.musicxml: ") || !strings.Contains(s, tt.says) || strings.Contains(s, "\n") {
				t.Errorf("error %q does not say %q in one line", s, tt.says)
			}
		})
	}
}

// hollow is a file of many equal bytes that counts what is read of it.
type hollow struct {
	prefix string
	fill   byte
	read   int64
}

func (h *hollow) ReadAt(p []byte, at int64) (int, error) {
	h.read += int64(len(p))
	for i := range p {
		p[i] = h.fill
	}
	if at < int64(len(h.prefix)) {
		copy(p, h.prefix[at:])
	}
	return len(p), nil
}

func TestHugeFilesAreRefusedUnread(t *testing.T) {
	for _, tt := range []struct {
		name string
		file *hollow
		want error
	}{
		{"zeros", &hollow{}, ErrNotMusicXML},
		{"blanks", &hollow{fill: ' '}, ErrTooLarge},
		{"a score", &hollow{prefix: "<score-partwise>", fill: ' '}, ErrTooLarge},
		{"an archive", &hollow{prefix: "PK\x03\x04"}, ErrTooLarge},
	} {
		_, _, err := Read(tt.file, 1<<30, "huge")
		if !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
		if tt.file.read > 4096 {
			t.Errorf("%s: %d bytes were read", tt.name, tt.file.read)
		}
	}
}

func TestWarningsAreFewAndShort(t *testing.T) {
	var b strings.Builder
	for i := range 60 {
		b.WriteString(n("C4", 8) + harmony("C", strings.Repeat("strange", 1+i%50)+string(rune('a'+i%26))))
	}
	_, warnings := readText(t, bars(strings.Split(b.String(), "</harmony>")...))
	if len(warnings) > maxNotices+1 {
		t.Errorf("%d warnings", len(warnings))
	}
	grace := "<note><grace/>" + pitchXML("C4") + "</note>"
	_, warnings = readText(t, bars(grace, grace, grace, grace, grace))
	wantWarnings(t, warnings, "bars 1, 2, 3 and 2 more: grace notes are left out", noChords)
}
