package musicxml

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// transposeXML writes a <transpose>; diatonic is left out where it is "".
func transposeXML(diatonic string, chromatic, octaves int) string {
	s := "<transpose>"
	if diatonic != "" {
		s += "<diatonic>" + diatonic + "</diatonic>"
	}
	s += fmt.Sprintf("<chromatic>%d</chromatic>", chromatic)
	if octaves != 0 {
		s += fmt.Sprintf("<octave-change>%d</octave-change>", octaves)
	}
	return s + "</transpose>"
}

// transposed is a bar of two half notes, C5 and B4 over Cmaj7/E and N.C., for an
// instrument; the key is written with so many fifths.
func transposed(fifths int, transpose string) string {
	return partwise(fmt.Sprintf(`<measure number="1"><attributes><divisions>2</divisions><key><fifths>%d</fifths><mode>major</mode></key>`+
		`<time><beats>4</beats><beat-type>4</beat-type></time>%s</attributes>`, fifths, transpose) +
		harmony("C", "major-seventh", "<bass><bass-step>E</bass-step></bass>") + n("C5", 4) + n("B4", 4) + `</measure>`)
}

func TestTransposingInstruments(t *testing.T) {
	for _, tt := range []struct {
		name, transpose string
		fifths          int
		key, chord      string
		first, second   string
		warning         string
	}{
		{"a tone lower", transposeXML("-1", -2, 0), 0, "Bb major", "Bbmaj7/D", "Bb4", "A4", "transposing instrument"},
		{"a ninth lower, so a tone", transposeXML("-1", -2, -1), 0, "Bb major", "Bbmaj7/D", "Bb4", "A4", "transposing instrument"},
		{"the same without octave-change", transposeXML("-8", -14, 0), 0, "Bb major", "Bbmaj7/D", "Bb4", "A4", "transposing instrument"},
		{"a sixth lower, so a third higher", transposeXML("-5", -9, 0), 0, "Eb major", "Ebmaj7/G", "Eb5", "D5", "transposing instrument"},
		{"and the octave below", transposeXML("-5", -9, -1), 0, "Eb major", "Ebmaj7/G", "Eb5", "D5", "transposing instrument"},
		{"a fifth lower, so a fourth higher", transposeXML("-4", -7, 0), 0, "F major", "Fmaj7/A", "F5", "E5", "transposing instrument"},
		{"a third higher", transposeXML("2", 3, 0), 0, "Eb major", "Ebmaj7/G", "Eb5", "D5", "transposing instrument"},
		{"by semitones alone", transposeXML("", -2, 0), 0, "Bb major", "Bbmaj7/D", "Bb4", "A4", "transposing instrument"},
		{"with letters that cannot be", transposeXML("3", -2, 0), 0, "Bb major", "Bbmaj7/D", "Bb4", "A4", "transposing instrument"},
		{"beyond seven flats: respelled", transposeXML("-1", -2, 0), -6, "E major", "A#maj7/C##", "A#4", "G##4", "transposing instrument"},
		{"an octave lower", transposeXML("0", 0, -1), 0, "C major", "Cmaj7/E", "C5", "B4", "another octave"},
		{"not at all", transposeXML("0", 0, 0), 0, "C major", "Cmaj7/E", "C5", "B4", ""},
		{"by no whole number", "<transpose><chromatic>1.5</chromatic></transpose>", 0, "C major", "Cmaj7/E", "C5", "B4", "unusual size"},
		{"by nothing that is a number", "<transpose/>", 0, "C major", "Cmaj7/E", "C5", "B4", "unusual size"},
		{"by more than there are keys", transposeXML("", 200, 0), 0, "C major", "Cmaj7/E", "C5", "B4", "unusual size"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, warnings := readText(t, transposed(tt.fifths, tt.transpose))
			if got := c.Key.String(); got != tt.key {
				t.Errorf("key %s, want %s", got, tt.key)
			}
			if got := c.Changes[0].Chord.String(); got != tt.chord {
				t.Errorf("chord %s, want %s", got, tt.chord)
			}
			if got := c.Melody[0].Pitch.String() + " " + c.Melody[1].Pitch.String(); got != tt.first+" "+tt.second {
				t.Errorf("melody %s, want %s %s", got, tt.first, tt.second)
			}
			said := fmt.Sprint(warnings)
			if tt.warning == "" && len(warnings) > 0 || !strings.Contains(said, tt.warning) {
				t.Errorf("warnings %s, want %q", said, tt.warning)
			}
		})
	}
}

