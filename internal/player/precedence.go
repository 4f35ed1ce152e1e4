package player

import (
	"runtime"
	"sync/atomic"
	"time"
)

// What sounds goes before what is written to a file. While something sounds,
// renderings leave one processor free: each piece of their work takes a turn,
// and there is one turn fewer than processors. Pieces last less than a
// millisecond with kernels and up to two without, so a rendering gives way as soon as a key is pressed, and has all
// processors again a second after the last sound.

// giveWay is how long after the last sound renderings go on giving way.
const giveWay = time.Second

// precedence is what all players and renderings of the process share.
type precedence struct {
	began    time.Time
	sounding atomic.Int64 // when something sounded last after began; 0 is never
	turns    chan struct{}
}

var liveFirst = newPrecedence(runtime.NumCPU() - 1)

func newPrecedence(turns int) *precedence {
	return &precedence{began: time.Now(), turns: make(chan struct{}, max(1, turns))}
}

// sound notes that something sounds now.
func (p *precedence) sound() { p.sounding.Store(int64(time.Since(p.began)) + 1) }

// asked reports whether renderings are to give way.
func (p *precedence) asked() bool {
	last := p.sounding.Load()
	return last != 0 && time.Since(p.began)-time.Duration(last) < giveWay
}

// work does a piece of a rendering when it is its turn. It must not wait for
// another piece.
func (p *precedence) work(piece func()) {
	if p.asked() {
		p.turns <- struct{}{}
		defer func() { <-p.turns }()
	}
	piece()
}
