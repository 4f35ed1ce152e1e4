package perform

import (
	"slices"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"

	"pgregory.net/rapid"
)

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
		{"the end of a triplet stays too", project.Meter{Beats: 4, Unit: 4}, 4 * q, false,
			[]arrange.Note{note(0, third, 60), note(q/2, q/2, 62)},
			[]played{{60, 0, third}, {62, q / 2, q}}},
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
		a, b := p.Bend(at, 0), p.Bend(at+1, 0)
		if b < a || b-a > 3 {
			t.Fatalf("ticks %d and %d are played at %d and %d", at, at+1, a, b)
		}
		if back := p.Unbend(a, 0); back > at || at-back > 3 {
			t.Fatalf("tick %d is played at %d, which reads back as %d", at, a, back)
		}
	})
}
