package perform

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"

	"pgregory.net/rapid"
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

func TestPerformRefusesBarsOutsideTheChart(t *testing.T) {
	for _, o := range []Options{{FromBar: -1, ToBar: 1}, {ToBar: 3}, {FromBar: 1, ToBar: 1}, {FromBar: 1}} {
		if _, err := Perform(realised("- -"), o); err == nil {
			t.Errorf("%+v: no error", o)
		}
	}
}

func TestSwing(t *testing.T) {
	third, swung := q/3, 2*q/3
	tests := []struct {
		name   string
		meter  project.Meter
		length project.Ticks
		pickup bool
		notes  []arrange.Note
		want   []played
	}{
		{"off-beat eighth", project.Meter{Beats: 4, Unit: 4}, 4 * q, false,
			[]arrange.Note{note(0, q/2, 60), note(q/2, q/2, 62)},
			[]played{{60, 0, swung}, {62, swung, q}}},
		{"sixteenths share their half", project.Meter{Beats: 4, Unit: 4}, 4 * q, false,
			[]arrange.Note{note(q/4, q/4, 60), note(3*q/4, q/4, 62)},
			[]played{{60, swung / 2, swung}, {62, swung + third/2, q}}},
		{"held over the beat", project.Meter{Beats: 4, Unit: 4}, 4 * q, false,
			[]arrange.Note{note(q/2, q, 60)},
			[]played{{60, swung, q + swung}}},
		{"triplets stay", project.Meter{Beats: 4, Unit: 4}, 4 * q, false,
			[]arrange.Note{note(0, third, 60), note(third, third, 62), note(2*third, third, 64)},
			[]played{{60, 0, third}, {62, third, 2 * third}, {64, 2 * third, q}}},
		{"a triplet's beat is straight for that hand only", project.Meter{Beats: 4, Unit: 4}, 4 * q, false,
			[]arrange.Note{note(third, third, 60), {Start: q / 2, Duration: q / 2, Key: 48, Limb: arrange.LeftHand}},
			[]played{{60, third, 2 * third}, {48, swung, q}}},
		{"half notes swing in their quarters", project.Meter{Beats: 2, Unit: 2}, 4 * q, false,
			[]arrange.Note{note(q+q/2, q/2, 60)},
			[]played{{60, q + swung, 2 * q}}},
		{"compound meters do not", project.Meter{Beats: 6, Unit: 8}, 3 * q, false,
			[]arrange.Note{note(q/2, q/2, 60)},
			[]played{{60, q / 2, q}}},
		{"a pickup counts from its end", project.Meter{Beats: 4, Unit: 4}, q / 2, true,
			[]arrange.Note{note(0, q/2, 60)},
			[]played{{60, 0, q / 2}}},
		{"a longer pickup counts from its end", project.Meter{Beats: 4, Unit: 4}, q + q/2, true,
			[]arrange.Note{note(q/2, q/2, 60), note(q, q/2, 62)},
			[]played{{60, q / 2, q/2 + swung}, {62, q/2 + swung, q + q/2}}},
		{"the rest of a bar without a whole beat", project.Meter{Beats: 4, Unit: 4}, q + q/2, false,
			[]arrange.Note{note(q/2, q/2, 60), note(q+q/4, q/4, 62)},
			[]played{{60, swung, q}, {62, q + q/4, q + q/2}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := realised("-", tt.notes...)
			r.Chart.Swing = 2.0 / 3
			r.Chart.Bars[0] = project.Bar{Meter: tt.meter, Length: tt.length, Unnumbered: tt.pickup}
			if got := keysOf(perform(t, r, Options{})); !slices.Equal(got, tt.want) {
				t.Errorf("got %v\nwant %v", got, tt.want)
			}
		})
	}
}

func TestSwingIsContinuousAndKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := realised("- -")
		r.Chart.Swing = rapid.Float64Range(0.5, 0.8).Draw(t, "swing")
		p := newPage(r.Chart, nil)
		at := project.Ticks(rapid.IntRange(0, int(8*q)-1).Draw(t, "at"))
		a, b := p.bend(at, 0), p.bend(at+1, 0)
		if b < a || b-a > 3 {
			t.Fatalf("ticks %d and %d are played at %d and %d", at, at+1, a, b)
		}
		if back := p.unbend(a, 0); back > at || at-back > 3 {
			t.Fatalf("tick %d is played at %d, which reads back as %d", at, a, back)
		}
	})
}

func TestTempoMap(t *testing.T) {
	r := realised("|: :| -")
	r.Chart.Bars[1].Tempo = 60
	r.Chart.Bars[2].Tempo = 240
	p := perform(t, r, Options{TempoScale: 0.5})
	// Bars 0 1 0 1 2 at 60, 30, 60, 30, 120 quarters a minute.
	want := []Tempo{{0, 0, 60}, {4 * q, 4, 30}, {8 * q, 12, 60}, {12 * q, 16, 30}, {16 * q, 24, 120}}
	if !slices.Equal(p.Tempos, want) {
		t.Errorf("got %v\nwant %v", p.Tempos, want)
	}
	if p.Duration != 26 {
		t.Errorf("duration %v s, want 26", p.Duration)
	}
	if p.Played[3].Seconds != 16 || p.Played[3].Pass != 2 {
		t.Errorf("fourth bar played: %+v", p.Played[3])
	}
}

func TestBadTempoAndSwingCountAsTheNearest(t *testing.T) {
	r := realised("-", note(q/2, q/2, 60))
	r.Chart.Tempo, r.Chart.Swing = math.NaN(), math.NaN()
	p := perform(t, r, Options{})
	if p.Duration != 2 || keysOf(p)[0].down != q/2 {
		t.Errorf("duration %v, first key %v", p.Duration, keysOf(p)[0])
	}
}

func TestCursor(t *testing.T) {
	r := realised("- |:,:| -")
	r.Chart.Swing = 2.0 / 3
	p := perform(t, r, Options{}) // bars 0 1 1 2, two seconds each
	tests := []struct {
		seconds float64
		written project.Ticks
		first   bool
	}{
		{0, 0, true}, {0.5, q, true}, {2, 4 * q, true}, {4, 4 * q, false}, {6, 8 * q, true},
		{1.0 / 3, q / 2, true}, // two thirds of half a second
	}
	for _, tt := range tests {
		if got, ok := p.WrittenAt(tt.seconds); !ok || got != tt.written {
			t.Errorf("at %v s: position %d, %v; want %d", tt.seconds, got, ok, tt.written)
		}
		if got, ok := p.SecondsAt(tt.written); tt.first && (!ok || math.Abs(got-tt.seconds) > 1e-9) {
			t.Errorf("position %d: %v s, %v; want %v", tt.written, got, ok, tt.seconds)
		}
	}
	for _, s := range []float64{-0.1, 8, 9} {
		if _, ok := p.WrittenAt(s); ok {
			t.Errorf("at %v s a position is given", s)
		}
	}
	for _, w := range []project.Ticks{-1, 12 * q} {
		if _, ok := p.SecondsAt(w); ok {
			t.Errorf("position %d is given a time", w)
		}
	}
}

func TestBarsNeverPlayedHaveNoTime(t *testing.T) {
	p := perform(t, realised("- - - -"), Options{FromBar: 1, ToBar: 3})
	if _, ok := p.SecondsAt(q); ok {
		t.Error("a bar before the range has a time")
	}
	if s, ok := p.SecondsAt(8 * q); !ok || s != 2 {
		t.Errorf("the range's second bar is at %v, %v; want 2 s", s, ok)
	}
	if _, ok := p.SecondsAt(12 * q); ok {
		t.Error("a bar after the range has a time")
	}
}

