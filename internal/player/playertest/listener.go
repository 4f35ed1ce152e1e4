// Package playertest hears what tests play at the monitor of a sound server's
// sink.
package playertest

import (
	"encoding/binary"
	"io"
	"math"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"sync"
	"time"
)

// Listener notes when each sound begins that a recorder hears.
type Listener struct {
	mu     sync.Mutex
	onsets []time.Time
	quiet  int // frames of silence until now
	stop   func()
}

// prompt runs a command before all others where that is permitted, for a recorder
// that waits for a processor would count as sound that comes late. The thread that
// hears it goes first likewise.
const prompt = `chrt --rr --pid 5 $$ >/dev/null 2>/dev/null; exec "$@"`

// Listen starts a recorder at a monitor, in the environment of its server, and
// hears it until Stop. It hears every two milliseconds.
func Listen(env []string, monitor string) (*Listener, error) {
	c := exec.Command("sh", "-c", prompt, "sh", "parec", "--raw", "--latency-msec=2", "-d", monitor, "--format=float32le", "--rate=48000", "--channels=1")
	c.Env = env
	from, to, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	c.Stdout = to
	err = c.Start()
	to.Close()
	if err != nil {
		from.Close()
		return nil, err
	}
	l := &Listener{}
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer from.Close()
		runtime.LockOSThread() // never unlocked, so the thread ends with the goroutine
		goFirst()
		from.Fd() // from here on reading blocks in the thread itself, not in the poller
		l.hear(from)
	}()
	l.stop = func() {
		c.Process.Kill()
		<-done
		c.Wait()
	}
	return l, nil
}

// Stop ends the recorder.
func (l *Listener) Stop() { l.stop() }

func (l *Listener) hear(r io.Reader) {
	block := make([]byte, 1<<14)
	kept := 0
	for {
		n, err := r.Read(block[kept:])
		if err != nil {
			return
		}
		now := time.Now()
		n += kept
		for i := 0; i+4 <= n; i += 4 {
			l.take(math.Float32frombits(binary.LittleEndian.Uint32(block[i:])), now)
		}
		kept = copy(block, block[n&^3:n])
	}
}

// A sound is an amplitude of audible after so many quiet frames: 50 ms. A single key
// of a soft registration has a peak of 0.01 and does not reach that at once.
const (
	audible     = 0.002
	quietFrames = 2400
)

// take notes an onset.
func (l *Listener) take(v float32, now time.Time) {
	if v < audible && v > -audible {
		l.quiet++
		return
	}
	if l.quiet > quietFrames {
		l.mu.Lock()
		l.onsets = append(l.onsets, now)
		l.mu.Unlock()
	}
	l.quiet = 0
}

// Delays returns, in milliseconds and in order, how long after each press the
// next sound began, of those that began within a time.
func (l *Listener) Delays(presses []time.Time, within time.Duration) (ms []float64) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, at := range presses {
		for _, o := range l.onsets {
			if d := o.Sub(at); d > 0 && d < within {
				ms = append(ms, d.Seconds()*1000)
				break
			}
		}
	}
	slices.Sort(ms)
	return ms
}
