package musicxml

import (
	"archive/zip"
	"bytes"
	"errors"
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"

	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const q = project.Quarter

// realise builds a realisation by hand: the lead on the upper manual in the
// right hand with a note a third below, and what is added.
func realise(c *project.Chart, more ...arrange.Note) *arrange.Realisation {
	r := &arrange.Realisation{Chart: c}
	for i, n := range c.Melody {
		lead := arrange.Note{Start: n.Start, Duration: n.Duration, Key: n.Pitch.Key(), Pitch: n.Pitch, Layer: arrange.LayerLead, Step: i, Finger: 5}
		under := lead
		under.Pitch = n.Pitch.Transpose(theory.MinorThird.Invert())
		under.Key, under.Layer, under.Finger = under.Pitch.Key(), arrange.LayerBlock, 2
		r.Notes = append(r.Notes, lead, under)
	}
	r.Notes = append(r.Notes, more...)
	sortNotes(r.Notes)
	return r
}

// sampleChart has a pickup, a repeat with two endings, triplets, a note tied
// over a bar line, a chord off the beat, swing, and changes of key and meter.
func sampleChart() *project.Chart {
	note := func(start, duration project.Ticks, pitch string) project.Note {
		return project.Note{Start: start, Duration: duration, Pitch: theory.MustParsePitch(pitch)}
	}
	change := func(start project.Ticks, symbol string) project.Change {
		return project.Change{Start: start, Chord: theory.MustParseChord(symbol)}
	}
	c := project.New()
	c.Title, c.Composer = "Lamplight & Errand", "Our own"
	c.Key, c.Tempo, c.Swing = theory.MustParseKey("G minor"), 132, 2.0/3
	common := project.Bar{Meter: project.CommonTime, Length: 4 * q}
	c.Bars = []project.Bar{common, common, common, common, common}
	c.Bars[0].Length, c.Bars[0].Unnumbered = q, true
	c.Bars[1].Section, c.Bars[1].RepeatStart = "A", true
	c.Bars[2].Ending, c.Bars[2].EndingStart, c.Bars[2].RepeatEnd = []int{1}, true, true
	c.Bars[3].Ending, c.Bars[3].EndingStart = []int{2}, true
	c.Bars[4] = project.Bar{Meter: project.Meter{Beats: 6, Unit: 8}, Length: 3 * q, Key: theory.MustParseKey("A major"), Tempo: 90}
	c.Melody = []project.Note{
		note(0, q/2, "D5"), note(q/2, q/2, "C#5"),
		note(q, 3*q/2, "D5"), note(5*q/2, q/2, "Bb4"), note(3*q, q/3, "A4"), note(3*q+q/3, q/3, "Bb4"), note(3*q+2*q/3, q/3, "A4"),
		note(4*q, 3*q, "G4"),
		note(8*q, q/2, "F#4"), note(9*q, 2*q, "F4"), note(11*q, 2*q, "G4"),
		note(13*q, 3*q/2, "A4"), note(29*q/2, 3*q/2, "C#5"),
	}
	c.Changes = []project.Change{
		change(q, "Gm6"), change(7*q/2, "D7b9/F#"), change(5*q, "N.C."), change(9*q, "Cm7b5"), change(13*q, "Amaj7"),
	}
	c.Passages = []project.Passage{{}}
	return c
}

func sample() *arrange.Realisation {
	low := func(start, duration project.Ticks, key int, d arrange.Division, limb arrange.Limb) arrange.Note {
		return arrange.Note{Start: start, Duration: duration, Key: key, Division: d, Limb: limb, Layer: arrange.LayerComp, Step: -1}
	}
	r := realise(sampleChart(),
		low(q, 4*q, 58, arrange.Lower, arrange.LeftHand), low(3*q, 4*q, 52, arrange.Lower, arrange.LeftHand),
		low(9*q, q/2, 50, arrange.Upper, arrange.LeftHand),
		low(q, 2*q, 43, arrange.Pedal, arrange.LeftFoot), low(3*q, 2*q, 42, arrange.Pedal, arrange.RightFoot),
	)
	r.Cues = []arrange.Cue{
		{Start: 0, Kind: arrange.CueRegistration, Value: "reeds"}, {Start: 6 * q, Kind: arrange.CueRotary, Value: "fast"},
	}
	return r
}

func writtenScore(t interface{ Fatal(...any) }, r *arrange.Realisation) []byte {
	var b bytes.Buffer
	if err := Write(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestGoldenScore(t *testing.T) {
	got := writtenScore(t, sample())
	path := filepath.Join("testdata", "written.musicxml")
	if *update {
		if err := os.WriteFile(path, got, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("the score differs from %s; got\n%s", path, got)
	}
}

// schema returns a function that validates a score against the standard's
// schema. The schema is not part of the repository: where it is not found
// beside it, or xmllint is not installed, the test is skipped.
func schema(t *testing.T) func(score []byte) error {
	t.Helper()
	dir, err := filepath.Abs(filepath.Join("..", "..", "..", "..", "shared", "musicxml"))
	if err != nil {
		t.Fatal(err)
	}
	xsd := filepath.Join(dir, "musicxml.xsd")
	if _, err := os.Stat(xsd); err != nil {
		t.Skip("no MusicXML schema beside the repository:", err)
	}
	lint, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("xmllint is not installed:", err)
	}
	return func(score []byte) error {
		cmd := exec.Command(lint, "--noout", "--nonet", "--schema", xsd, "-")
		cmd.Env = append(os.Environ(), "XML_CATALOG_FILES="+filepath.Join(dir, "catalog.xml"))
		cmd.Stdin = bytes.NewReader(score)
		if out, err := cmd.CombinedOutput(); err != nil {
			return errors.New(string(out))
		}
		return nil
	}
}

func TestScoreIsValid(t *testing.T) {
	validate := schema(t)
	if err := validate(writtenScore(t, sample())); err != nil {
		t.Error(err)
	}
	broken := strings.Replace(string(writtenScore(t, sample())), "<staves>", "<stairs>", 1)
	if validate([]byte(broken)) == nil {
		t.Error("the validator finds nothing wrong with a broken score")
	}
}

func TestAnyScoreIsValid(t *testing.T) {
	validate := schema(t)
	draw := rapid.Custom(anyRealisation)
	for seed := range 40 {
		r := draw.Example(seed)
		if err := validate(writtenScore(t, r)); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
	}
}

func TestCompressedScore(t *testing.T) {
	var b bytes.Buffer
	if err := WriteCompressed(&b, sample()); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	if len(z.File) != 2 || z.File[0].Name != "META-INF/container.xml" {
		t.Fatalf("the archive holds %v", z.File)
	}
	f, err := z.Open("score.musicxml")
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := io.ReadAll(f); !bytes.Equal(got, writtenScore(t, sample())) {
		t.Error("the archive holds another score")
	}
	c, _, err := Read(bytes.NewReader(b.Bytes()), int64(b.Len()), "x.mxl")
	if err != nil || c.Title != sample().Chart.Title {
		t.Errorf("read back: %v, %v", c, err)
	}
}

func TestFailingDiskIsReported(t *testing.T) {
	want := errors.New("disk full")
	if err := Write(failing{want}, sample()); err != want {
		t.Errorf("got %v", err)
	}
	if err := WriteCompressed(failing{want}, sample()); !errors.Is(err, want) {
		t.Errorf("compressed: got %v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
