package main

import (
	"archive/zip"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"organbook/assets"
	"organbook/internal/project"
)

// TestBadInput feeds every command that reads a file with what no command can
// use: one clear sentence, exit 2, nothing written, memory bounded.
func TestBadInput(t *testing.T) {
	dir := t.TempDir()
	for _, tc := range []struct {
		name, path, want string
	}{
		{"no such file", filepath.Join(dir, "none.mxl"), "no such file"},
		{"folder", dir, "folder"},
		{"empty", badFile(t, dir, "empty.musicxml", nil), "empty"},
		{"text", badFile(t, dir, "text.xml", []byte("once upon a time")), ""},
		{"truncated zip", badFile(t, dir, "cut.mxl", zipped(t)[:60]), ""},
		{"zeros", zeros(t, dir, 1<<30), ""},
		{"entity bomb", badFile(t, dir, "bomb.xml", entityBomb()), ""},
		{"external entity", badFile(t, dir, "outside.xml", externalEntity()), ""},
		{"newer chart", badFile(t, dir, "new.organbook", []byte(`{"format":"organbook-chart","version":99}`)), "newer"},
		{"foreign JSON", badFile(t, dir, "foreign.organbook", []byte(`{"name":"x"}`)), ""},
		{"damaged chart", badFile(t, dir, "cut.organbook", []byte(`{"format":"organbook-chart","version":1,"ba`)), ""},
		{"zip of zeros", badFile(t, dir, "zeros.mxl", zipBomb(t)), ""},
	} {
		for _, command := range [][]string{{"convert", tc.path, filepath.Join(dir, "out.json")}, {"explain", tc.path}} {
			t.Run(tc.name+"/"+command[0], func(t *testing.T) {
				var before, after runtime.MemStats
				runtime.ReadMemStats(&before)
				stderr := refused(t, command...)
				runtime.ReadMemStats(&after)
				if !strings.Contains(stderr, tc.want) {
					t.Errorf("stderr %q does not mention %q", stderr, tc.want)
				}
				if n := strings.Count(stderr, filepath.Base(tc.path)); n != 1 {
					t.Errorf("stderr %q names the file %d times", stderr, n)
				}
				if used := after.TotalAlloc - before.TotalAlloc; used > 512<<20 {
					t.Errorf("%d MiB were allocated on the way to refusing", used>>20)
				}
				if _, err := os.Stat(filepath.Join(dir, "out.json")); err == nil {
					t.Error("something was written")
				}
			})
		}
	}
}

func TestBadArguments(t *testing.T) {
	dir := t.TempDir()
	in := badFile(t, dir, "tune.musicxml", []byte(smallScore))
	for _, args := range [][]string{
		{"convert", in, filepath.Join(dir, "x.docx")},
		{"convert", in, in},
		{"convert", in},
		{"convert", in, filepath.Join(dir, "missing", "x.json")},
		{"convert", in, filepath.Join(dir, "x.json"), "--voicing", "sideways"},
		{"convert", in, filepath.Join(dir, "x.json"), "--plan", "three hands"},
		{"convert", in, filepath.Join(dir, "x.json"), "--bass", "tuba"},
		{"convert", in, filepath.Join(dir, "x.json"), "--console", "none"},
		{"convert", in, filepath.Join(dir, "x.json"), "--key", "H"},
		{"convert", in, filepath.Join(dir, "x.json"), "--key", "C minor"},
		{"convert", in, filepath.Join(dir, "x.json"), "--key", "G# major"},
		{"convert", in, filepath.Join(dir, "x.json"), "--tempo", "-4"},
		{"convert", in, filepath.Join(dir, "x.json"), "--tempo", "0"},
		{"convert", in, filepath.Join(dir, "x.json"), "--tempo", "fast"},
		{"convert", in, filepath.Join(dir, "x.json"), "--stems", "divisions"},
		{"convert", in, filepath.Join(dir, "x.json"), "--bars", "9-12"},
		{"convert", in, filepath.Join(dir, "x.json"), "--bars", "2-1"},
		{"explain", in, "--bars", "x"},
		{"chord", "H7#q"},
		{"chord"},
		{"nonsense", "x", "y"},
		{"help", "foo"},
		{"help", "convert", "foo"},
		{"nosuch.organbook"},
		{"demo", in},
		{"--nonsense"},
	} {
		t.Run(strings.Join(args[:min(2, len(args))], " "), func(t *testing.T) { refused(t, args...) })
		if left, _ := filepath.Glob(filepath.Join(dir, "x.*")); len(left) > 0 {
			t.Errorf("%v left %v behind", args, left)
		}
	}
}

// TestHelpKnowsItsCommands: help of a command is that of its flag, and what is no
// command is refused by name.
func TestHelpKnowsItsCommands(t *testing.T) {
	for _, args := range [][]string{{}, {"convert"}, {"help"}, {"chord"}} {
		var byCommand, byFlag, stderr bytes.Buffer
		if code := run(append([]string{"help"}, args...), &byCommand, &stderr); code != exitOK || stderr.Len() > 0 {
			t.Errorf("help %v ends with %d and %q", args, code, &stderr)
		}
		run(append(slices.Clone(args), "--help"), &byFlag, &stderr)
		if byCommand.String() != byFlag.String() || byFlag.Len() < 100 {
			t.Errorf("help %v says\n%s\nand --help\n%s", args, &byCommand, &byFlag)
		}
	}
	if got, want := refused(t, "help", "foo"), `organbook: help: there is no command "foo"; organbook --help lists them`; got != want {
		t.Errorf("stderr %q, want %q", got, want)
	}
}

