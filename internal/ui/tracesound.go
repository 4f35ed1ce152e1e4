package ui

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"time"

	"fyne.io/fyne/v2"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// overheard is a sound that writes into the trace when it was asked for something
// that is played by hand.
type overheard struct {
	session.Sound
	t *trace
}

// overhear puts itself between a session and its sound where there is a trace.
func (t *trace) overhear(s session.Sound) session.Sound {
	if t == nil || s == nil {
		return s
	}
	return overheard{s, t}
}

func (o overheard) Audition(d arrange.Division, keys []int, r project.Registration) error {
	err := o.Sound.Audition(d, keys, r)
	o.t.asked("block")
	return err
}

func (o overheard) Hold(d arrange.Division, key int, down bool) {
	o.Sound.Hold(d, key, down)
	if down {
		o.t.asked("key")
	}
}

func (t *trace) asked(what string) { fmt.Fprintln(t.out, "asked", time.Now().UnixNano(), what) }

// readsVariable names the file that every answer to the sound device is written
// to while the window is traced: a line of when it asked, in nanoseconds since
// 1970, the first frame of the stream it was given, how many frames, the left
// sample of the first, and how many nanoseconds rendering took. A recording
// can be compared with it to the sample.
const readsVariable = "ORGANBOOK_TRACE_READS"

// hearing is how soon the trace notices what has happened to the sound.
const hearing = 100 * time.Millisecond

// hear writes how the sound keeps up, whenever that has changed, until the
// program ends.
func (t *trace) hear(p *player.Player) {
	reads := newReadTrace(p)
	for range time.Tick(hearing) {
		reads.write(p)
		t.sound(p.Status())
	}
}

// sound writes the state of the sound if it differs from the last:
//
//	sound device=true late=0 starved=0 lost=0 longest=0.9 waited=12.1 buffer=10
//
// with the longest rendering, the longest wait between two reads and the length of
// the device's buffer, in ms.
func (t *trace) sound(s player.Status) {
	line := fmt.Sprintf("sound device=%t late=%d starved=%d lost=%d longest=%.1f waited=%.1f buffer=%.0f",
		s.Device, s.Late, s.Starved, s.Lost, milliseconds(s.Longest), milliseconds(s.Waited), milliseconds(s.Buffers.Device))
	if line != t.lastSound {
		t.lastSound = line
		fmt.Fprintln(t.out, line)
	}
}

// readTrace writes reads to a file; its zero value writes nothing.
type readTrace struct {
	out  *bufio.Writer
	list [256]player.Read
}

func newReadTrace(p *player.Player) *readTrace {
	path := os.Getenv(readsVariable)
	if path == "" {
		return &readTrace{}
	}
	f, err := os.Create(path)
	if err != nil {
		fyne.LogError("tracing reads", err)
		return &readTrace{}
	}
	p.WatchReads()
	return &readTrace{out: bufio.NewWriter(f)}
}

func (r *readTrace) write(p *player.Player) {
	if r.out == nil {
		return
	}
	for n := p.TakeReads(r.list[:]); n > 0; n = p.TakeReads(r.list[:]) {
		writeReads(r.out, r.list[:n])
	}
	r.out.Flush()
}

func writeReads(out io.Writer, list []player.Read) {
	for _, r := range list {
		fmt.Fprintln(out, r.At.UnixNano(), r.Frame, r.Frames, r.Sample, r.Took.Nanoseconds())
	}
}
