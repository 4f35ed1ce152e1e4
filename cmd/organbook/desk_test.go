package main

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// desk is a screen, a sound server and a running program for one test: Xvfb
// and a private pulseaudio with a null sink, both gone when the test ends.
type desk struct {
	t       testing.TB
	dir     string
	env     []string
	window  string
	program *exec.Cmd
	ended   chan error
	// traceFile is where the program writes what it does, "" for nowhere.
	traceFile string
}

// builtProgram builds the program once for all tests of the package.
func builtProgram(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "organbook")
	out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput()
	if err != nil {
		t.Fatalf("building: %v\n%s", err, out)
	}
	return path
}

// newDesk starts the screen. Tests that need one are skipped unless they are
// asked for, since a plain go test must pass on any machine.
func newDesk(t testing.TB, width, height int) *desk {
	t.Helper()
	if os.Getenv("ORGANBOOK_WINDOW_TEST") == "" {
		t.Skip("set ORGANBOOK_WINDOW_TEST=1 (make test does) to drive the real window")
	}
	for _, tool := range []string{"Xvfb", "xdotool", "import"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Fatalf("%s is missing; make test installs it", tool)
		}
	}
	d := &desk{t: t, dir: t.TempDir()}
	d.env = append(cleanEnv(), "HOME="+d.dir, "LANG=C", "XDG_RUNTIME_DIR="+d.dir, "XDG_CONFIG_HOME="+d.dir+"/config", "FYNE_SCALE=1")
	if _, ok := t.(*testing.T); ok { // it takes time that a benchmark counts
		d.env = append(d.env, "ORGANBOOK_CHECK_GOROUTINES=1")
	}
	d.startScreen(width, height)
	return d
}

// cleanEnv is the environment without what would lead the program to the
// screen and the sound of whoever runs the test.
func cleanEnv() []string {
	var env []string
	for _, e := range os.Environ() {
		switch name, _, _ := strings.Cut(e, "="); name {
		case "HOME", "LANG", "LC_ALL", "DISPLAY", "WAYLAND_DISPLAY", "XDG_RUNTIME_DIR", "XDG_CONFIG_HOME", "FYNE_SCALE", "FYNE_THEME",
			"DBUS_SESSION_BUS_ADDRESS", "PULSE_SERVER", "PULSE_RUNTIME_PATH", "PULSE_STATE_PATH", "PULSE_COOKIE":
		default:
			env = append(env, e)
		}
	}
	return env
}

func (d *desk) startScreen(width, height int) {
	d.t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		d.t.Fatal(err)
	}
	x := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", width, height), "-nolisten", "tcp", "-noreset")
	x.ExtraFiles = []*os.File{w}
	d.start(x)
	w.Close()
	number, err := bufio.NewReader(r).ReadString('\n')
	if err != nil {
		d.t.Fatalf("Xvfb gave no display: %v", err)
	}
	d.env = append(d.env, "DISPLAY=:"+strings.TrimSpace(number))
}

// start runs a companion until the test ends.
func (d *desk) start(c *exec.Cmd) {
	d.t.Helper()
	if c.Env == nil {
		c.Env = d.env
	}
	if err := c.Start(); err != nil {
		d.t.Fatal(err)
	}
	d.t.Cleanup(func() {
		c.Process.Kill()
		c.Wait()
	})
}

// startSound runs a private sound server whose sink is null: it keeps time but
// plays nothing. Other lines may be added to its script.
func (d *desk) startSound(more ...string) (server *exec.Cmd) {
	d.t.Helper()
	for _, sub := range []string{"pulse", "state"} {
		if err := os.MkdirAll(filepath.Join(d.dir, sub), 0o700); err != nil {
			d.t.Fatal(err)
		}
	}
	os.Chmod(d.dir, 0o700)
	d.env = append(d.env,
		"PULSE_RUNTIME_PATH="+d.dir+"/pulse", "PULSE_STATE_PATH="+d.dir+"/state",
		"PULSE_COOKIE="+d.dir+"/cookie", "PULSE_SERVER=unix:"+d.dir+"/native")
	d.write(".asoundrc", "pcm.!default { type pulse }\nctl.!default { type pulse }\n")
	script := "load-module module-native-protocol-unix socket=" + d.dir + "/native auth-anonymous=1\n" +
		"load-module module-null-sink sink_name=null0 format=float32le rate=48000 channels=2 norewinds=1\n" +
		"set-default-sink null0\n" + strings.Join(more, "")
	server = exec.Command("pulseaudio", "-n", "-F", d.write("pa.pa", script), "--daemonize=no", "--exit-idle-time=-1",
		"--disable-shm=yes", "--use-pid-file=no", "--realtime=yes", "--high-priority=yes")
	d.start(server)
	d.eventually("the sound server answers", func() bool { return d.tool("pactl", "info") == nil })
	return server
}

// record writes what the sink plays to a file until the returned function is
// called, which returns the left channel.
func (d *desk) record() func() []float32 {
	d.t.Helper()
	r := d.recordFrom("null0.monitor", "float32le", 2)
	return func() []float32 {
		r.stop()
		if dir := os.Getenv("ORGANBOOK_SHOTS"); dir != "" {
			d.tool("cp", r.path, filepath.Join(dir, "heard.f32")) // stereo, 48 kHz
		}
		return readLeft(d.t, r.path)
	}
}

// recorder writes what a source of the sound server gives to a file.
type recorder struct {
	path  string
	cmd   *exec.Cmd
	file  *os.File
	began time.Time // when the first sound was written
}

