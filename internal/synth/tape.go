package synth

// tape is the recent past of a signal, in one piece: what is recorded lies
// behind at least history samples that came before. Only when its end is
// reached is the history copied back to the start, so that recording costs
// next to nothing.
type tape struct {
	x       []float32
	history int
	at      int // where the next sample goes
}

// tapeChunks is how many chunks fit before the history is copied. Few keep
// the tapes of all stages in the first-level cache.
const tapeChunks = 6

func (t *tape) init(history int) {
	t.history = history
	t.x = make([]float32, history+tapeChunks*chunk+pad)
	t.at = history
}

func (t *tape) reset() {
	clear(t.x)
	t.at = t.history
}

// room returns the index at which up to a chunk can be written.
func (t *tape) room() int {
	if t.at+chunk+pad > len(t.x) {
		copy(t.x, t.x[t.at-t.history:t.at])
		t.at = t.history
	}
	return t.at
}

// record appends x and returns the index of its first sample.
func (t *tape) record(x []float32) int {
	at := t.room()
	copy(t.x[at:], x)
	t.at = at + len(x)
	return at
}
