package player

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"organbook/internal/arrange"
)

// holdKey holds a key down, and reports its status each time that changes,
// until its input ends.
func holdKey() {
	p := New(Options{Profile: SafeProfile, Click: -1})
	defer p.Close()
	p.SetRegistration(&flute)
	p.KeyDown(arrange.Upper, 69)
	ended := make(chan struct{})
	go func() {
		os.Stdin.Read(make([]byte, 1))
		close(ended)
	}()
	out := json.NewEncoder(os.Stdout)
	last := Status{Err: "not yet"}
	for {
		if s := p.Status(); s.Device != last.Device || s.Err != last.Err {
			out.Encode(s)
			last = s
		}
		select {
		case <-ended:
			return
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// TestSoundComesBack kills the sound server under a sounding player, twice,
// and starts it again: the sound comes back by itself.
func TestSoundComesBack(t *testing.T) {
	needSoundServer(t)
	server := startServer(t)
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(program)
	c.Env = append(server.env, soundChildEnv+"=hold")
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() {
		in.Close()
		c.Wait()
	}()
	told := make(chan Status, 100)
	go func() {
		for d := json.NewDecoder(out); ; {
			var s Status
			if d.Decode(&s) != nil {
				return
			}
			told <- s
		}
	}()
	await := func(device bool, within time.Duration) Status {
		t.Helper()
		for limit := time.After(within); ; {
			select {
			case s := <-told:
				if s.Settled && s.Device == device {
					return s
				}
			case <-limit:
				t.Fatalf("no status with device %v within %v", device, within)
			}
		}
	}
	await(true, 5*time.Second)
	for round := range 2 {
		server.stop()
		began := time.Now()
		s := await(false, 10*time.Second)
		t.Logf("loss %d seen after %v: %s", round+1, time.Since(began).Round(time.Millisecond), s.Err)
		time.Sleep(3 * time.Second) // long enough for a look in vain
		server.run(t)
		began = time.Now()
		await(true, 10*time.Second)
		t.Logf("back after %v", time.Since(began).Round(time.Millisecond))
		os.Remove(filepath.Join(server.dir, "recording.f32"))
		recording := server.record(t)
		time.Sleep(1500 * time.Millisecond)
		sound := readFloats(t, recording)
		if n := len(sound); n < second || !sounds(sound[n/2:n&^1], 69) {
			t.Fatalf("round %d: of the key held nothing is heard in %d samples", round+1, n)
		}
	}
}

// changeBuffers holds a key down with each of the buffers in turn.
func changeBuffers() {
	p := New(Options{Click: -1})
	defer p.Close()
	p.SetRegistration(&flute)
	p.KeyDown(arrange.Upper, 69)
	for _, profile := range []Profile{LiveProfile, ShortProfile, SafeProfile, ShortestProfile, LiveProfile} {
		p.SetProfile(profile)
		time.Sleep(time.Second)
	}
	json.NewEncoder(os.Stdout).Encode(p.Status())
}

// TestSoundBuffersChange changes the buffers of a real device under a held key:
// it sounds in each second, and what is missing between is short.
func TestSoundBuffersChange(t *testing.T) {
	needSoundServer(t)
	server := startServer(t)
	recording := server.record(t)
	var s Status
	server.play(t, "change", &s)
	if !s.Device || s.Lost != 0 {
		t.Errorf("status at the end: %+v", s)
	}
	sound := readFloats(t, recording)
	for len(sound) > 0 && sound[0] == 0 {
		sound = sound[1:]
	}
	silent := 0
	for _, v := range sound[:min(len(sound), 9*second)] {
		if v == 0 {
			silent++
		}
	}
	t.Logf("%.2f s of %.2f s are silent; %d late reads", float64(silent)/2/second, float64(len(sound))/2/second, s.Late)
	for at := 0; at < 4; at++ {
		if from := 2 * second * at; len(sound) < from+2*second || !sounds(sound[from:from+2*second], 69) {
			t.Errorf("nothing is heard in second %d", at+1)
		}
	}
}
