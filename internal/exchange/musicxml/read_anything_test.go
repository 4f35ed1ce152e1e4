package musicxml

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The grammar of nonsense: elements a score may hold, with contents that may
// be right, wrong, missing or absurd. Whatever comes of it must be sound.

var absurdNumbers = []string{"0", "1", "2", "3", "4", "7", "8", "480", "-1", "0.5", "1e9", "", "x", "99999999999", "1073741824", "-999999999", "0.000000001", " 2 ", "3+2", "½"}

var absurdWords = []string{"", "yes", "no", "start", "stop", "forward", "backward", "left", "right", "middle", "C", "H", "major", "minor", "dominant", "none", "other", "quarter", "whole", "1, 2", "D.S. al Coda", "Fine", "To Coda", "swing", "\u2028", "é\u0085", strings.Repeat("long ", 200)}

// nonsense lists each element with the children and attributes it may have.
// Elements that are not listed hold a number or a word.
var nonsense = map[string][]string{
	"note":              {"chord", "grace", "cue", "pitch", "pitch", "pitch", "rest", "unpitched", "duration", "duration", "voice", "type", "dot", "time-modification", "tie", "notations", "staff"},
	"pitch":             {"step", "step", "octave", "octave", "alter"},
	"time-modification": {"actual-notes", "normal-notes"},
	"notations":         {"tied"},
	"backup":            {"duration"},
	"forward":           {"duration"},
	"attributes":        {"divisions", "key", "time", "transpose", "clef", "measure-style"},
	"key":               {"fifths", "mode", "key-step"},
	"time":              {"beats", "beat-type", "senza-misura"},
	"transpose":         {"chromatic"},
	"clef":              {"sign"},
	"measure-style":     {"measure-repeat"},
	"harmony":           {"root", "root", "numeral", "function", "kind", "kind", "inversion", "bass", "degree", "offset"},
	"root":              {"root-step", "root-alter"},
	"bass":              {"bass-step", "bass-alter"},
	"numeral":           {"numeral-root", "numeral-alter", "numeral-key"},
	"numeral-key":       {"numeral-fifths", "numeral-mode"},
	"degree":            {"degree-value", "degree-alter", "degree-type"},
	"direction":         {"direction-type", "direction-type", "sound", "offset"},
	"direction-type":    {"words", "segno", "coda", "rehearsal", "metronome"},
	"metronome":         {"beat-unit", "beat-unit-dot", "per-minute", "metronome-note"},
	"sound":             {"swing"},
	"swing":             {"first", "second", "straight", "swing-type"},
	"barline":           {"repeat", "ending", "segno", "coda"},
}

var nonsenseAttributes = []string{"type", "number", "location", "direction", "times", "tempo", "dacapo", "dalsegno", "tocoda", "fine", "segno", "coda", "measure", "text", "enclosure", "implicit"}

func drawElement(t *rapid.T, name string) string {
	var b strings.Builder
	b.WriteString("<" + name)
	for range rapid.IntRange(0, 2).Draw(t, "attributes") {
		fmt.Fprintf(&b, " %s=%q", rapid.SampledFrom(nonsenseAttributes).Draw(t, "attribute"), drawText(t))
	}
	b.WriteString(">")
	if kids := nonsense[name]; kids != nil {
		for range rapid.IntRange(0, min(8, len(kids))).Draw(t, "children") {
			b.WriteString(drawElement(t, rapid.SampledFrom(kids).Draw(t, "child")))
		}
	} else {
		b.WriteString(drawText(t))
	}
	return b.String() + "</" + name + ">"
}

func drawText(t *rapid.T) string {
	if rapid.Bool().Draw(t, "is number") {
		return rapid.SampledFrom(absurdNumbers).Draw(t, "number")
	}
	return rapid.SampledFrom(absurdWords).Draw(t, "word")
}

func TestAnyMeasureIsSoundOrRefused(t *testing.T) {
	items := []string{"note", "note", "note", "backup", "forward", "attributes", "harmony", "direction", "sound", "barline"}
	imported := 0
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		for range rapid.IntRange(1, 3).Draw(t, "bars") {
			fmt.Fprintf(&b, "<measure number=%q implicit=%q>", drawText(t), drawText(t))
			if rapid.Bool().Draw(t, "sane note") {
				b.WriteString(n("C4", rapid.IntRange(1, 9).Draw(t, "duration")))
			}
			for range rapid.IntRange(0, 5).Draw(t, "items") {
				b.WriteString(drawElement(t, rapid.SampledFrom(items).Draw(t, "item")))
			}
			b.WriteString("</measure>")
		}
		xml := partwise(b.String())
		c, _, err := Read(bytes.NewReader([]byte(xml)), int64(len(xml)), "any")
		switch {
		case err == nil:
			imported++
			if err := c.Check(); err != nil {
				t.Fatalf("%v\n%s", err, xml)
			}
		case !errors.Is(err, ErrNoNotes):
			t.Fatalf("%v\n%s", err, xml)
		case strings.Contains(xml, n("C4", 4)):
			t.Fatalf("refused in spite of a note: %v\n%s", err, xml)
		}
	})
	if imported == 0 {
		t.Error("no drawn score was imported")
	}
}
