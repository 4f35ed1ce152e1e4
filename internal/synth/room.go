package synth

import (
	"fmt"
	"math"
)

// RoomParams describe the room around the speaker.
type RoomParams struct {
	// Size is the length of the room's mean path in metres, 2 to 30.
	Size float64
	// Decay is how long the reverberation takes to fall by 60 dB, in seconds,
	// 0.1 to 2.5.
	Decay float64
	// Damping is what the walls take of high frequencies, 0 (stone) to 1
	// (curtains).
	Damping float64
	// Level is how loud it is at the start, 0 to 1; see SetRoom.
	Level float32
}

// DefaultRoom is a club room.
func DefaultRoom() RoomParams { return RoomParams{Size: 9, Decay: 1.1, Damping: 0.5} }

func (p *RoomParams) check() error {
	switch {
	case !(p.Size >= 2 && p.Size <= 30):
		return fmt.Errorf("room size %g m: expected 2 to 30", p.Size)
	case !(p.Decay >= 0.1 && p.Decay <= 2.5):
		return fmt.Errorf("room decay %g s: expected 0.1 to 2.5", p.Decay)
	case !(p.Damping >= 0 && p.Damping <= 1):
		return fmt.Errorf("room damping %g: expected 0 to 1", p.Damping)
	}
	return nil
}

// room is a feedback delay network (J.-M. Jot and A. Chaigne, "Digital delay
// networks for designing artificial reverberators", 1991): eight delay lines
// whose ends are damped, mixed by a Hadamard matrix and fed back.
type room struct {
	level  ramp
	line   [8][]float32
	at     [8]int
	gain   [8]float32 // of a round through each line
	pass   float32    // of the damping low-pass
	damped [8]float32
	quiet  int // frames of nothing but a trace in and inside
	sleep  int // how many of them empty the room
	empty  bool
	most   float32 // amplitude in and inside during this chunk
}

// roomPaths are the lengths of the lines against the mean path, with no common
// rhythm.
var roomPaths = [8]float64{0.612, 0.731, 0.824, 0.939, 1.063, 1.171, 1.286, 1.374}

// trace is an amplitude 120 dB under full scale, at which the room falls
// silent.
const trace = 1e-6

func (r *room) init(rate int, p RoomParams) {
	for i, share := range roomPaths {
		frames := int(p.Size*share/speedOfSound*float64(rate))*2 | 1 // there and back
		r.line[i] = make([]float32, max(frames, 2))
		r.gain[i] = float32(math.Pow(10, -3*float64(frames)/(p.Decay*float64(rate))))
	}
	corner := 14000 * math.Pow(0.12, p.Damping) // hertz
	r.pass = float32(1 - math.Exp(-2*math.Pi*min(corner, 0.45*float64(rate))/float64(rate)))
	r.sleep = 2 * len(r.line[7])
}

func (r *room) reset(level float32, smooth int) {
	r.level.reset(roomGain(level), smooth)
	r.silence()
}

func (r *room) silence() {
	r.empty, r.quiet, r.most = true, 0, 0
	for i := range r.line {
		clear(r.line[i])
		r.damped[i] = 0
	}
}

// roomGain is the level of the reverberation for a setting of 0 to 1.
func roomGain(v float32) float32 {
	v = clamp01(v)
	return v * v * 0.7
}

// render adds the reverberation of left and right to them.
func (r *room) render(left, right []float32) {
	if r.level.idle(0) {
		if !r.empty {
			r.silence()
		}
		return
	}
	if r.empty && peakOfBoth(left, right) == 0 {
		r.level.skip(len(left))
		return
	}
	r.empty = false
	right = right[:len(left)]
	loudest := r.most
	for i := range left {
		gain := r.level.next()
		a, b, inside := r.frame(left[i], right[i])
		loudest = max(loudest, abs(left[i]), abs(right[i]), inside)
		left[i] += a * gain
		right[i] += b * gain
	}
	r.most = loudest
}

// flush ends a chunk: the room falls silent once nothing but a trace of sound
// has been in it for longer than its longest way.
func (r *room) flush() {
	r.quiet += chunk
	if r.most > trace {
		r.quiet = 0
	}
	r.most = 0
	if !r.empty && r.quiet >= r.sleep {
		r.silence()
	}
}

func peakOfBoth(left, right []float32) (most float32) {
	for i := range left {
		most = max(most, abs(left[i]), abs(right[i]))
	}
	return most
}

// frame lets one frame in and returns what comes back from the left and the
// right, and the amplitude inside.
func (r *room) frame(left, right float32) (a, b, inside float32) {
	var y [8]float32
	for i := range y {
		end := r.line[i][r.at[i]]
		r.damped[i] += r.pass * (end - r.damped[i])
		y[i] = r.damped[i] * r.gain[i]
	}
	a = y[0] - y[2] + y[4] - y[6]
	b = y[1] - y[3] + y[5] - y[7]
	inside = max(abs(y[0]), abs(y[3]), abs(y[5]), abs(y[6]))
	hadamard(&y)
	for i := range y {
		in := left
		if i&1 == 1 {
			in = right
		}
		line, at := r.line[i], r.at[i]
		line[at] = y[i] + in*0.5
		if at++; at == len(line) {
			at = 0
		}
		r.at[i] = at
	}
	return a, b, inside
}

// hadamard multiplies by the Hadamard matrix of order eight, made orthogonal.
func hadamard(y *[8]float32) {
	const norm = 0.35355339 // 1/√8
	a0, a1, a2, a3 := y[0]+y[4], y[1]+y[5], y[2]+y[6], y[3]+y[7]
	a4, a5, a6, a7 := y[0]-y[4], y[1]-y[5], y[2]-y[6], y[3]-y[7]
	b0, b1, b2, b3 := a0+a2, a1+a3, a0-a2, a1-a3
	b4, b5, b6, b7 := a4+a6, a5+a7, a4-a6, a5-a7
	y[0], y[1], y[2], y[3] = (b0+b1)*norm, (b0-b1)*norm, (b2+b3)*norm, (b2-b3)*norm
	y[4], y[5], y[6], y[7] = (b4+b5)*norm, (b4-b5)*norm, (b6+b7)*norm, (b6-b7)*norm
}
