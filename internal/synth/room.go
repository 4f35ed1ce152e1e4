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

// The range of a room; see RoomParams.
const (
	minRoomSize, maxRoomSize   = 2, 30
	minRoomDecay, maxRoomDecay = 0.1, 2.5
)

// DefaultRoom is a club room.
func DefaultRoom() RoomParams { return RoomParams{Size: 9, Decay: 1.1, Damping: 0.5} }

func (p *RoomParams) check() error {
	switch {
	case !(p.Size >= minRoomSize && p.Size <= maxRoomSize):
		return fmt.Errorf("room size %g m: expected 2 to 30", p.Size)
	case !(p.Decay >= minRoomDecay && p.Decay <= maxRoomDecay):
		return fmt.Errorf("room decay %g s: expected 0.1 to 2.5", p.Decay)
	case !(p.Damping >= 0 && p.Damping <= 1):
		return fmt.Errorf("room damping %g: expected 0 to 1", p.Damping)
	}
	return nil
}

// room is a feedback delay network (J.-M. Jot and A. Chaigne, "Digital delay
// networks for designing artificial reverberators", 1991): eight delay lines
// whose ends are damped, mixed by a Hadamard matrix and fed back. All lines
// are longer than a chunk, so that a whole chunk passes at a time.
//
// All lines are rings of the same length, so that all are written at the same
// place. A ring goes on for a chunk beyond its end, where its start is
// repeated: no chunk wraps.
type room struct {
	rate   int
	params RoomParams
	level  ramp
	heard  ramp      // fades out while the size changes
	memory []float32 // all rings
	ring   int       // length of each
	stride int       // from one to the next
	delay  [8]int
	at     int         // where the next sample goes
	lines  [8]roomLine // of the chunk that passes
	wanted [8]roomLine // what their gains move to
	size   float64     // of the lines as they are
	quiet  int         // frames of nothing but a trace in and inside
	sleep  int         // how many of them empty the room
	empty  bool
	most   float32 // amplitude in and inside during this chunk

	send [2][chunk + pad]float32 // what goes in from left and right
	wet  [2][chunk + pad]float32 // what is heard while it fades
	y    [8][chunk + pad]float32 // the lines on their way through the matrix
}

// roomLine is where a line is read (one sample early, for the damping) and
// written, and the parts of the sample and the one before in what leaves it.
// roomAVX2 knows this layout.
type roomLine struct {
	from, to    int
	now, before float32
}

// roomPaths are the lengths of the lines against the mean path, with no common
// rhythm.
var roomPaths = [8]float64{0.612, 0.731, 0.824, 0.939, 1.063, 1.171, 1.286, 1.374}

// trace is an amplitude 120 dB under full scale, at which the room falls
// silent.
const trace = 1e-6

func (r *room) init(rate int) {
	r.rate = rate
	longest := lineLength(maxRoomSize, 7, rate)
	r.ring = (longest+1+2*pad)/chunk*chunk + 2*chunk
	// Lines that lie whole pages apart would push each other out of the cache.
	r.stride = r.ring + chunk + 3*pad
	r.memory = make([]float32, 8*r.stride)
}

// lineLength is the length in frames of a line of a room of some metres.
func lineLength(size float64, line, rate int) int {
	frames := int(size*roomPaths[line]/speedOfSound*float64(rate))*2 | 1 // there and back
	return max(frames, chunk+pad+1)
}

func (r *room) reset(p RoomParams, smooth int) {
	r.level.reset(roomGain(p.Level), smooth)
	r.heard.reset(1, smooth)
	r.params, r.size = p, p.Size
	r.measure()
	r.lines = r.wanted
	r.silence()
}

// measure works out the lines' lengths, and the gains they move to.
func (r *room) measure() {
	damp := float32(r.params.Damping) / 2
	for i := range r.delay {
		r.delay[i] = lineLength(r.size, i, r.rate)
		// The matrix below is the orthogonal one times √8.
		gain := float32(math.Pow(10, -3*float64(r.delay[i])/(r.params.Decay*float64(r.rate)))) / math.Sqrt2 / 2
		r.wanted[i].now, r.wanted[i].before = gain*(1-damp), gain*damp
	}
	r.sleep = 2 * r.delay[7]
}

// change makes it another room. The level is changed elsewhere. Where the size
// changes, what rings fades first; see flush.
func (r *room) change(p RoomParams) {
	if p == r.params {
		return
	}
	r.params = p
	if p.Size != r.size {
		r.heard.to(0)
		return
	}
	r.heard.to(1)
	r.measure()
}

func (r *room) silence() {
	r.empty, r.quiet, r.most, r.at = true, 0, 0, 0
	clear(r.memory)
}