// Chord symbols that stand in another part are written for that part's
// instrument, and a numeral follows the key that sounds.
func TestChordsOfAnotherPartSoundWithTheMelody(t *testing.T) {
	lead := strings.Replace(transposed(2, transposeXML("-1", -2, 0)), harmony("C", "major-seventh", "<bass><bass-step>E</bass-step></bass>"), "", 1)
	rhythm := `<part id="P2"><measure number="1">` + inHead(2, 4, 4) + harmony("F", "dominant") + n("r", 8) + `</measure></part></score-partwise>`
	c, _ := readText(t, strings.Replace(lead, "</score-partwise>", rhythm, 1))
	if got := c.Key.String() + " " + c.Changes[0].Chord.String() + " " + c.Melody[0].Pitch.String(); got != "C major F7 Bb4" {
		t.Errorf("read %s, want C major F7 Bb4", got)
	}
	numeral := `<harmony><numeral><numeral-root>5</numeral-root></numeral><kind>dominant</kind></harmony>`
	c, _ = readText(t, partwise(`<measure number="1"><attributes><divisions>2</divisions><key><fifths>2</fifths></key>`+
		transposeXML("-1", -2, 0)+`</attributes>`+numeral+n("A4", 8)+`</measure>`))
	if got := c.Changes[0].Chord.String(); got != "G7" {
		t.Errorf("the fifth degree of what sounds in C is %s, want G7", got)
	}
}

// An instrument that changes within the part, with its key, leaves the key that
// sounds as it is.
func TestChangeOfInstrument(t *testing.T) {
	change := `<attributes><key><fifths>0</fifths></key>` + transposeXML("0", 0, 0) + `</attributes>`
	c, _ := readText(t, strings.Replace(transposed(2, transposeXML("-1", -2, 0)), `</measure></part>`,
		`</measure><measure number="2">`+change+harmony("A", "minor")+n("C5", 8)+`</measure></part>`, 1))
	if c.Key.String() != "C major" || c.Bars[1].Key.IsValid() || c.Melody[2].Pitch.String() != "C5" || c.Changes[1].Chord.String() != "Am" {
		t.Errorf("key %s, bar 2 %v, note %s, chord %s", c.Key, c.Bars[1].Key, c.Melody[2].Pitch, c.Changes[1].Chord)
	}
}

// Whatever the transposition, everything moves alike: between melody, chords
// and key no interval changes, and the melody stays within half an octave.
func TestTranspositionMovesEverythingAlike(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		fifths := rapid.IntRange(-project.MaxSignature, project.MaxSignature).Draw(r, "fifths")
		diatonic := rapid.SampledFrom([]string{"", "0", "-1", "2", "-5", "-8", "4"}).Draw(r, "diatonic")
		chromatic := rapid.IntRange(-24, 24).Draw(r, "chromatic")
		octaves := rapid.IntRange(-2, 2).Draw(r, "octaves")
		written, _ := readText(t, transposed(fifths, ""))
		sounding, _ := readText(t, transposed(fifths, transposeXML(diatonic, chromatic, octaves)))
		by := sounding.Melody[0].Pitch.Key() - written.Melody[0].Pitch.Key()
		if by < -6 || by > 6 || (by-chromatic)%12 != 0 {
			r.Fatalf("the melody moved by %d semitones, asked were %d", by, chromatic)
		}
		pc := func(n theory.Name) int { return n.PC() }
		for _, x := range []struct {
			what           string
			written, sound int
		}{
			{"key", pc(written.Key.Tonic()), pc(sounding.Key.Tonic())},
			{"root", pc(written.Changes[0].Chord.Root()), pc(sounding.Changes[0].Chord.Root())},
			{"bass", pc(written.Changes[0].Chord.Bass()), pc(sounding.Changes[0].Chord.Bass())},
			{"second note", written.Melody[1].Pitch.Key(), sounding.Melody[1].Pitch.Key()},
		} {
			if (x.sound-x.written-by)%12 != 0 {
				r.Errorf("the %s moved by %d, the melody by %d", x.what, x.sound-x.written, by)
			}
		}
	})
}

// A note that would sound beyond the keys stays in the octave that has a key.
func TestTransposingAtTheEndsOfTheKeys(t *testing.T) {
	for _, tt := range []struct{ written, sounding, transpose string }{
		{"C-1", "Bb-1", transposeXML("-1", -2, 0)},
		{"G9", "Bb8", transposeXML("2", 3, 0)},
	} {
		c, _ := readText(t, partwise(`<measure number="1"><attributes><divisions>1</divisions>`+tt.transpose+`</attributes>`+n(tt.written, 4)+`</measure>`))
		if got := c.Melody[0].Pitch.String(); got != tt.sounding {
			t.Errorf("%s sounds %s, want %s", tt.written, got, tt.sounding)
		}
	}
}