// TestAKeyAloneKeepsTheMode of the chart, and another mode is refused as in the window.
func TestAKeyAloneKeepsTheMode(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "demo.organbook"), filepath.Join(dir, "x.organbook")
	c, err := assets.Demo() // in G minor
	if err != nil {
		t.Fatal(err)
	}
	if err := project.Save(in, c); err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	if code := run([]string{"convert", in, out, "--key", "Eb"}, &stdout, &stderr); code != exitOK {
		t.Fatalf("exit code %d: %s", code, &stderr)
	}
	if c, err := project.Load(out); err != nil || c.Key.String() != "Eb minor" {
		t.Errorf("the chart is in %v, %v", c.Key, err)
	}
	want := "organbook: --key: the chart is in G minor, and moving it keeps its mode; ask for a minor key"
	if got := refused(t, "convert", in, out, "--key", "Eb major"); got != want {
		t.Errorf("stderr %q, want %q", got, want)
	}
}

// TestFlagsSpeakAlike holds a number that is none against the words of the other
// flags: no name of a function of the language comes through.
func TestFlagsSpeakAlike(t *testing.T) {
	in := badFile(t, t.TempDir(), "tune.musicxml", []byte(smallScore))
	for _, flag := range []string{"--tempo", "--speed"} {
		want := `organbook: ` + flag + ` "fast": expected a number, such as 120 or 0.8`
		if got := refused(t, "check", in, flag, "fast"); got != want {
			t.Errorf("stderr %q, want %q", got, want)
		}
	}
}

// refused runs the program, expects exit code 2 and one line on stderr, and
// returns that line.
func refused(t *testing.T, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code := run(args, &stdout, &stderr)
	text := strings.TrimRight(stderr.String(), "\n")
	if code != exitUnusable {
		t.Errorf("%v: exit %d, want %d; stderr %q", args, code, exitUnusable, text)
	}
	if !strings.HasPrefix(text, "organbook: ") {
		t.Errorf("%v: stderr %q does not start with the program's name", args, text)
	}
	if args[0] != "chord" && strings.Contains(text, "\n") {
		t.Errorf("%v: more than one line: %q", args, text)
	}
	return text
}

const smallScore = `<?xml version="1.0"?><score-partwise version="3.1"><part-list><score-part id="P1"><part-name>Lead</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>
<harmony><root><root-step>C</root-step></root><kind>major-sixth</kind></harmony>
<note><pitch><step>G</step><octave>4</octave></pitch><duration>4</duration></note></measure>
<measure number="2"><note><pitch><step>E</step><octave>4</octave></pitch><duration>4</duration></note></measure></part></score-partwise>`

func badFile(t *testing.T, dir, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// zeros makes a sparse file of n zero bytes.
func zeros(t *testing.T, dir string, n int64) string {
	t.Helper()
	path := badFile(t, dir, "zeros.musicxml", nil)
	if err := os.Truncate(path, n); err != nil {
		t.Fatal(err)
	}
	return path
}

func zipped(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("score.xml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write([]byte(smallScore)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// zipBomb is a small archive whose one file unpacks to a gigabyte of zeros.
func zipBomb(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("score.xml")
	if err != nil {
		t.Fatal(err)
	}
	chunk := make([]byte, 1<<20)
	for range 1 << 10 {
		if _, err := w.Write(chunk); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func entityBomb() []byte {
	var b bytes.Buffer
	b.WriteString(`<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">`)
	for c := 'b'; c <= 'k'; c++ {
		b.WriteString("<!ENTITY " + string(c) + ` "`)
		for range 10 {
			b.WriteString("&" + string(c-1) + ";")
		}
		b.WriteString(`">`)
	}
	b.WriteString(`]><score-partwise><work><work-title>&k;</work-title></work></score-partwise>`)
	return b.Bytes()
}

func externalEntity() []byte {
	return []byte(`<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]><score-partwise><work><work-title>&a;</work-title></work></score-partwise>`)
}

// TestOnlyOneSentenceReachesTheTerminal runs the real program, since what
// libraries print while they are initialised is not seen from inside.
func TestOnlyOneSentenceReachesTheTerminal(t *testing.T) {
	program := builtProgram(t)
	for _, locale := range []string{"C.UTF-8", "C", "POSIX", "en_US.UTF-8", ""} {
		c := exec.Command(program, "explain", "missing.musicxml")
		c.Env = append(cleanEnv(), "LANG="+locale)
		var stderr bytes.Buffer
		c.Stderr = &stderr
		c.Run()
		if code := c.ProcessState.ExitCode(); code != exitUnusable {
			t.Errorf("LANG=%s: exit %d", locale, code)
		}
		if got, want := stderr.String(), "organbook: missing.musicxml: there is no such file\n"; got != want {
			t.Errorf("LANG=%s: stderr %q, want %q", locale, got, want)
		}
	}
}
