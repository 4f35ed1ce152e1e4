package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWhatAnOutThatExistsBecomes writes over files of every kind: all are replaced,
// of a chart the version before stays and is told of; with --no-replace nothing is
// written at all, whichever of the files exists.
func TestWhatAnOutThatExistsBecomes(t *testing.T) {
	dir := t.TempDir()
	in := badFile(t, dir, "tune.musicxml", []byte(smallScore))
	out := func(name string) string { return filepath.Join(dir, name) }
	old := []byte("what was there")
	for _, name := range []string{"a.organbook", "a.mid", "a.json", "a.wav", "a.png", "a.mxl"} {
		path, old := badFile(t, dir, name, old), old
		if filepath.Ext(name) == ".organbook" { // anything else is never replaced
			var said bytes.Buffer
			if err := os.Remove(path); err != nil || run([]string{"convert", in, path, "--tempo", "99"}, &said, &said) != 0 {
				t.Fatal(err, said.String())
			}
			old, _ = os.ReadFile(path)
		}
		stderr := refused(t, "convert", in, out("new-"+name), path, "--no-replace")
		if !strings.Contains(stderr, path+": exists already") {
			t.Errorf("%s: %q", name, stderr)
		}
		if _, err := os.Stat(out("new-" + name)); err == nil {
			t.Errorf("%s: another file is written before it is refused", name)
		}
		if now, _ := os.ReadFile(path); !bytes.Equal(now, old) {
			t.Errorf("%s: --no-replace replaces it", name)
		}
		var stdout, said bytes.Buffer
		if code := run([]string{"convert", in, path}, &stdout, &said); code != 0 {
			t.Errorf("%s: exit %d: %s", name, code, said.String())
		}
		if now, _ := os.ReadFile(path); bytes.Equal(now, old) {
			t.Errorf("%s: is not replaced", name)
		}
		before, err := os.ReadFile(path + "~")
		chart := filepath.Ext(name) == ".organbook"
		if kept := err == nil && bytes.Equal(before, old); kept != chart || strings.Contains(said.String(), "a.organbook~") != chart {
			t.Errorf("%s: the version before is kept: %v; said %q", name, kept, said.String())
		}
	}
	badFile(t, dir, "b upper.wav", old)
	if stderr := refused(t, "convert", in, out("b.wav"), "--stems", "divisions", "--no-replace"); !strings.Contains(stderr, "b upper.wav: exists") {
		t.Errorf("a stem that exists: %q", stderr)
	}
	if stderr := refused(t, "convert", out("a.mid"), out("a.wav"), "--no-replace"); !strings.Contains(stderr, "a.wav: exists") {
		t.Errorf("from a MIDI file: %q", stderr)
	}
	badFile(t, dir, demoName+".json", old)
	if stderr := refused(t, "demo", dir, "--no-replace"); !strings.Contains(stderr, demoName+".json: exists") {
		t.Errorf("the demo: %q", stderr)
	}
	if _, err := os.Stat(out(demoName + ".organbook")); err == nil {
		t.Error("the demo is written in part")
	}
}
