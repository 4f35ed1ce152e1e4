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
// whose ends are damped, mixed by a Hadamard matrix and fed back. All lines
// are longer than a chunk, so each step works on a whole chunk at a time.
type room struct {
	level ramp
	line  [8][]float32 // rings
	at    [8]int       // where the oldest sample is, which the newest replaces
	last  [8]float32   // the sample that left before it
	gain  [8]float32   // of a round through each line
	damp  float32      // part of the sample before that is mixed in: a low-pass
	quiet int          // frames of nothing but a trace in and inside
	sleep int          // how many of them empty the room
	empty bool
	most  float32 // amplitude in and inside during this chunk

	end  [chunk + pad + 1]float32 // what leaves a line, after the sample before
	y    [8][chunk + pad]float32
	send [2][chunk + pad]float32 // what goes in from left and right
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
		r.line[i] = make([]float32, max(frames, chunk+1))
		r.gain[i] = float32(math.Pow(10, -3*float64(frames)/(p.Decay*float64(rate))))
	}
	r.damp = float32(p.Damping) / 2
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
		r.last[i] = 0
	}
}

// roomGain is the level of the reverberation for a setting of 0 to 1.
func roomGain(v float32) float32 {
	v = clamp01(v)
	return v * v * 0.7
}

// render adds the reverberation of left and right to them. The level is that
// of what goes in, so a room that is turned off rings on.
func (r *room) render(left, right []float32) {
	n := len(left)
	if r.level.idle(0) && r.empty {
		return
	}
	level := r.level
	for side, x := range [2][]float32{left, right} {
		r.level = level
		r.level.apply(r.send[side][:copy(r.send[side][:], x)])
	}
	in := max(peak(r.send[0][:n]), peak(r.send[1][:n]))
	if r.empty && in == 0 {
		return
	}
	r.empty = false
	r.most = max(r.most, in)
	r.leave(n)
	r.hear(left, right)
	r.mix()
	r.enter(n)
}

// leave takes n frames from the end of each line, damped.
func (r *room) leave(n int) {
	for i, line := range r.line {
		r.end[0] = r.last[i]
		k := copy(r.end[1:n+1], line[r.at[i]:])
		copy(r.end[k+1:n+1], line)
		r.last[i] = r.end[n]
		shade(r.y[i][:n], r.end[1:], r.end[:], r.gain[i]*(1-r.damp), 0, r.gain[i]*r.damp, 0, 0)
	}
}

// hear adds what comes back to the listener from the ends of the lines.
func (r *room) hear(left, right []float32) {
	n := len(left)
	for i := range r.y {
		x := left
		if i&1 == 1 {
			x = right
		}
		mix(x, r.y[i][:n], 1-float32(i&2))
	}
	for _, i := range [4]int{0, 3, 5, 6} {
		r.most = max(r.most, peak(r.y[i][:n]))
	}
}

// mix multiplies by the Hadamard matrix of order eight, but for its norm.
func (r *room) mix() {
	for step := 1; step < 8; step *= 2 {
		for i := range 8 {
			if i&step == 0 {
				butterfly(r.y[i][:chunk], r.y[i+step][:chunk])
			}
		}
	}
}

// enter feeds the lines.
func (r *room) enter(n int) {
	const norm = 0.35355339 // 1/√8 makes the matrix orthogonal
	for i, line := range r.line {
		shade(r.end[:n], r.y[i][:], r.send[i&1][:], norm, 0, 0.5, 0, 0)
		k := copy(line[r.at[i]:], r.end[:n])
		copy(line, r.end[k:n])
		if r.at[i] += n; r.at[i] >= len(line) {
			r.at[i] -= len(line)
		}
	}
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
