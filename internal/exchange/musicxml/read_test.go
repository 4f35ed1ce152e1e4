package musicxml

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"organbook/internal/project"
)

// readText imports the text of a score and fails the test unless it works and
// the chart is sound.
func readText(t *testing.T, text string) (*project.Chart, []Warning) {
	t.Helper()
	return readBytes(t, []byte(text))
}

func readBytes(t *testing.T, b []byte) (*project.Chart, []Warning) {
	t.Helper()
	c, warnings, err := Read(bytes.NewReader(b), int64(len(b)), "a score.musicxml")
	if err != nil {
		t.Fatalf("Read: %v", err)
	}
	if err := c.Check(); err != nil {
		t.Fatalf("the chart is not sound: %v", err)
	}
	return c, warnings
}

// partwise wraps measures into a score of one part.
func partwise(measures string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Lead</part-name></score-part></part-list>
<part id="P1">` + measures + `</part></score-partwise>`
}

// four wraps the contents of one bar of 4/4 in C with two divisions a quarter.
func four(contents string) string {
	return partwise(`<measure number="1">` + inHead(2, 4, 4) + contents + `</measure>`)
}

func inHead(divisions, beats, unit int) string {
	return fmt.Sprintf(`<attributes><divisions>%d</divisions><key><fifths>0</fifths></key><time><beats>%d</beats><beat-type>%d</beat-type></time></attributes>`, divisions, beats, unit)
}

// n writes a note: "C4", "Bb3", "F#5" or "r", a duration in divisions, and
// what else belongs into the element, before or after the duration.
func n(pitch string, duration int, extra ...string) string {
	before, after := "", ""
	for _, e := range extra {
		if strings.HasPrefix(e, "<chord") || strings.HasPrefix(e, "<cue") {
			before += e
		} else {
			after += e
		}
	}
	return "<note>" + before + pitchXML(pitch) + fmt.Sprintf("<duration>%d</duration>", duration) + after + "</note>"
}

func pitchXML(pitch string) string {
	if pitch == "r" {
		return "<rest/>"
	}
	alter := strings.Count(pitch, "#") - strings.Count(pitch[1:], "b")
	octave := strings.Trim(pitch[1:], "#b")
	return fmt.Sprintf("<pitch><step>%s</step><alter>%d</alter><octave>%s</octave></pitch>", pitch[:1], alter, octave)
}

const (
	inChord  = "<chord/>"
	tieStart = `<tie type="start"/>`
	tieStop  = `<tie type="stop"/>`
)

func inVoice(v string) string { return "<voice>" + v + "</voice>" }
func backup(d int) string     { return fmt.Sprintf("<backup><duration>%d</duration></backup>", d) }
func forward(d int) string    { return fmt.Sprintf("<forward><duration>%d</duration></forward>", d) }

// melodyText writes a melody as "START+DURATION PITCH" in ticks, one line.
func melodyText(c *project.Chart) string {
	var words []string
	for _, n := range c.Melody {
		words = append(words, fmt.Sprintf("%d+%d %s", n.Start, n.Duration, n.Pitch))
	}
	return strings.Join(words, ", ")
}

// chordText writes the changes as "START SYMBOL".
func chordText(c *project.Chart) string {
	var words []string
	for _, x := range c.Changes {
		words = append(words, fmt.Sprintf("%d %s", x.Start, x.Chord))
	}
	return strings.Join(words, ", ")
}

// barText writes each bar as its meter and length in ticks, "*" when it does
// not count.
func barText(c *project.Chart) string {
	var words []string
	for _, b := range c.Bars {
		star := ""
		if b.Unnumbered {
			star = "*"
		}
		words = append(words, fmt.Sprintf("%s %d%s", b.Meter, b.Length, star))
	}
	return strings.Join(words, ", ")
}

// wantWarning fails unless exactly the given pieces of text are each part of
// some warning; "" wants no warnings.
func wantWarnings(t *testing.T, warnings []Warning, pieces ...string) {
	t.Helper()
	if len(warnings) != len(pieces) {
		t.Errorf("%d warnings, want %d: %q", len(warnings), len(pieces), warnings)
	}
next:
	for _, piece := range pieces {
		for _, w := range warnings {
			if strings.Contains(w.String(), piece) {
				continue next
			}
		}
		t.Errorf("no warning says %q: %q", piece, warnings)
	}
}

const noChords = "no chord symbols"

func TestMelody(t *testing.T) {
	tests := []struct {
		name, xml, want string
		warnings        []string
	}{
		{"plain notes and rests", four(n("C4", 2) + n("r", 2) + n("Eb4", 1) + n("F#4", 3)),
			"0+10080 C4, 20160+5040 Eb4, 25200+15120 F#4", nil},
		{"top of chords by key, not by order", four(n("E4", 4) + n("C4", 4, inChord) + n("G4", 4, inChord) + n("B3", 4) + n("B#3", 4, inChord) + n("C4", 4, inChord)),
			"0+20160 G4, 20160+20160 B#3", nil},
		{"a chord note's length is the first note's", four(n("C4", 8) + n("G4", 2, inChord)),
			"0+40320 G4", nil},
		{"ties merge", four(n("C4", 4, tieStart) + n("C4", 2, tieStop, tieStart) + n("C4", 2, tieStop)),
			"0+40320 C4", nil},
		{"ties of enharmonic notes merge", four(n("C#4", 4, tieStart) + n("Db4", 4, tieStop)),
			"0+40320 C#4", nil},
		{"ties of other keys do not", four(n("C4", 4, tieStart) + n("D4", 4, tieStop)),
			"0+20160 C4, 20160+20160 D4", nil},
		{"a tie start alone is nothing", four(n("C4", 4, tieStart) + n("C4", 4)),
			"0+20160 C4, 20160+20160 C4", nil},
		{"a tie stop alone is nothing", four(n("C4", 4) + n("C4", 4, tieStop)),
			"0+20160 C4, 20160+20160 C4", nil},
		{"a tie over a rest does not merge", four(n("C4", 2, tieStart) + n("r", 2) + n("C4", 4, tieStop)),
			"0+10080 C4, 20160+20160 C4", nil},
		{"tied notations serve without tie elements",
			four(n("C4", 4, `<notations><tied type="start"/></notations>`) + n("C4", 4, `<notations><tied type="stop"/></notations>`)),
			"0+40320 C4", nil},
		{"tie elements win over notations",
			four(n("C4", 4, tieStart) + n("C4", 2, tieStop, `<notations><tied type="stop"/><tied type="start"/></notations>`) + n("C4", 2, `<notations><tied type="stop"/></notations>`)),
			"0+30240 C4, 30240+10080 C4", nil},
		{"a let-ring is no tie",
			four(n("C4", 4, `<notations><tied type="let-ring"/></notations>`) + n("C4", 4, `<notations><tied type="stop"/></notations>`)),
			"0+20160 C4, 20160+20160 C4", nil},
		{"an inner note's tie does not hold the top",
			four(n("C4", 4, tieStart) + n("E4", 4, inChord, tieStart) + n("E4", 4, tieStop) + n("G4", 4, inChord)),
			"0+20160 E4, 20160+20160 G4", nil},
		{"grace notes go", four(`<note><grace/>` + pitchXML("B3") + `</note>` + n("C4", 8) + `<note><grace slash="yes"/>` + pitchXML("B3") + `</note>`),
			"0+40320 C4", []string{"bar 1: grace notes"}},
		{"cue notes go but take their time", four(n("B3", 4, "<cue/>") + n("C4", 4)),
			"20160+20160 C4", []string{"bar 1: cue notes"}},
		{"unpitched notes take their time", four("<note><unpitched/><duration>4</duration></note>" + n("C4", 4)),
			"20160+20160 C4", []string{"unpitched"}},
		{"other voices are left out", four(n("C5", 8, inVoice("1")) + backup(8) + n("G5", 4, inVoice("2")) + n("E4", 4, inVoice("2"))),
			"0+40320 C5", []string{"voice 1 of the part"}},
		{"a silent first voice is passed over", four(n("r", 8, inVoice("1")) + backup(8) + n("G4", 8, inVoice("2"))),
			"0+40320 G4", nil},
		{"voices have names", four(n("C5", 8, inVoice("soprano")) + backup(8) + n("G4", 8, inVoice("alto"))),
			"0+40320 C5", []string{"voice soprano"}},
		{"notes without voice are voice 1", four(n("C5", 4) + n("D5", 4, inVoice("1")) + backup(8) + n("G4", 8, inVoice("2"))),
			"0+20160 C5, 20160+20160 D5", []string{"voice 1"}},
		{"forward leaves a gap", four(n("C4", 2) + forward(4) + n("D4", 2)),
			"0+10080 C4, 30240+10080 D4", nil},
		{"backup inside one voice", four(n("C4", 4) + backup(4) + n("E4", 4) + n("F4", 4)),
			"0+20160 E4, 20160+20160 F4", nil},
		{"an overlap is cut", four(n("C4", 6) + backup(2) + n("E4", 4)),
			"0+20160 C4, 20160+20160 E4", []string{"bar 1: a note that sounds on"}},
		{"a backup too far ends at the bar's start", four(n("C4", 2, inVoice("1")) + backup(90) + n("E4", 8, inVoice("2"))),
			"0+10080 C4", []string{"before the bar", "voice 1"}},
		{"quarter tones go to the key below", four("<note><pitch><step>C</step><alter>0.5</alter><octave>4</octave></pitch><duration>8</duration></note>"),
			"0+40320 C4", []string{"between the keys"}},
		{"unreadable pitches are left out", four("<note><pitch><step>X</step><octave>4</octave></pitch><duration>4</duration></note>" + n("C4", 4)),
			"20160+20160 C4", []string{"without a readable pitch"}},
		{"pitches beyond the keys are folded", four("<note><pitch><step>A</step><octave>9</octave></pitch><duration>8</duration></note>"),
			"0+40320 A8", []string{"beyond them"}},
		{"lower-case steps and spaces", four("<note><pitch><step> c </step><octave> 4 </octave></pitch><duration> 8 </duration></note>"),
			"0+40320 C4", nil},
		{"slashes are notes", four(n("B4", 8, "<notehead>slash</notehead>")), "0+40320 B4", []string{"slashes"}},
		{"hidden notes sound", four(`<note print-object="no">` + pitchXML("C4") + `<duration>8</duration></note>`),
			"0+40320 C4", nil},
		{"a missing duration comes from the type", four(`<note>` + pitchXML("C4") + `<type>quarter</type><dot/></note>` + n("D4", 5)),
			"0+15120 C4, 15120+25200 D4", nil},
		{"neither duration nor type", four(`<note>` + pitchXML("C4") + `</note>` + n("D4", 6)),
			"0+10080 C4, 10080+30240 D4", []string{"without a duration"}},
		{"absurd divisions lose no note", four("<attributes><divisions>1073741824</divisions></attributes>" + n("C4", 4, "<type>quarter</type>") + n("D4", 1)),
			"0+10080 C4, 10080+1 D4", []string{"shorter than can be written"}},
		{"an absurd step forward loses no note", four(forward(1000000) + n("C4", 8)),
			"2570400+10080 C4", []string{"cut there"}},
		{"decimal divisions", partwise(`<measure number="1">` + strings.Replace(inHead(2, 4, 4), ">2<", ">1.0<", 1) +
			`<note>` + pitchXML("C4") + `<duration>0.5</duration></note><note>` + pitchXML("D4") + `<duration>3.5</duration></note></measure>`),
			"0+5040 C4, 5040+35280 D4", nil},
		{"two staves in one voice", four(n("C5", 8, "<staff>1</staff>") + backup(8) + n("C6", 4, "<staff>2</staff>") + n("C3", 4, "<staff>2</staff>")),
			"0+40320 C5", []string{"two staves"}},
		{"a second staff in the rests of the first", four(n("C5", 4, "<staff>1</staff>") + n("r", 4, "<staff>1</staff>") + backup(8) + n("r", 4, "<staff>2</staff>") + n("C3", 4, "<staff>2</staff>")),
			"0+20160 C5", []string{"two staves"}},
		{"a voice may cross the staves", four(n("C5", 4, "<staff>1</staff>") + n("C3", 4, "<staff>2</staff>")),
			"0+20160 C5, 20160+20160 C3", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, warnings := readText(t, tt.xml)
			if got := melodyText(c); got != tt.want {
				t.Errorf("melody\n got %s\nwant %s", got, tt.want)
			}
			wantWarnings(t, warnings, append(tt.warnings, noChords)...)
		})
	}
}

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "Slow Tide.xml")
	if err := os.WriteFile(path, []byte(four(n("C4", 8))), 0o600); err != nil {
		t.Fatal(err)
	}
	c, _, err := ReadFile(path)
	if err != nil || c.Title != "Slow Tide" {
		t.Errorf("title %q, error %v; want the file's name", c.Title, err)
	}
	if _, _, err := ReadFile(dir); !errors.Is(err, ErrNotMusicXML) || !strings.Contains(err.Error(), "folder") {
		t.Errorf("a folder: %v", err)
	}
	if _, _, err := ReadFile(os.DevNull); !errors.Is(err, ErrNotMusicXML) {
		t.Errorf("a device: %v", err)
	}
	if _, _, err := ReadFile(filepath.Join(dir, "none.xml")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a missing file: %v", err)
	}
}
