package perform

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

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

// TestClicksMarkGroups plays a pickup of three and a bar of seven eighths and one of
// five quarters in twos and threes.
func TestClicksMarkGroups(t *testing.T) {
	r := realised("- - -")
	seven := project.Meter{Beats: 7, Unit: 8}
	r.Chart.Bars[0] = project.Bar{Meter: seven, Length: 3 * q / 2, Unnumbered: true}
	r.Chart.Bars[1] = project.NewBar(seven)
	r.Chart.Bars[2] = project.NewBar(project.Meter{Beats: 5, Unit: 4, Groups: "2+3"})
	p := perform(t, r, Options{})
	marks := func(clicks []Click) (out string) {
		for _, c := range clicks {
			switch {
			case c.Accent && c.Group:
				t.Error("a click is the first of a bar and of another group")
			case c.Accent:
				out += "A"
			case c.Group:
				out += "g"
			default:
				out += "."
			}
		}
		return out
	}
	if got, want := marks(p.Clicks()), "g..A.g.g..A.g.."; got != want {
		t.Errorf("clicks %s, want %s", got, want)
	}
	if got, want := marks(p.CountIn(1, 0)), "A.g.g..A.g."; got != want {
		t.Errorf("the count-in clicks %s, want %s", got, want)
	}
	// Before the third quarter of the last bar: that bar's meter, and two beats of it.
	if got, want := marks(p.CountIn(1, p.SecondsOf(5*q+2*q))), "A.g..A."; got != want {
		t.Errorf("the count-in in the middle clicks %s, want %s", got, want)
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
	in, accents := at(p.CountIn(1, 0))
	want = []project.Ticks{-13 * half, -11 * half, -9 * half, -7 * half, -5 * half, -3 * half, -half}
	if !slices.Equal(in, want) || accents != 2 {
		t.Errorf("count-in at %v with %d accents, want %v with 2", in, accents, want)
	}
	if s := p.CountIn(1, 0)[0].Seconds; s != -3.25 {
		t.Errorf("the count-in starts at %v s, want -3.25", s)
	}
	if len(p.CountIn(0, 0)) != 0 {
		t.Error("a count-in of no bars clicks")
	}
}

// TestSwellGlides plays a passage of two bars twice, from the middle, and with another
// behind it: the pedal goes its way evenly each time, in small steps and nowhere
// else.
func TestSwellGlides(t *testing.T) {
	glide := reeds.GlidingTo(0.9)
	for _, tc := range []struct {
		name, bars string
		o          Options
		first      float64
	}{
		{"repeated", "|: :| -", Options{}, 0.5},
		{"from the second bar", "- - -", Options{FromBar: 1, ToBar: 3}, 0.7},
	} {
		r := realised(tc.bars)
		second := len(r.Chart.Bars) - 1
		r.Chart.Passages = []project.Passage{{Registration: glide}, {First: second, Registration: brass}}
		end := r.Chart.BarStart(second)
		p := perform(t, r, tc.o)
		last, steps := math.NaN(), 0
		for _, e := range setEvents(p) {
			if e.Kind != SetSwell {
				continue
			}
			want := 0.5 + 0.4*float64(e.Written)/float64(end)
			if e.Written >= end {
				want = brass.Swell
			}
			if math.Abs(e.Value-want) > 1e-9 {
				t.Errorf("%s: at %d, written %d, the swell is %g, want %g", tc.name, e.At, e.Written, e.Value, want)
			}
			if math.IsNaN(last) && math.Abs(e.Value-tc.first) > 1e-9 {
				t.Errorf("%s: the swell begins at %g, want %g", tc.name, e.Value, tc.first)
			}
			if rise := e.Value - last; e.Written < end && rise > 0.0101 {
				t.Errorf("%s: the swell leaps by %g", tc.name, rise)
			}
			last, steps = e.Value, steps+1
		}
		if steps < 20 || last != brass.Swell {
			t.Errorf("%s: %d steps, the last to %g", tc.name, steps, last)
		}
	}
}
