package realjson

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/theory"
)

const q = project.Quarter

func pitches(names ...string) (out []theory.Pitch) {
	for _, n := range names {
		out = append(out, theory.MustParsePitch(n))
	}
	return out
}

// sample is a pickup and a bar with one step of each kind that the document
// tells apart.
func sample() *arrange.Realisation {
	gm6 := theory.MustParseChord("Gm6")
	c := &project.Chart{
		Title: "Lamp & <Wick> \"ö\"", Key: theory.MustParseKey("G minor"), Tempo: 120, Swing: 0.5,
		Bars: []project.Bar{
			{Meter: project.CommonTime, Length: q, Unnumbered: true},
			{Meter: project.CommonTime, Length: 4 * q},
		},
		Changes: []project.Change{{Start: 0, Chord: theory.NoChord()}, {Start: q, Chord: gm6}},
		Melody: []project.Note{
			{Start: 0, Duration: q, Pitch: theory.MustParsePitch("F#4")},
			{Start: q, Duration: 3 * q / 2, Pitch: theory.MustParsePitch("G4")},
			{Start: 5 * q / 2, Duration: q / 2, Pitch: theory.MustParsePitch("A4")},
		},
		Passages: []project.Passage{{}},
	}
	home := arrange.Block{
		Family: theory.NewFamily(theory.MustParseName("G"), theory.MinorSixthFamily), Technique: theory.Home,
		Voicing: theory.Drop2, Voices: pitches("G5", "E5", "D5", "Bb4"), Name: "Gm6", Reason: phrase.Of("G rests on Gm6."),
	}
	alone := arrange.Block{Technique: theory.Alone, Voicing: theory.UnisonVoicing, Voices: pitches("F#4"), Reason: phrase.Of("No chord.")}
	return &arrange.Realisation{
		Chart: c,
		Steps: []arrange.Step{
			{Start: 0, Duration: q, Lead: pitches("F#4")[0], Block: alone},
			{Start: q, Duration: 3 * q / 2, Bar: 1, Lead: pitches("G5")[0], Chord: gm6, Block: home, Pinned: true},
		},
		Notes: []arrange.Note{
			{Start: 0, Duration: q, Key: 66, Division: arrange.Upper, Limb: arrange.RightHand, Layer: arrange.LayerLead, Finger: 3},
			{Start: q, Duration: 4 * q, Key: 43, Division: arrange.Pedal, Limb: arrange.LeftFoot, Layer: arrange.LayerBass, Step: -1},
		},
		Cues: []arrange.Cue{{Start: q, Kind: arrange.CueRotary, Value: "fast"}},
		Findings: []arrange.Finding{
			{Start: 5 * q / 2, Bar: 1, Limb: arrange.LeftHand, Severity: arrange.Unplayable, Text: phrase.Of("Too wide."), Remedies: []phrase.Phrase{phrase.Of("Drop the doubling.")}},
			{Start: 0, Limb: arrange.RightFoot, Text: phrase.Of("A leap.")},
		},
	}
}

func written(t *testing.T, r *arrange.Realisation) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The expected document was written by hand from the interface's description.
func TestDocument(t *testing.T) {
	want, err := os.ReadFile(filepath.Join("testdata", "sample.json"))
	if err != nil {
		t.Fatal(err)
	}
	if got := written(t, sample()); string(got) != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestRoundTrip(t *testing.T) {
	var d document
	dec := json.NewDecoder(bytes.NewReader(written(t, sample())))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatal(err)
	}
	if want := newDocument(sample()); !reflect.DeepEqual(d, want) {
		t.Errorf("read back\n%+v\nwant\n%+v", d, want)
	}
}

func TestEmptyListsAreLists(t *testing.T) {
	r := &arrange.Realisation{Chart: sample().Chart}
	r.Chart.Melody, r.Chart.Changes = nil, nil
	var d map[string]any
	if err := json.Unmarshal(written(t, r), &d); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"melody", "chords", "steps", "notes", "cues", "findings"} {
		if l, ok := d[name].([]any); !ok || len(l) != 0 {
			t.Errorf("%s is %v, want an empty list", name, d[name])
		}
	}
}

func TestFailingDiskIsReported(t *testing.T) {
	want := errors.New("disk full")
	if err := Write(failing{want}, sample()); err != want {
		t.Errorf("got %v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

func BenchmarkWrite(b *testing.B) {
	r := sample()
	for range 500 {
		r.Steps = append(r.Steps, r.Steps[1])
		r.Notes = append(r.Notes, r.Notes...)[:min(4000, 2*len(r.Notes))]
	}
	for b.Loop() {
		var buf bytes.Buffer
		if err := Write(&buf, r); err != nil {
			b.Fatal(err)
		}
	}
}
