package musicxml

import (
	"encoding/xml"
	"slices"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"

	"pgregory.net/rapid"
)

// wireMeasure is what these tests read of a measure.
type wireMeasure struct {
	Number   string `xml:"number,attr"`
	Implicit string `xml:"implicit,attr"`
	Notes    []struct {
		Chord    *struct{} `xml:"chord"`
		Duration int64     `xml:"duration"`
		Voice    int       `xml:"voice"`
		Staff    int       `xml:"staff"`
		Ties     []struct {
			Type string `xml:"type,attr"`
		} `xml:"tie"`
		Step   string `xml:"pitch>step"`
		Alter  int    `xml:"pitch>alter"`
		Octave int    `xml:"pitch>octave"`
	} `xml:"note"`
	Backups []struct {
		Duration int64 `xml:"duration"`
	} `xml:"backup"`
}

func measuresOf(t fataler, score []byte) []wireMeasure {
	var doc struct {
		Measures []wireMeasure `xml:"part>measure"`
	}
	if err := xml.Unmarshal(score, &doc); err != nil {
		t.Fatalf("%v", err)
	}
	return doc.Measures
}

// In every bar each voice sums to the bar's length, every staff has a voice,
// and the way back between voices is as long.
func TestVoicesFillTheirBars(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRealisation(t)
		measures := measuresOf(t, writtenScore(t, r))
		if len(measures) != len(r.Chart.Bars) {
			t.Fatalf("%d measures for %d bars", len(measures), len(r.Chart.Bars))
		}
		for i, m := range measures {
			sums, staves := map[int]int64{}, map[int]bool{}
			for _, n := range m.Notes {
				staves[n.Staff] = true
				if n.Chord == nil {
					sums[n.Voice] += n.Duration
				}
			}
			length := int64(r.Chart.Bars[i].Length)
			for v, sum := range sums {
				if sum != length {
					t.Fatalf("bar %d, voice %d: %d ticks of %d", i, v, sum, length)
				}
			}
			if len(staves) != staffCount || len(m.Backups) != len(sums)-1 {
				t.Fatalf("bar %d: staves %v, %d backups for %d voices", i, staves, len(m.Backups), len(sums))
			}
			for _, b := range m.Backups {
				if b.Duration != length {
					t.Fatalf("bar %d: a backup of %d, want %d", i, b.Duration, length)
				}
			}
		}
	})
}

// Every tie that starts stops at the next note of its voice on the same pitch.
func TestTiesAreWhole(t *testing.T) {
	type line struct {
		voice, alter, octave int
		step                 string
	}
	rapid.Check(t, func(t *rapid.T) {
		open := map[line]bool{}
		for i, m := range measuresOf(t, writtenScore(t, anyRealisation(t))) {
			for _, n := range m.Notes {
				l := line{n.Voice, n.Alter, n.Octave, n.Step}
				var kinds []string
				for _, tie := range n.Ties {
					kinds = append(kinds, tie.Type)
				}
				if stop := slices.Contains(kinds, "stop"); stop != open[l] {
					t.Fatalf("bar %d: %+v has ties %v, a tie is open: %v", i, l, kinds, open[l])
				}
				open[l] = slices.Contains(kinds, "start")
			}
		}
		for l, o := range open {
			if o {
				t.Fatalf("the tie of %+v never ends", l)
			}
		}
	})
}

func TestMeasureNumbers(t *testing.T) {
	c := sampleChart()
	c.Bars[3].Unnumbered = true // as the second half of a split bar
	var got []string
	for _, m := range measuresOf(t, writtenScore(t, realise(c))) {
		got = append(got, m.Number+m.Implicit)
	}
	if want := []string{"0yes", "1", "2", "X1yes", "3"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestLowerClefFollowsTheMusic(t *testing.T) {
	r := sample()
	if got := newScribe(r).clefs; got != [staffCount]string{"G", "F", "F"} {
		t.Errorf("low comp: clefs %v", got)
	}
	for i := range r.Notes {
		r.Notes[i].Key += 24
	}
	if got := newScribe(r).clefs[1]; got != "G" {
		t.Errorf("high comp: clef %s", got)
	}
}

// The printed symbol stands in the kind's text for every chord.
func TestHarmonyShowsTheSymbol(t *testing.T) {
	for symbol, want := range map[string]string{
		"Gm6": `<kind text="m6">minor-sixth</kind>`, "C": `<kind text="">major</kind>`,
		"D7b9/F#": `<kind text="7b9">dominant</kind>`, "N.C.": `<kind text="N.C.">none</kind>`,
	} {
		c := sampleChart()
		c.Changes = []project.Change{{Start: 0, Chord: theory.MustParseChord(symbol)}}
		if s := string(writtenScore(t, realise(c))); !strings.Contains(s, want) {
			t.Errorf("%s: the score lacks %s", symbol, want)
		}
	}
}

func TestTextIsEscaped(t *testing.T) {
	c := sampleChart()
	c.Title = "<a> & \"b\" \x00 ö"
	s := writtenScore(t, realise(c))
	var doc struct {
		Title string `xml:"work>work-title"`
	}
	if err := xml.Unmarshal(s, &doc); err != nil || doc.Title != "<a> & \"b\" \uFFFD ö" {
		t.Errorf("title %q, %v", doc.Title, err)
	}
}

func BenchmarkWrite(b *testing.B) {
	c := sampleChart()
	c.Bars, c.Melody, c.Changes = nil, nil, nil
	for i := range project.Ticks(32) {
		c.Bars = append(c.Bars, project.Bar{Meter: project.CommonTime, Length: 4 * q})
		for k := range project.Ticks(8) {
			c.Melody = append(c.Melody, project.Note{Start: i*4*q + k*q/2, Duration: q / 2, Pitch: theory.MustParsePitch("A4")})
		}
	}
	r := realise(c)
	for b.Loop() {
		writtenScore(b, r)
	}
}
