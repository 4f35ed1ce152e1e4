package midifile

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/theory"

	"gitlab.com/gomidi/midi/v2/smf"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const q = project.Quarter

// sample is a pickup of a quarter and two bars, the first repeated, in swing,
// with a key, a meter and a tempo that change.
func sample() *arrange.Realisation {
	soft := project.Registration{Name: "reeds", Swell: 0.25}
	c := &project.Chart{
		Title: "Lamplight Errand", Composer: "Our own", Key: theory.MustParseKey("G minor"), Tempo: 132, Swing: 2.0 / 3,
		Bars: []project.Bar{
			{Meter: project.CommonTime, Length: q, Unnumbered: true},
			{Meter: project.CommonTime, Length: 4 * q, RepeatStart: true, RepeatEnd: true, Section: "A"},
			{Meter: project.Meter{Beats: 6, Unit: 8}, Length: 3 * q, Key: theory.MustParseKey("E major"), Tempo: 90},
		},
		Passages: []project.Passage{{Registration: project.Registration{Name: "brass", Swell: 1}}, {First: 2, Registration: soft}},
	}
	n := func(start, duration project.Ticks, key int, d arrange.Division) arrange.Note {
		return arrange.Note{Start: start, Duration: duration, Key: key, Division: d, Limb: limbOf(d)}
	}
	return &arrange.Realisation{Chart: c, Notes: []arrange.Note{
		n(0, q/2, 74, arrange.Upper), n(q/2, q/2, 72, arrange.Upper),
		n(q, 2*q, 70, arrange.Upper), n(q, 4*q, 58, arrange.Lower), n(q, 4*q, 43, arrange.Pedal),
		n(3*q, q, 70, arrange.Upper), n(5*q, 3*q, 71, arrange.Upper),
	}}
}

func limbOf(d arrange.Division) arrange.Limb {
	return [...]arrange.Limb{arrange.RightHand, arrange.LeftHand, arrange.LeftFoot}[d]
}

