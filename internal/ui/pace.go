package ui

import "time"

// pace is how often the cursor and the lit keys move while the transport plays.
// Each movement makes the toolkit draw the whole window again. With a graphics
// card that is nothing, and thirty a second look smooth; drawn by software it
// takes time that the sound and the rest of the machine need. So the pace is
// slowed until the program stays within its share of a core, but not below
// what the eye still takes for movement.
type pace struct {
	between time.Duration // from one movement to the next
	spent   time.Duration // processor time since the last judgement
	passed  time.Duration // time since then
}

const (
	fastestPace = time.Second / 30
	// slowestPace is about the least that still looks like movement.
	slowestPace = time.Second / 12
	// share is the part of one core that playing may take.
	share = 0.30
	// judgedEvery is how long the use of the processor is counted before the
	// pace is judged by it.
	judgedEvery = 400 * time.Millisecond
	// boldest is the largest change of pace at a judgement, as a factor.
	boldest = 1.25
)

func newPace() pace { return pace{between: time.Second / 20} }

// count takes in what passed since the last call: processor time spent by the
// program and time by the clock. Where the system does not tell, spent is 0 and
// the pace becomes the fastest.
func (p *pace) count(spent, passed time.Duration) {
	p.spent, p.passed = p.spent+spent, p.passed+passed
	if p.passed < judgedEvery {
		return
	}
	use := float64(p.spent) / float64(p.passed)
	factor := min(max(use/share, 1/boldest), boldest)
	p.between = min(max(time.Duration(float64(p.between)*factor), fastestPace), slowestPace)
	p.spent, p.passed = 0, 0
}
