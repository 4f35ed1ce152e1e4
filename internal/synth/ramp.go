package synth

import "math"

// ramp moves a gain to its target in a straight line over a fixed number of
// frames. The value is computed backwards from the target, so that it does not
// depend on how the frames are cut into blocks.
type ramp struct {
	target, step float32
	left, length int
}

func (r *ramp) reset(v float32, length int) {
	*r = ramp{target: v, length: max(length, 1)}
}

// to aims at v from wherever the ramp is now.
func (r *ramp) to(v float32) {
	now := r.now()
	if v == r.target && r.left == 0 {
		return
	}
	r.target, r.left = v, r.length
	r.step = (v - now) / float32(r.length)
}

func (r *ramp) now() float32 { return r.target - r.step*float32(r.left) }

// next returns the gain of one more frame.
func (r *ramp) next() float32 {
	if r.left > 0 {
		r.left--
	}
	return r.now()
}

// skip lets n frames pass.
func (r *ramp) skip(n int) { r.left = max(0, r.left-n) }

// idle reports whether the gain stays at v.
func (r *ramp) idle(v float32) bool { return r.left == 0 && r.target == v }

func (r *ramp) apply(x []float32) {
	for i := 0; i < len(x); i++ {
		if r.left == 0 {
			scale(x[i:], r.target)
			return
		}
		x[i] *= r.next()
	}
}

func (r *ramp) applyStereo(left, right []float32) {
	right = right[:len(left)]
	for i := range left {
		if r.left == 0 {
			scale(left[i:], r.target)
			scale(right[i:], r.target)
			return
		}
		g := r.next()
		left[i] *= g
		right[i] *= g
	}
}

// decibels returns the amplitude of a level.
func decibels(db float64) float32 { return float32(math.Pow(10, db/20)) }

// clamp01 brings v into 0 to 1; not-a-number becomes 0.
func clamp01(v float32) float32 {
	if v > 0 {
		return min(v, 1)
	}
	return 0
}
