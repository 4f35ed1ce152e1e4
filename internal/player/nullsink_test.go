package player

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// The real way to the ear: a private sound server with a null sink, the player
// in a process of its own, and a recorder at the sink. It runs where
// ORGANBOOK_SOUND_TEST is 1 and the server and its recorder are installed.

const (
	soundTestEnv = "ORGANBOOK_SOUND_TEST"
	// soundChildEnv makes this program the player, with the profile it names.
	soundChildEnv = "ORGANBOOK_SOUND_CHILD"
)

var profiles = map[string]Profile{"live": LiveProfile, "playback": SafeProfile}

func TestMain(m *testing.M) {
	if profile, ok := profiles[os.Getenv(soundChildEnv)]; ok {
		playForRecorder(profile)
		return
	}
	if p, ok := strings.CutPrefix(os.Getenv(soundChildEnv), "press "); ok {
		pressKeys(p)
		return
	}
	switch os.Getenv(soundChildEnv) {
	case "hold":
		holdKey()
		return
	case "beside":
		playBeside()
		return
	case "change":
		changeBuffers()
		return
	}
	if minutes, ok := strings.CutPrefix(os.Getenv(soundChildEnv), "demo"); ok {
		length, _ := strconv.ParseFloat(strings.TrimSpace(minutes), 64)
		if err := playDemo(length); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// report is what the playing process tells about itself.
type report struct {
	Status    Status
	Positions [][2]float64 // seconds since Play, second of the score
}

// chords are three bars of two seconds each, for the recording.
var chords = [][]int{{60, 64, 68}, {48, 72, 76}, {56, 64, 80}}

// playForRecorder plays the chords through the sound card and writes its
// report to standard output.
func playForRecorder(profile Profile) {
	var r report
	New(Options{Profile: profile}).Close() // a player may be opened after another was closed
	p := New(Options{Click: -1, Profile: profile})
	defer p.Close()
	for !p.Status().Settled {
		time.Sleep(10 * time.Millisecond)
	}
	perf, err := fourBars(chordNotes())
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	p.Load(perf)
	time.Sleep(300 * time.Millisecond)
	p.Play(0)
	for began := time.Now(); time.Since(began) < 7*time.Second; time.Sleep(33 * time.Millisecond) {
		if at, moving := p.Position(); moving {
			r.Positions = append(r.Positions, [2]float64{time.Since(began).Seconds(), at})
		}
	}
	r.Status = p.Status()
	json.NewEncoder(os.Stdout).Encode(r)
}

func chordNotes() (notes []arrange.Note) {
	for i, keys := range chords {
		for _, k := range keys {
			notes = append(notes, played(4*q*project.Ticks(i), 4*q, arrange.Upper, arrange.LayerBlock, k))
		}
	}
	return notes
}

func TestThroughTheSoundServer(t *testing.T) {
	needSoundServer(t)
	t.Run("playback", func(t *testing.T) { hear(t, "playback", 0.25) })
	t.Run("live", func(t *testing.T) { hear(t, "live", 0.1) })
}

// hear plays with a profile, looks for the chords in what is recorded, gaps cut
// out, and for a position that lags at most some seconds. A machine that keeps
// the sound waiting lengthens the buffers and with them the lag, so that is
// asked again, and of a machine in time only.
func hear(t *testing.T, profile string, lag float64) {
	t.Helper()
	for range 3 {
		server := startServer(t)
		recording := server.record(t)
		var r report
		server.play(t, profile, &r)
		if !r.Status.Device {
			t.Fatalf("no device: %s", r.Status.Err)
		}
		time.Sleep(200 * time.Millisecond)
		sound, gaps := withoutGaps(readFloats(t, recording))
		checkSound(t, trim(t, sound))
		least, most := lags(t, r)
		t.Logf("the heard lags behind Play by %.0f to %.0f ms; late reads: %d, gaps: %d", 1000*least, 1000*most, r.Status.Late, gaps)
		if least >= 0 && most <= lag && most-least <= 0.06 {
			return
		}
		if gaps == 0 && r.Status.Late == 0 {
			t.Errorf("the heard lags behind Play by %.3f to %.3f s", least, most)
		}
	}
}

// lags returns how far the position is behind Play, once it has leaned to the
// device: nine in ten lie between, for the one who asks may be kept waiting too.
// The cursor must never go back.
func lags(t *testing.T, r report) (least, most float64) {
	t.Helper()
	if len(r.Positions) < 60 {
		t.Fatalf("%d positions, want at least 60", len(r.Positions))
	}
	var all []float64
	for i, p := range r.Positions {
		if i > 0 && p[1] < r.Positions[i-1][1] {
			t.Errorf("the cursor goes back from %.4f to %.4f", r.Positions[i-1][1], p[1])
		}
		if i > 10 {
			all = append(all, p[0]-p[1])
		}
	}
	slices.Sort(all)
	return all[len(all)/20], all[len(all)*19/20]
}

// trim returns the six seconds from the first sound on.
func trim(t *testing.T, stereo []float32) []float32 {
	t.Helper()
	first := 0
	for first < len(stereo)/2 && math.Abs(float64(stereo[2*first])) < 1e-3 {
		first++
	}
	if len(stereo)/2-first < 6*second {
		t.Fatalf("%.2f s of sound recorded, want 6", float64(len(stereo)/2-first)/second)
	}
	return stereo[2*first : 2*(first+6*second)]
}

// checkSound looks for each chord's keys in the middle of its bar and at the
// level.
func checkSound(t *testing.T, stereo []float32) {
	t.Helper()
	for i, keys := range chords {
		bar := stereo[2*2*second*i : 2*2*second*(i+1)]
		expect(t, fmt.Sprintf("bar %d", i+1), bar[second/2:2*2*second-second/2], keys...)
	}
	if level := rmsOf(stereo); level < 0.01 || level > 0.2 {
		t.Errorf("level %.4f RMS", level)
	}
}

// withoutGaps cuts out where both channels are exactly zero for a while, after
// the sound has begun and before it ends, and counts these places.
func withoutGaps(stereo []float32) (sound []float32, gaps int) {
	zeros := 0
	cut := func() {
		if zeros >= 8 {
			sound = sound[:len(sound)-2*zeros]
			gaps++
		}
		zeros = 0
	}
	for i := 0; i+1 < len(stereo); i += 2 {
		l, r := stereo[i], stereo[i+1]
		if l == 0 && r == 0 {
			if len(sound) > 0 {
				sound = append(sound, l, r)
				zeros++
			}
			continue
		}
		cut()
		sound = append(sound, l, r)
	}
	return sound, gaps
}

// soundServer is a private sound server in its own directory.
type soundServer struct {
	dir     string
	env     []string
	process *exec.Cmd
}

func startServer(t testing.TB) *soundServer {
	t.Helper()
	s := &soundServer{dir: t.TempDir()}
	if err := os.Chmod(s.dir, 0o700); err != nil {
		t.Fatal(err)
	}
	for _, d := range []string{"pulse", "state"} {
		if err := os.Mkdir(filepath.Join(s.dir, d), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	socket := filepath.Join(s.dir, "native")
	s.env = append(withoutEnv(os.Environ(), "DBUS_SESSION_BUS_ADDRESS"),
		"HOME="+s.dir, "XDG_RUNTIME_DIR="+s.dir, "PULSE_RUNTIME_PATH="+filepath.Join(s.dir, "pulse"),
		"PULSE_STATE_PATH="+filepath.Join(s.dir, "state"), "PULSE_COOKIE="+filepath.Join(s.dir, "cookie"),
		"PULSE_SERVER=unix:"+socket)
	s.write(t, ".asoundrc", "pcm.!default { type pulse }\nctl.!default { type pulse }\n")
	// Without norewinds the null sink stalls at the start of playback.
	s.write(t, "server.pa", "load-module module-native-protocol-unix socket="+socket+" auth-anonymous=1\n"+
		"load-module module-null-sink sink_name=null0 format=float32le rate=48000 channels=2 norewinds=1\n"+
		"load-module module-cli-protocol-unix socket="+filepath.Join(s.dir, "cli")+"\n"+
		"set-default-sink null0\n")
	s.run(t)
	return s
}

// run starts the server itself.
func (s *soundServer) run(t testing.TB) {
	t.Helper()
	s.process = s.spawn(t, nil, "pulseaudio", "-n", "-F", filepath.Join(s.dir, "server.pa"), "--daemonize=no",
		"--exit-idle-time=-1", "--disable-shm=yes", "--use-pid-file=no", "--realtime=yes", "--high-priority=yes")
	for range 100 {
		info := exec.Command("pactl", "info")
		info.Env = s.env
		if info.Run() == nil {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Fatal("the sound server does not answer")
}

// stop ends the server, as one that crashes does.
func (s *soundServer) stop() {
	s.process.Process.Kill()
	s.process.Wait()
	os.Remove(filepath.Join(s.dir, "native"))
}

func withoutEnv(env []string, name string) (rest []string) {
	for _, e := range env {
		if !strings.HasPrefix(e, name+"=") {
			rest = append(rest, e)
		}
	}
	return rest
}

func (s *soundServer) write(t testing.TB, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(s.dir, name), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// spawn starts a process that ends with the test.
func (s *soundServer) spawn(t testing.TB, out *os.File, name string, args ...string) *exec.Cmd {
	t.Helper()
	c := exec.Command(name, args...)
	c.Env = s.env
	if out != nil {
		c.Stdout = out
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		c.Process.Kill()
		c.Wait()
	})
	return c
}

// record begins to record what the sink gets and returns the file's name.
func (s *soundServer) record(t *testing.T) string {
	t.Helper()
	name := filepath.Join(s.dir, "recording.f32")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	s.spawn(t, f, "parec", "--raw", "--latency-msec=5", "-d", "null0.monitor",
		"--format=float32le", "--rate=48000", "--channels=2")
	time.Sleep(300 * time.Millisecond)
	return name
}

// play runs this test program as the player and reads its report.
func (s *soundServer) play(t testing.TB, profile string, report any) {
	t.Helper()
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(program)
	c.Env = append(s.env, soundChildEnv+"="+profile)
	var complaints bytes.Buffer
	c.Stderr = &complaints
	out, err := c.Output()
	if err != nil {
		t.Fatalf("the player failed: %v\n%s", err, complaints.Bytes())
	}
	if err := json.Unmarshal(out, report); err != nil {
		t.Fatalf("the player's report: %v\n%s", err, out)
	}
}

func readFloats(t *testing.T, name string) []float32 {
	t.Helper()
	raw, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float32, len(raw)/frameBytes*2)
	for i := range x {
		x[i] = math.Float32frombits(binary.LittleEndian.Uint32(raw[4*i:]))
	}
	return x
}
