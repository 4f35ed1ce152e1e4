package musicxml

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"
)

// FuzzRead feeds anything: the answer is a sound chart with short warnings, or
// an error of one line that wraps a sentinel.
func FuzzRead(f *testing.F) {
	score := four(harmony("C", "dominant", degree(9, -1, "add"), rootXML("bass", "E")) + n("C4", 4, tieStart) + n("E4", 4, inChord) + backup(2) + forward(1) + n("C4", 4, tieStop, inVoice("2")))
	f.Add([]byte(score))
	f.Add(archive(f, container("score.xml"), file{"score.xml", score}))
	f.Add([]byte(bars(barline("left", ending("1", "start")), "|"+barline("right", `<repeat direction="backward" times="3"/>`), words("D.S. al Coda")+sound(`tempo="90"`))))
	f.Add([]byte("<score-timewise><measure><part id='a'><note><grace/></note>" + n("C4", 4) + "</part></measure></score-timewise>"))
	f.Add([]byte("\xff\xfe<\x00"))
	f.Fuzz(func(t *testing.T, b []byte) {
		c, warnings, err := Read(bytes.NewReader(b), int64(len(b)), "fuzz")
		if err != nil {
			requireSentence(t, err)
			return
		}
		if err := c.Check(); err != nil {
			t.Fatalf("the chart is not sound: %v", err)
		}
		if len(c.Melody) == 0 {
			t.Fatal("a chart without a melody")
		}
		for _, w := range warnings {
			if s := w.String(); len(s) > 400 || strings.Contains(s, "\n") || !utf8.ValidString(s) {
				t.Fatalf("warning %q", s)
			}
		}
	})
}

func requireSentence(t *testing.T, err error) {
	t.Helper()
	for _, sentinel := range []error{ErrNotMusicXML, ErrDamaged, ErrTooLarge, ErrUnsafe, ErrNoNotes} {
		if errors.Is(err, sentinel) {
			if strings.Contains(err.Error(), "\n") {
				t.Fatalf("error of several lines: %q", err)
			}
			return
		}
	}
	t.Fatalf("an error that wraps no sentinel: %v", err)
}

// leadSheet writes 32 bars of eighths with two chords a bar, laid out the way
// programs export them.
func leadSheet() []byte {
	var b strings.Builder
	for i := range 32 {
		fmt.Fprintf(&b, "\n  <measure number=\"%d\" width=\"212.5\">", i+1)
		if i == 0 {
			b.WriteString(inHead(2, 4, 4))
		}
		for k := range 8 {
			if k%4 == 0 {
				b.WriteString("\n" + harmony("G", "minor-seventh", rootXML("bass", "D")))
			}
			b.WriteString("\n    <note default-x=\"12.5\" default-y=\"-30\">\n      " + pitchXML("D5") + "\n      <duration>1</duration>\n      <voice>1</voice>\n      <type>eighth</type>\n      <stem>down</stem>\n      <beam number=\"1\">begin</beam>\n    </note>")
		}
		b.WriteString("\n  </measure>")
	}
	return []byte(partwise(b.String()))
}

func BenchmarkRead(b *testing.B) {
	sheet := leadSheet()
	b.SetBytes(int64(len(sheet)))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := Read(bytes.NewReader(sheet), int64(len(sheet)), "sheet.musicxml"); err != nil {
			b.Fatal(err)
		}
	}
}