func (d *desk) recordFrom(source, format string, channels int) *recorder {
	d.t.Helper()
	r := &recorder{path: filepath.Join(d.dir, source+".raw")}
	var err error
	if r.file, err = os.Create(r.path); err != nil {
		d.t.Fatal(err)
	}
	r.cmd = exec.Command("parec", "--raw", "--latency-msec=5", "-d", source, "--format="+format, "--rate=48000", fmt.Sprintf("--channels=%d", channels))
	r.cmd.Stdout = r.file
	d.start(r.cmd)
	d.eventually("the recorder runs", func() bool {
		info, err := os.Stat(r.path)
		return err == nil && info.Size() > 0
	})
	r.began = time.Now()
	return r
}

func (r *recorder) stop() {
	r.cmd.Process.Signal(os.Interrupt)
	r.cmd.Process.Wait()
	r.file.Close()
}

// launch opens the program's window and gives it the keyboard.
func (d *desk) launch(binary string, args ...string) {
	d.t.Helper()
	c := exec.Command(binary, args...)
	c.Env = d.env
	c.Dir = d.dir
	log, err := os.Create(filepath.Join(d.dir, "program.log"))
	if err != nil {
		d.t.Fatal(err)
	}
	c.Stdout, c.Stderr = log, log
	if err := c.Start(); err != nil {
		d.t.Fatal(err)
	}
	d.program, d.ended = c, make(chan error, 1)
	go func() { d.ended <- c.Wait() }()
	d.t.Cleanup(func() {
		c.Process.Kill()
		text, _ := os.ReadFile(log.Name())
		if strings.Contains(string(text), "Error in Fyne call thread") {
			d.t.Error("the window was used from another goroutine than its own")
		}
		if d.t.Failed() {
			d.t.Logf("the program printed:\n%s", text)
		}
	})
	d.eventually("the window opens", func() bool {
		select {
		case err := <-d.ended:
			d.t.Fatalf("the program ended before its window opened: %v", err)
		default:
		}
		d.window = strings.TrimSpace(d.output("xdotool", "search", "--onlyvisible", "--name", "Organbook"))
		d.window, _, _ = strings.Cut(d.window, "\n")
		return d.window != ""
	})
	d.must("xdotool", "windowfocus", "--sync", d.window)
	time.Sleep(500 * time.Millisecond)
}

// waitForEnd waits for the program to end by itself.
func (d *desk) waitForEnd() {
	d.t.Helper()
	select {
	case err := <-d.ended:
		if err != nil {
			d.t.Errorf("the program ended with %v", err)
		}
	case <-time.After(20 * time.Second):
		d.shot("not-ended")
		d.t.Fatal("the program did not end")
	}
}

// keys presses keys one after another, in xdotool's names ("ctrl+s").
func (d *desk) keys(names ...string) {
	d.t.Helper()
	for _, n := range names {
		d.must("xdotool", "key", "--clearmodifiers", n)
		time.Sleep(120 * time.Millisecond)
	}
}

// text types characters.
func (d *desk) text(s string) {
	d.t.Helper()
	d.must("xdotool", "type", "--delay", "40", s)
	time.Sleep(100 * time.Millisecond)
}

// click presses the left button at a point of the window.
func (d *desk) click(x, y int) {
	d.t.Helper()
	d.must("xdotool", "mousemove", "--window", d.window, strconv.Itoa(x), strconv.Itoa(y))
	time.Sleep(80 * time.Millisecond)
	d.must("xdotool", "click", "1")
	time.Sleep(150 * time.Millisecond)
}

// shot saves a picture of the screen where ORGANBOOK_SHOTS says, if it does.
func (d *desk) shot(name string) {
	dir := os.Getenv("ORGANBOOK_SHOTS")
	if dir == "" {
		return
	}
	if err := d.tool("import", "-window", "root", filepath.Join(dir, name+".png")); err != nil {
		d.t.Logf("no picture %s: %v", name, err)
	}
}

func (d *desk) tool(name string, args ...string) error {
	c := exec.Command(name, args...)
	c.Env = d.env
	return c.Run()
}

func (d *desk) must(name string, args ...string) {
	d.t.Helper()
	c := exec.Command(name, args...)
	c.Env = d.env
	if out, err := c.CombinedOutput(); err != nil {
		d.t.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
}

func (d *desk) output(name string, args ...string) string {
	c := exec.Command(name, args...)
	c.Env = d.env
	out, _ := c.Output()
	return string(out)
}

func (d *desk) write(name, content string) string {
	d.t.Helper()
	path := filepath.Join(d.dir, name)
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		d.t.Fatal(err)
	}
	return path
}

func (d *desk) eventually(what string, ok func() bool) {
	d.t.Helper()
	for range 3000 {
		if ok() {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	d.shot("waiting")
	d.t.Fatalf("timed out waiting until %s", what)
}

// strength returns the amplitude of a frequency in x by Goertzel's filter with
// a Hann window.
func strength(x []float32, hz float64) float64 {
	w := 2 * math.Pi * hz / 48000
	var s1, s2, sum float64
	for i, v := range x {
		win := 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/float64(len(x)))
		sum += win
		s1, s2 = float64(v)*win+2*math.Cos(w)*s1-s2, s1
	}
	return 2 * math.Sqrt(max(0, s1*s1+s2*s2-2*math.Cos(w)*s1*s2)) / sum
}
