package player

import (
	"encoding/binary"
	"errors"
	"math"
	"sync/atomic"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// fakeDevice takes the sound when the test pulls it.
type fakeDevice struct {
	source *source
	broken error
	buffer atomic.Int64
	lag    atomic.Int64
}

func (d *fakeDevice) ahead() int64 { return d.lag.Load() }
func (d *fakeDevice) err() error   { return d.broken }
func (d *fakeDevice) close(bool)   {}
func (d *fakeDevice) resize(n int) { d.buffer.Store(int64(n)) }

// pulled returns a player whose sound the test takes, and the taker: it
// returns the next frames, interleaved.
func pulled(t *testing.T) (*Player, func(frames int) []float32) {
	t.Helper()
	d := &fakeDevice{}
	p := start(Options{Click: -1}, func(s *source, rate int, _ Profile) (device, error) {
		d.source = s
		return d, nil
	})
	t.Cleanup(p.Close)
	settled(t, p)
	return p, func(frames int) []float32 { return pull(d.source, frames) }
}

func pull(s *source, frames int) []float32 {
	raw := make([]byte, frames*frameBytes)
	for at := 0; at < len(raw); {
		n, _ := s.Read(raw[at:])
		at += n
	}
	out := make([]float32, 2*frames)
	for i := range out {
		out[i] = math.Float32frombits(binary.LittleEndian.Uint32(raw[4*i:]))
	}
	return out
}

func settled(t *testing.T, p *Player) {
	t.Helper()
	for range 2000 {
		if p.Status().Settled {
			return
		}
		time.Sleep(time.Millisecond)
	}
	t.Fatal("the search for a device does not end")
}

var noDevice opener = func(*source, int, Profile) (device, error) {
	return nil, errors.New("it does not open")
}

const q = project.Quarter

// flute is a registration of one drawbar a division, so that each key is one
// sine: 8′ on the manuals and on the pedal.
var flute = project.Registration{
	Name: "flute", Upper: project.Drawbars{0, 0, 8}, Lower: project.Drawbars{0, 0, 8}, Pedal: [2]uint8{0, 8},
	Rotary: project.RotaryStopped, Swell: 1,
}

// performed plays notes in four bars of 4/4 at 120: eight seconds.
func performed(t testing.TB, notes ...arrange.Note) *perform.Performance {
	t.Helper()
	p, err := fourBars(notes)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func fourBars(notes []arrange.Note) (*perform.Performance, error) {
	bar := project.NewBar(project.CommonTime)
	c := &project.Chart{
		Key: theory.NewKey(theory.NewName(theory.C, 0), theory.Major), Tempo: 120, Swing: 0.5,
		Bars: []project.Bar{bar, bar, bar, bar}, Passages: []project.Passage{{Registration: flute}},
	}
	return perform.Perform(&arrange.Realisation{Chart: c, Notes: notes}, perform.Options{})
}

func played(start, duration project.Ticks, d arrange.Division, l arrange.Layer, key int) arrange.Note {
	return arrange.Note{Start: start, Duration: duration, Division: d, Layer: l, Key: key}
}

// strength is the amplitude of a key's own pitch in the left channel, under a
// Hann window.
func strength(stereo []float32, key int) float64 {
	n := len(stereo) / 2
	f := 440 * math.Exp2(float64(key-69)/12)
	var re, im float64
	for i := range n {
		w := 1 - math.Cos(2*math.Pi*float64(i)/float64(n))
		s, c := math.Sincos(2 * math.Pi * f * float64(i) / sampleRate)
		re += w * c * float64(stereo[2*i])
		im += w * s * float64(stereo[2*i])
	}
	return 2 * math.Hypot(re, im) / float64(n)
}

// sounds reports whether a key is heard.
func sounds(stereo []float32, key int) bool { return strength(stereo, key) > 0.004 }

// expect fails unless of the keys 48 to 84 exactly the given ones are heard.
func expect(t *testing.T, what string, stereo []float32, keys ...int) {
	t.Helper()
	want := map[int]bool{}
	for _, k := range keys {
		want[k] = true
	}
	for k := 48; k <= 84; k += 4 {
		if got := sounds(stereo, k); got != want[k] {
			t.Errorf("%s: key %d sounds: %v, want %v (amplitude %.4f)", what, k, got, want[k], strength(stereo, k))
		}
	}
}

// waiting counts the commands that found the ring full.
func waiting(p *Player) int {
	p.transport.queue.senders.Lock()
	defer p.transport.queue.senders.Unlock()
	return len(p.transport.queue.backlog)
}