// setEvents lists the events that are not keys, without their registrations.
func setEvents(p *Performance) []Event {
	var out []Event
	for _, e := range p.Events {
		if e.Kind != KeyDown && e.Kind != KeyUp {
			e.Registration = nil
			out = append(out, e)
		}
	}
	return out
}

func TestCues(t *testing.T) {
	const w = 4 * q
	r := realised("|: :|")
	r.Cues = []arrange.Cue{
		{Start: 0, Kind: arrange.CueRegistration, Registration: brass},
		{Start: w, Kind: arrange.CueRegistration, Registration: reeds},
		{Start: w + q, Kind: arrange.CueRegistration, Registration: reeds},
	}
	fast := func(at project.Ticks, s float64) []Event {
		return []Event{
			{At: at, Seconds: s, Kind: SetRegistration},
			{At: at, Seconds: s, Kind: SetRotary, Value: float64(project.RotaryFast)},
			{At: at, Seconds: s, Kind: SetSwell, Value: 1},
		}
	}
	slow := func(at project.Ticks, s float64) []Event {
		return []Event{
			{At: at, Seconds: s, Kind: SetRegistration, Written: w},
			{At: at, Seconds: s, Kind: SetRotary, Written: w, Value: float64(project.RotarySlow)},
			{At: at, Seconds: s, Kind: SetSwell, Written: w, Value: 0.5},
		}
	}
	want := slices.Concat(fast(0, 0), slow(w, 2), fast(2*w, 4), slow(3*w, 6))
	if got := setEvents(perform(t, r, Options{})); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
}

func TestCuesInForceBeforeARange(t *testing.T) {
	r := realised("- - -")
	r.Chart.Passages = []project.Passage{{Registration: brass}, {First: 1, Registration: reeds}}
	got := perform(t, r, Options{FromBar: 2, ToBar: 3}).Events
	if len(got) != 3 || got[0].Kind != SetRegistration || got[0].Registration.Name != "reeds" || got[0].At != 0 {
		t.Errorf("got %+v, want the setting of the passage at the start", got)
	}
}

func TestClicks(t *testing.T) {
	r := realised("- - -")
	r.Chart.Bars[0] = project.Bar{Meter: project.CommonTime, Length: q + q/2, Unnumbered: true}
	r.Chart.Bars[2] = project.Bar{Meter: project.Meter{Beats: 6, Unit: 8}, Length: 3 * q}
	p := perform(t, r, Options{})
	at := func(clicks []Click) (out []project.Ticks, accents int) {
		for _, c := range clicks {
			out = append(out, c.At)
			if c.Accent {
				accents++
			}
		}
		return out, accents
	}
	got, accents := at(p.Clicks())
	half := q / 2
	want := []project.Ticks{half, 3 * half, 5 * half, 7 * half, 9 * half, 11 * half, 14 * half}
	if !slices.Equal(got, want) || accents != 2 {
		t.Errorf("clicks at %v with %d accents, want %v with 2", got, accents, want)
	}
	// One bar, and the two and a half beats the pickup leaves out.
	in, accents := at(p.CountIn(1))
	want = []project.Ticks{-13 * half, -11 * half, -9 * half, -7 * half, -5 * half, -3 * half, -half}
	if !slices.Equal(in, want) || accents != 2 {
		t.Errorf("count-in at %v with %d accents, want %v with 2", in, accents, want)
	}
	if s := p.CountIn(1)[0].Seconds; s != -3.25 {
		t.Errorf("the count-in starts at %v s, want -3.25", s)
	}
	if len(p.CountIn(0)) != 0 {
		t.Error("a count-in of no bars clicks")
	}
}

