package perform

import (
	"math"
	"slices"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

const q = project.Quarter

// realised returns a realisation of marked bars with the given notes.
func realised(bars string, notes ...arrange.Note) *arrange.Realisation {
	c := &project.Chart{
		Key: theory.NewKey(theory.NewName(theory.C, 0), theory.Major), Tempo: 120, Swing: 0.5,
		Bars: marked(bars), Passages: []project.Passage{{Registration: brass}},
	}
	return &arrange.Realisation{Chart: c, Notes: notes}
}

var (
	brass = project.Registration{Name: "brass", Upper: project.Drawbars{8, 8, 8}, Rotary: project.RotaryFast, Swell: 1}
	reeds = project.Registration{Name: "reeds", Upper: project.Drawbars{0, 8, 8}, Rotary: project.RotarySlow, Swell: 0.5}
)

func note(start, duration project.Ticks, key int) arrange.Note {
	return arrange.Note{Start: start, Duration: duration, Key: key}
}

func perform(t *testing.T, r *arrange.Realisation, o Options) *Performance {
	t.Helper()
	p, err := Perform(r, o)
	if err != nil {
		t.Fatal(err)
	}
	checkPerformance(t, p)
	return p
}

type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// checkPerformance fails unless the invariants of Performance hold.
func checkPerformance(t failer, p *Performance) {
	t.Helper()
	if !slices.IsSortedFunc(p.Events, func(a, b Event) int {
		if a.At != b.At {
			return int(a.At - b.At)
		}
		return int(a.Kind) - int(b.Kind)
	}) {
		t.Fatalf("events are not in order")
	}
	checkKeys(t, p)
	var sum project.Ticks
	for i, b := range p.Played {
		if b.At != sum {
			t.Fatalf("played bar %d starts at %d, want %d", i, b.At, sum)
		}
		sum += b.Length
	}
	if sum != p.Length || math.Abs(p.SecondsOf(sum)-p.Duration) > 1e-9 {
		t.Fatalf("length %d for bars of %d", p.Length, sum)
	}
}

func checkKeys(t failer, p *Performance) {
	t.Helper()
	type key struct {
		division arrange.Division
		key      int
	}
	down := map[key]project.Ticks{}
	for _, e := range p.Events {
		k := key{e.Division, e.Key}
		start, held := down[k]
		switch e.Kind {
		case KeyDown:
			if held {
				t.Fatalf("key %v goes down twice, at %d and %d", k, start, e.At)
			}
			down[k] = e.At
		case KeyUp:
			if !held || e.At <= start || e.At > p.Length {
				t.Fatalf("key %v comes up at %d, held %v since %d, end %d", k, e.At, held, start, p.Length)
			}
			delete(down, k)
		}
	}
	if len(down) != 0 {
		t.Fatalf("keys stay down: %v", down)
	}
}

// played is a key's way down and up in performed ticks.
type played struct {
	key      int
	down, up project.Ticks
}

func keysOf(p *Performance) []played {
	var out []played
	for _, e := range p.Events {
		switch e.Kind {
		case KeyDown:
			out = append(out, played{e.Key, e.At, -1})
		case KeyUp:
			for i := range out {
				if out[i].key == e.Key && out[i].up < 0 {
					out[i].up = e.At
				}
			}
		}
	}
	return out
}

func TestNotes(t *testing.T) {
	const w = 4 * q
	const gap = 604 // restrike of 0.03 s at 120, in ticks: 604.8
	block := func(n arrange.Note) arrange.Note { n.Layer = arrange.LayerBlock; return n }
	tests := []struct {
		name  string
		bars  string
		notes []arrange.Note
		o     Options
		want  []played
	}{
		{"legato", "-", []arrange.Note{note(0, q, 60), note(q, q, 62)}, Options{},
			[]played{{60, 0, q}, {62, q, 2 * q}}},
		{"struck again", "-", []arrange.Note{note(0, q, 60), note(q, q, 60)}, Options{},
			[]played{{60, 0, q - gap}, {60, q, 2 * q}}},
		{"struck again after a rest", "-", []arrange.Note{note(0, q, 60), note(2*q, q, 60)}, Options{},
			[]played{{60, 0, q}, {60, 2 * q, 3 * q}}},
		{"very short notes keep two thirds", "-", []arrange.Note{note(0, 630, 60), note(630, q, 60)}, Options{},
			[]played{{60, 0, 420}, {60, 630, 630 + q}}},
		{"two layers on one key", "-", []arrange.Note{note(0, q, 60), block(note(0, 2*q, 60))}, Options{},
			[]played{{60, 0, 2 * q}}},
		{"taken over while held", "-", []arrange.Note{note(0, 3*q, 60), block(note(q, q, 60))}, Options{},
			[]played{{60, 0, q - gap}, {60, q, 3 * q}}},
		{"muted layer", "-", []arrange.Note{note(0, q, 60), block(note(0, q, 55))}, Options{Mute: Layers(arrange.LayerBlock)},
			[]played{{60, 0, q}}},
		{"across the bar", "- -", []arrange.Note{note(3*q, 2*q, 60)}, Options{},
			[]played{{60, 3 * q, 5 * q}}},
		{"repeated", "|:,:| -", []arrange.Note{note(q, q, 60)}, Options{},
			[]played{{60, q, 2 * q}, {60, w + q, w + 2*q}}},
		{"cut where the repeat leads back, whole on the second pass", "|:,:| -", []arrange.Note{note(2*q, 4*q, 60)}, Options{},
			[]played{{60, 2 * q, w}, {60, w + 2*q, 2*w + 2*q}}},
		{"not taken into another ending", "- [1,:| [2", []arrange.Note{note(2*q, 4*q, 60)}, Options{},
			[]played{{60, 2 * q, w + 2*q}, {60, 2*w + 2*q, 3 * w}}},
		{"range", "- - -", []arrange.Note{note(0, q, 60), note(w, q, 62), note(2*w, q, 64)}, Options{FromBar: 1, ToBar: 2},
			[]played{{62, 0, q}}},
		{"range ignores repeats", "|:,:| -", []arrange.Note{note(0, q, 60)}, Options{ToBar: 1},
			[]played{{60, 0, q}}},
		{"held into a range", "- -", []arrange.Note{note(0, 6*q, 60), note(q, 3*q, 62), note(w, q, 64)}, Options{FromBar: 1, ToBar: 2},
			[]played{{60, 0, 2 * q}, {64, 0, q}}},
		{"cut at the end of a range", "- -", []arrange.Note{note(0, 6*q, 60)}, Options{ToBar: 1},
			[]played{{60, 0, w}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := perform(t, realised(tt.bars, tt.notes...), tt.o)
			if got := keysOf(p); !slices.Equal(got, tt.want) {
				t.Errorf("got %v\nwant %v", got, tt.want)
			}
		})
	}
}

func TestEventsCarryTheNote(t *testing.T) {
	n := arrange.Note{Start: q, Duration: q, Key: 36, Division: arrange.Pedal, Limb: arrange.LeftFoot, Layer: arrange.LayerBass, Finger: 2, Step: -1}
	p := perform(t, realised("|:,:|", n), Options{})
	var downs []Event
	for _, e := range p.Events {
		if e.Kind == KeyDown {
			downs = append(downs, e)
		}
	}
	want := Event{At: 5 * q, Seconds: 2.5, Kind: KeyDown, Written: q, Division: arrange.Pedal, Key: 36, Limb: arrange.LeftFoot, Layer: arrange.LayerBass, Finger: 2, Step: -1}
	if len(downs) != 2 || downs[1] != want {
		t.Errorf("got %+v\nwant the second to be %+v", downs, want)
	}
}

// A key that comes up early to be struck again still names the written place
// where it is struck; one that is cut where the page jumps names the bar line.
func TestKeyUpsCarryTheWrittenEnd(t *testing.T) {
	p := perform(t, realised("|:,:| -", note(0, 2*q, 60), note(q, 6*q, 60)), Options{})
	var got []project.Ticks
	for _, e := range p.Events {
		if e.Kind == KeyUp {
			got = append(got, e.Written)
		}
	}
	if want := []project.Ticks{q, 4 * q, q, 7 * q}; !slices.Equal(got, want) {
		t.Errorf("keys come up at written %v, want %v", got, want)
	}
}

func TestPerformRefusesBarsOutsideTheChart(t *testing.T) {
	for _, o := range []Options{{FromBar: -1, ToBar: 1}, {ToBar: 3}, {FromBar: 1, ToBar: 1}, {FromBar: 1}} {
		if _, err := Perform(realised("- -"), o); err == nil {
			t.Errorf("%+v: no error", o)
		}
	}
}