// roomGain is the level of what goes into the lines for a setting of 0 to 1.
func roomGain(v float32) float32 {
	v = clamp01(v)
	return v * v * 0.7 * math.Sqrt2
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
	r.place()
	if r.heard.idle(1) {
		r.pass(left, right)
	} else {
		a, b := r.wet[0][:n], r.wet[1][:n]
		clear(a)
		clear(b)
		r.pass(a, b)
		r.heard.applyStereo(a, b)
		mix(left, a, 1)
		mix(right, b, 1)
	}
	r.close(n)
}

// place finds where each line is read and written.
func (r *room) place() {
	for i := range r.lines {
		from := r.at - r.delay[i] - 1
		if from < 0 {
			from += r.ring
		}
		r.lines[i].from, r.lines[i].to = i*r.stride+from, i*r.stride+r.at
	}
}

// pass lets a chunk through: the ends of the lines are damped, those of each
// side are heard, and the matrix feeds them back together with what goes in.
func (r *room) pass(left, right []float32) {
	n := len(left)
	if vectors {
		roomAVX2(&left[0], &right[0], &r.send[0][0], &r.send[1][0], n, &r.memory[0], &r.lines[0])
		return
	}
	r.leave(0, left)
	r.leave(1, right)
	for i := 0; i < 8; i += 2 {
		r.enter(i, n)
	}
}

// leave takes the ends of the four lines of a side, damped, through the first
// two of the three steps of the matrix (a fast Hadamard transform). After them
// the second holds the sum that is heard.
func (r *room) leave(side int, out []float32) {
	n := len(out)
	a, b, c, d := &r.lines[side], &r.lines[side+2], &r.lines[side+4], &r.lines[side+6]
	xa, xb, xc, xd := r.memory[a.from:][:n+1], r.memory[b.from:][:n+1], r.memory[c.from:][:n+1], r.memory[d.from:][:n+1]
	ya, yb, yc, yd := r.y[side][:n], r.y[side+2][:n], r.y[side+4][:n], r.y[side+6][:n]
	pa, pb, pc, pd := xa[0], xb[0], xc[0], xd[0]
	xa, xb, xc, xd = xa[1:][:n], xb[1:][:n], xc[1:][:n], xd[1:][:n]
	for i := range out {
		va, vb := a.now*xa[i]+a.before*pa, b.now*xb[i]+b.before*pb
		vc, vd := c.now*xc[i]+c.before*pc, d.now*xd[i]+d.before*pd
		pa, pb, pc, pd = xa[i], xb[i], xc[i], xd[i]
		va, vb = va+vb, va-vb
		vc, vd = vc+vd, vc-vd
		out[i] += vb + vd
		ya[i], yb[i], yc[i], yd[i] = va+vc, vb+vd, va-vc, vb-vd
	}
}

// enter does the last step for a line of the left and the one beside it, and
// feeds them.
func (r *room) enter(i, n int) {
	a, b := r.memory[r.lines[i].to:][:n], r.memory[r.lines[i+1].to:][:n]
	x, y := r.y[i][:n], r.y[i+1][:n]
	left, right := r.send[0][:n], r.send[1][:n]
	for k, v := range x {
		a[k], b[k] = v+y[k]+left[k], v-y[k]+right[k]
	}
}

// close ends a pass of n frames: each ring repeats its start beyond its end.
func (r *room) close(n int) {
	end := r.at + n
	for i := range r.lines {
		ring := r.memory[i*r.stride : (i+1)*r.stride]
		if end > r.ring {
			copy(ring, ring[r.ring:end])
		}
		if r.at < chunk+pad {
			copy(ring[r.ring+r.at:], ring[r.at:min(end, chunk+pad)])
		}
		if r.most <= trace {
			r.most = max(r.most, r.loudest(ring[r.at:end]))
		}
	}
	if r.at = end; r.at >= r.ring {
		r.at -= r.ring
	}
}

// loudest is peak for any length.
func (r *room) loudest(x []float32) float32 {
	whole := len(x) &^ 7
	most := peak(x[:whole])
	for _, v := range x[whole:] {
		most = max(most, abs(v))
	}
	return most
}

// flush ends a chunk: the gains move on, a room that has faded takes its new
// size, and one falls silent once nothing but a trace of sound has been in it
// for longer than its longest way.
func (r *room) flush() {
	r.quiet += chunk
	if r.most > trace {
		r.quiet = 0
	}
	r.most = 0
	if !r.empty && r.quiet >= r.sleep {
		r.silence()
	}
	if r.size != r.params.Size && (r.empty || r.heard.idle(0)) {
		r.silence()
		r.size = r.params.Size
		r.measure()
		r.lines = r.wanted
		r.heard.reset(1, r.heard.length)
		level := r.level.target
		r.level.reset(0, r.level.length) // what goes in begins softly, too
		r.level.to(level)
	}
	for i := range r.lines {
		l, w := &r.lines[i], &r.wanted[i]
		l.now = approach(l.now, w.now)
		l.before = approach(l.before, w.before)
	}
}

// approach covers a twentieth of the way.
func approach(from, to float32) float32 {
	if abs(to-from) < 1e-6 {
		return to
	}
	return from + (to-from)/20
}