func written(t interface{ Fatal(...any) }, r *arrange.Realisation) []byte {
	var b bytes.Buffer
	if err := Write(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// dump reads a file back and writes an event a line.
func dump(t interface{ Fatal(...any) }, data []byte) string {
	file, err := smf.ReadFrom(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "format %d, %v, %d tracks\n", file.Format(), file.TimeFormat, file.NumTracks())
	for i, tr := range file.Tracks {
		at := int64(0)
		for _, e := range tr {
			at += int64(e.Delta)
			fmt.Fprintf(&b, "%d %7d %v\n", i, at, e.Message)
		}
	}
	return b.String()
}

func TestGolden(t *testing.T) {
	got := dump(t, written(t, sample()))
	path := filepath.Join("testdata", "sample.txt")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestHeader(t *testing.T) {
	want := []byte{'M', 'T', 'h', 'd', 0, 0, 0, 6, 0, 1, 0, 4, 10080 >> 8, 10080 & 0xff}
	if got := written(t, sample())[:14]; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestPlayedMeter(t *testing.T) {
	tests := []struct {
		meter  string
		length project.Ticks
		want   string
	}{
		{"4/4", 4 * q, "4/4"}, {"4/4", q, "1/4"}, {"4/4", 3 * q / 2, "3/8"}, {"6/8", 3 * q, "6/8"},
		{"6/8", q / 2, "1/8"}, {"2/2", 3 * q, "3/4"}, {"4/4", q / 3, "4/4"}, {"4/4", q / 32, "4/4"},
	}
	for _, tt := range tests {
		var m project.Meter
		fmt.Sscanf(tt.meter, "%d/%d", &m.Beats, &m.Unit)
		if got := playedMeter(&project.Bar{Meter: m, Length: tt.length}).String(); got != tt.want {
			t.Errorf("%d ticks of %s are written as %s, want %s", tt.length, tt.meter, got, tt.want)
		}
	}
}

func TestKeySignatures(t *testing.T) {
	tests := []struct {
		key           string
		fifths, minor byte
	}{
		{"C major", 0, 0}, {"A minor", 0, 1}, {"Eb major", 256 - 3, 0}, {"F# major", 6, 0}, {"Cb major", 256 - 7, 0},
		{"G# major", 256 - 4, 0}, {"Fb major", 4, 0}, {"D# minor", 6, 1}, {"Fb minor", 1, 1},
	}
	for _, tt := range tests {
		want := []byte{0xff, 0x59, 2, tt.fifths, tt.minor}
		if got := keyMessage(theory.MustParseKey(tt.key)).Bytes(); !slices.Equal(got, want) {
			t.Errorf("%s is written as % x, want % x", tt.key, got, want)
		}
	}
}

func TestSwellIsNeverSilent(t *testing.T) {
	for _, tt := range []struct {
		swell float64
		want  uint8
	}{{-1, 32}, {0, 32}, {0.5, 80}, {1, 127}, {2, 127}} {
		if got := swellValue(tt.swell); got != tt.want {
			t.Errorf("swell %v is %d, want %d", tt.swell, got, tt.want)
		}
	}
}

func TestLongSilenceFitsTheFile(t *testing.T) {
	r := sample()
	r.Chart.Bars = nil
	for range 2000 {
		r.Chart.Bars = append(r.Chart.Bars, project.Bar{Meter: project.Meter{Beats: 20, Unit: 4}, Length: 20 * q})
	}
	r.Notes = nil
	lines := strings.Split(strings.TrimSpace(dump(t, written(t, r))), "\n")
	if last := lines[len(lines)-1]; !strings.Contains(last, fmt.Sprint(40000*q)) || !strings.Contains(last, "EndOfTrack") {
		t.Errorf("the last track ends with %q", last)
	}
}

func TestFailingDiskIsReported(t *testing.T) {
	broken := errors.New("disk full")
	if err := Write(failing{broken}, sample()); err == nil {
		t.Error("a failing disk goes unnoticed")
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// What the file says is what is performed: every key event of each division
// at its tick, on its channel, and the end of each track at the end.
func TestFileHoldsThePerformance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := sample()
		r.Notes = nil
		for i := range rapid.IntRange(0, 30).Draw(t, "notes") {
			start := project.Ticks(i) * q / 4
			d := arrange.Division(rapid.IntRange(0, 2).Draw(t, "division"))
			r.Notes = append(r.Notes, arrange.Note{
				Start: start, Duration: min(8*q-start, q/4*project.Ticks(rapid.IntRange(1, 9).Draw(t, "length"))),
				Key: rapid.IntRange(0, 127).Draw(t, "key"), Division: d, Limb: limbOf(d),
			})
		}
		p, err := perform.Perform(r, perform.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var want []string
		for _, e := range p.Events {
			switch e.Kind {
			case perform.KeyDown:
				want = append(want, fmt.Sprint(e.At, " on ", e.Division, e.Key, velocity))
			case perform.KeyUp:
				want = append(want, fmt.Sprint(e.At, " off ", e.Division, e.Key))
			}
		}
		got, ends := keysOf(t, written(t, r))
		slices.Sort(want)
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Fatalf("got  %v\nwant %v", got, want)
		}
		for _, end := range ends {
			if end != p.Length {
				t.Fatalf("a track ends at %d, want %d", end, p.Length)
			}
		}
	})
}

// keysOf reads the key events of a file, and where its tracks end.
func keysOf(t *rapid.T, data []byte) (keys []string, ends []project.Ticks) {
	file, err := smf.ReadFrom(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	for i, tr := range file.Tracks {
		at := project.Ticks(0)
		for _, e := range tr {
			at += project.Ticks(e.Delta)
			var channel, key, v uint8
			switch {
			case e.Message.GetNoteOn(&channel, &key, &v):
				keys = append(keys, fmt.Sprint(at, " on ", arrange.Division(channel), key, v))
			case e.Message.GetNoteOff(&channel, &key, &v):
				keys = append(keys, fmt.Sprint(at, " off ", arrange.Division(channel), key))
			default:
				continue
			}
			if int(channel) != i-1 {
				t.Fatalf("track %d plays on channel %d", i, channel+1)
			}
		}
		ends = append(ends, at)
	}
	return keys, ends
}