// anyRealisation draws a realisation with any bars, marks and notes.
func anyRealisation(t *rapid.T) *arrange.Realisation {
	r := realised("-")
	c := r.Chart
	c.Bars = anyBars(t)
	c.Swing = rapid.Float64Range(0.5, 0.8).Draw(t, "swing")
	var end project.Ticks
	for i := range c.Bars {
		c.Bars[i].Length = project.Ticks(rapid.IntRange(1, 8).Draw(t, "eighths")) * q / 2
		c.Bars[i].Unnumbered = rapid.Bool().Draw(t, "unnumbered")
		if rapid.Bool().Draw(t, "new tempo") {
			c.Bars[i].Tempo = rapid.Float64Range(20, 400).Draw(t, "tempo")
		}
		end += c.Bars[i].Length
	}
	for range rapid.IntRange(0, 40).Draw(t, "notes") {
		r.Notes = append(r.Notes, anyNote(t, end))
	}
	slices.SortStableFunc(r.Notes, func(a, b arrange.Note) int { return int(a.Start - b.Start) })
	return r
}

func anyNote(t *rapid.T, end project.Ticks) arrange.Note {
	grid := rapid.SampledFrom([]project.Ticks{q, q / 2, q / 3, q / 4, q / 5, q / 7, q / 32}).Draw(t, "grid")
	start := project.Ticks(rapid.IntRange(0, int((end-1)/grid)).Draw(t, "start")) * grid
	length := grid * project.Ticks(rapid.IntRange(1, 6).Draw(t, "length"))
	return arrange.Note{
		Start: start, Duration: min(length, end-start), Key: rapid.IntRange(60, 63).Draw(t, "key"),
		Division: arrange.Division(rapid.IntRange(0, 2).Draw(t, "division")),
		Limb:     arrange.Limb(rapid.IntRange(0, 3).Draw(t, "limb")),
		Layer:    arrange.Layer(rapid.IntRange(0, 5).Draw(t, "layer")),
	}
}

func TestAnyPerformanceIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRealisation(t)
		p, err := Perform(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		checkPerformance(t, p)
		again, _ := Perform(r, Options{})
		if !reflect.DeepEqual(p, again) {
			t.Fatal("two performances differ")
		}
	})
}

// A note that is played sounds: muting nothing drops nothing.
func TestEveryNoteOfAPlayedBarSounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRealisation(t)
		p, _ := Perform(r, Options{})
		page := newPage(r.Chart, r.Notes)
		type down struct {
			division arrange.Division
			key      int
			at       project.Ticks
		}
		downs := map[down]bool{}
		for _, e := range p.Events {
			if e.Kind == KeyDown {
				downs[down{e.Division, e.Key, e.At}] = true
			}
		}
		for _, n := range r.Notes {
			for _, b := range p.Played {
				if n.Start >= b.Written && n.Start < b.Written+b.Length {
					at := page.bend(n.Start, n.Limb) - b.Written + b.At
					if !downs[down{n.Division, n.Key, at}] {
						t.Fatalf("note %+v is not struck at %d", n, at)
					}
				}
			}
		}
	})
}

func TestCursorFollowsAnyPerformance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRealisation(t)
		p, _ := Perform(r, Options{})
		i := rapid.IntRange(0, len(p.Played)-1).Draw(t, "played")
		b := p.Played[i]
		in := project.Ticks(rapid.IntRange(0, int(b.Length)-1).Draw(t, "in"))
		written, ok := p.WrittenAt(p.SecondsOf(b.At + in))
		if !ok || written < b.Written || written >= b.Written+b.Length {
			t.Fatalf("bar %+v at %d reads as %d, %v", b, in, written, ok)
		}
		seconds, ok := p.SecondsAt(written)
		if back, _ := p.WrittenAt(seconds); !ok || back > written || written-back > 4 {
			t.Fatalf("%d is played at %v s, which reads as %d", written, seconds, back)
		}
	})
}

func BenchmarkPerform(b *testing.B) {
	r := realised("- - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - - -")
	r.Chart.Swing = 0.66
	for i := range 512 {
		for v := range 5 {
			r.Notes = append(r.Notes, note(project.Ticks(i)*q/2, q/2, 50+v*3+i%3))
		}
	}
	for b.Loop() {
		if _, err := Perform(r, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
