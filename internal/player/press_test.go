package player

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/player/playertest"
)

// From a key to its sound, as a recorder at the null sink hears it.

// presses is how many keys are pressed for a measurement, pressPause the least
// time between two.
const (
	presses    = 24
	pressPause = 200 * time.Millisecond
)

// pressed is what the process that presses keys tells: when it did.
type pressed struct {
	At     []time.Time
	Status Status
}

// pressKeys presses a key again and again with the given buffers and writes
// when it did to standard output.
func pressKeys(profile string) {
	var ms int
	var p Profile
	fmt.Sscan(profile, &ms, &p.Buffer, &p.Read)
	p.Device = time.Duration(ms) * time.Millisecond
	player := New(Options{Click: -1, Profile: p, calm: time.Second})
	defer player.Close()
	for !player.Status().Settled {
		time.Sleep(10 * time.Millisecond)
	}
	player.SetRegistration(&flute)
	time.Sleep(time.Second)
	var r pressed
	for i := range presses {
		// Not in step with the device.
		time.Sleep(pressPause + time.Duration(i*1777)*time.Microsecond)
		r.At = append(r.At, time.Now())
		player.LiveKey(arrange.Upper, 72, true)
		time.Sleep(60 * time.Millisecond)
		player.LiveKey(arrange.Upper, 72, false)
	}
	time.Sleep(pressPause)
	r.Status = player.Status()
	json.NewEncoder(os.Stdout).Encode(r)
}

// listen hears the null sink's monitor until the test ends.
func (s *soundServer) listen(t testing.TB) *playertest.Listener {
	t.Helper()
	l, err := playertest.Listen(s.env, "null0.monitor")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(l.Stop)
	time.Sleep(500 * time.Millisecond)
	return l
}

// playSamples has the server itself sound a noise it holds: what it and the
// recorder take for themselves. It returns when it was told to.
func (s *soundServer) playSamples(t testing.TB) (at []time.Time) {
	t.Helper()
	noise := make([]byte, 2*second/20)
	for i := 0; i < len(noise); i += 2 {
		binary.LittleEndian.PutUint16(noise[i:], uint16(8000-16000*(i/2%2)))
	}
	header := make([]byte, 44)
	copy(header, "RIFF\x00\x00\x00\x00WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00")
	binary.LittleEndian.PutUint32(header[4:], uint32(36+len(noise)))
	binary.LittleEndian.PutUint32(header[24:], second)
	binary.LittleEndian.PutUint32(header[28:], 2*second)
	copy(header[32:], "\x02\x00\x10\x00data")
	binary.LittleEndian.PutUint32(header[40:], uint32(len(noise)))
	s.write(t, "noise.wav", string(header)+string(noise))
	c, err := net.Dial("unix", filepath.Join(s.dir, "cli"))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	go io.Copy(io.Discard, c)
	fmt.Fprintf(c, "load-sample noise %s\n", filepath.Join(s.dir, "noise.wav"))
	time.Sleep(500 * time.Millisecond)
	for i := range presses {
		time.Sleep(pressPause + time.Duration(i*1777)*time.Microsecond)
		at = append(at, time.Now())
		fmt.Fprintln(c, "play-sample noise null0")
	}
	time.Sleep(pressPause)
	return at
}

// BenchmarkSoundOfAKey measures from a live key to its sound at the null sink
// with each of the buffers to choose from, and how much of that the server and
// the recorder take.
func BenchmarkSoundOfAKey(b *testing.B) {
	needSoundServer(b)
	server := startServer(b)
	l := server.listen(b)
	tell := func(b *testing.B, ms []float64) {
		if len(ms) < presses/2 {
			b.Fatalf("only %d of %d sounds heard", len(ms), presses)
		}
		b.ReportMetric(ms[len(ms)/2], "ms-median")
		b.ReportMetric(ms[0], "ms-least")
		b.ReportMetric(ms[len(ms)-1], "ms-most")
		b.ReportMetric(0, "ns/op")
	}
	b.Run("server and recorder", func(b *testing.B) {
		for b.Loop() {
			tell(b, l.Delays(server.playSamples(b), pressPause))
		}
	})
	for _, buffers := range buffersToPress() {
		b.Run(buffers.name, func(b *testing.B) {
			for b.Loop() {
				var r pressed
				p := buffers.profile
				server.play(b, fmt.Sprintf("press %d %d %d", p.Device.Milliseconds(), p.Buffer, p.Read), &r)
				tell(b, l.Delays(r.At, pressPause))
				b.ReportMetric(float64(r.Status.Late), "late")
			}
		})
	}
}

// namedProfile is buffers with what they are called.
type namedProfile struct {
	name    string
	profile Profile
}

// buffersToPress lists the buffers to choose from, or those that
// ORGANBOOK_SOUND_BUFFERS gives in ms of the device, frames, and frames a read.
func buffersToPress() []namedProfile {
	text := os.Getenv("ORGANBOOK_SOUND_BUFFERS")
	if text == "" {
		return []namedProfile{{"shortest", ShortestProfile}, {"short", ShortProfile}, {"usual", LiveProfile}, {"safe", SafeProfile}}
	}
	var ms int
	var p Profile
	fmt.Sscan(text, &ms, &p.Buffer, &p.Read)
	p.Device = time.Duration(ms) * time.Millisecond
	return []namedProfile{{text, p}}
}
