package midifile

import (
	"bytes"
	"math"
	"testing"
	"testing/iotest"

	"gitlab.com/gomidi/midi/v2"
	"gitlab.com/gomidi/midi/v2/smf"

	"organbook/assets"
	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
)

var flute, _ = project.RegistrationByName("full section")

// TestReadWhatWasWritten writes the demo and compares what is read with its
// performance.
func TestReadWhatWasWritten(t *testing.T) {
	c, err := assets.Demo()
	if err != nil {
		t.Fatal(err)
	}
	r := arrange.Realise(c, arrange.Options{})
	want, err := perform.Perform(r, perform.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	if err := Write(&file, r); err != nil {
		t.Fatal(err)
	}
	got, err := Read(iotest.HalfReader(&file), flute)
	if err != nil {
		t.Fatal(err)
	}
	keys := func(p *perform.Performance) (list []perform.Event) {
		for _, e := range p.Events {
			if e.Kind == perform.KeyDown || e.Kind == perform.KeyUp {
				list = append(list, e)
			}
		}
		return list
	}
	a, b := keys(got), keys(want)
	if len(a) != len(b) {
		t.Fatalf("%d key events, want %d", len(a), len(b))
	}
	count := map[[4]int]int{} // time in ms, kind, division and key
	at := func(e perform.Event) [4]int {
		return [4]int{int(math.Round(e.Seconds * 100)), int(e.Kind), int(e.Division), e.Key}
	}
	for i := range a {
		count[at(a[i])]++
		count[at(b[i])]--
	}
	wrong := 0
	for _, n := range count {
		if n != 0 {
			wrong++
		}
	}
	if wrong > len(a)/50 { // at the edge of a hundredth the two may round apart
		t.Errorf("%d of %d key events differ", wrong, len(a))
	}
	if math.Abs(got.Duration-want.Duration) > 0.01 {
		t.Errorf("plays for %.3f s, want %.3f", got.Duration, want.Duration)
	}
}

func TestReadUnderstands(t *testing.T) {
	file := smf.NewSMF1()
	file.TimeFormat = smf.MetricTicks(100)
	var track smf.Track
	track.Add(0, smf.MetaTempo(60))
	track.Add(0, midi.NoteOn(0, 60, 100))
	track.Add(50, midi.NoteOn(9, 40, 100)) // a drum
	track.Add(50, midi.NoteOn(0, 60, 0))   // up
	track.Add(0, smf.MetaTempo(120))
	track.Add(100, midi.ControlChange(2, 11, 127))
	track.Add(0, midi.NoteOn(2, 36, 1))
	track.Add(100, midi.NoteOff(2, 36))
	track.Close(100)
	if err := file.Add(track); err != nil {
		t.Fatal(err)
	}
	var raw bytes.Buffer
	if _, err := file.WriteTo(&raw); err != nil {
		t.Fatal(err)
	}
	p, err := Read(&raw, flute)
	if err != nil {
		t.Fatal(err)
	}
	type event struct {
		at       float64
		kind     perform.Kind
		division arrange.Division
		key      int
		value    float64
	}
	want := []event{
		{0, perform.KeyDown, arrange.Upper, 60, 0}, {1, perform.KeyUp, arrange.Upper, 60, 0},
		{1.5, perform.SetSwell, 0, 0, 1}, {1.5, perform.KeyDown, arrange.Pedal, 36, 0}, {2, perform.KeyUp, arrange.Pedal, 36, 0},
	}
	for i, e := range p.Events[3:] {
		if got := (event{e.Seconds, e.Kind, e.Division, e.Key, e.Value}); i >= len(want) || got != want[i] {
			t.Errorf("event %d: %v", i, got)
		}
	}
	if p.Duration != 2.5 || len(p.Events) != 8 {
		t.Errorf("%d events in %.2f s", len(p.Events), p.Duration)
	}
}

// FuzzRead looks for files that bring the reader down or play out of order.
func FuzzRead(f *testing.F) {
	c, err := assets.Demo()
	if err != nil {
		f.Fatal(err)
	}
	var file bytes.Buffer
	if err := Write(&file, arrange.Realise(c, arrange.Options{})); err != nil {
		f.Fatal(err)
	}
	f.Add(file.Bytes()[:2000])
	f.Add([]byte("MThd\x00\x00\x00\x06\x00\x00\x00\x01\xe7\x28MTrk\x00\x00\x00\x04\x00\xff\x2f\x00"))
	f.Add([]byte("MThd"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Read(bytes.NewReader(data), flute)
		if err != nil {
			return
		}
		last := 0.0
		for _, e := range p.Events {
			if !(e.Seconds >= last && e.Seconds <= p.Duration) || e.Value < 0 || e.Value > 2 {
				t.Fatalf("event %+v after %v s", e, last)
			}
			last = e.Seconds
		}
	})
}
