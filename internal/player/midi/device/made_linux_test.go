//go:build linux && !android

package device

import (
	"os"
	"path/filepath"
	"testing"
)

// TestADevicePluggedInAnewIsAnother replaces the file of a card, as the system
// does, under a port that keeps name and number.
func TestADevicePluggedInAnewIsAnother(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "controlC2")
	write := func(name string) {
		if err := os.WriteFile(name, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write(file)
	const keys = "Keys:Keys MIDI 1 24:0" // 16 + 4×2
	first := madeIn(dir, keys)
	if first == 0 || madeIn(dir, "Keys:Keys MIDI 2 27:1") != first {
		t.Fatalf("the card of client 24 is %d, that of client 27 %d", first, madeIn(dir, "Keys:Keys MIDI 2 27:1"))
	}
	if err := os.Chmod(file, 0o660); err != nil {
		t.Fatal(err)
	}
	if madeIn(dir, keys) != first {
		t.Error("other rights make no other device")
	}
	write(file + ".new") // beside the old one, so that its number cannot be given out again
	if err := os.Rename(file+".new", file); err != nil {
		t.Fatal(err)
	}
	if again := madeIn(dir, keys); again == 0 || again == first {
		t.Errorf("plugged in anew it is %d, before %d", again, first)
	}
	for _, raw := range []string{"Midi Through:Midi Through Port-0 14:0", "program:out 130:1", "Keys 20:0", "Plain"} {
		if n := madeIn(dir, raw); n != 0 {
			t.Errorf("%q is %d, want 0: it has no card here", raw, n)
		}
	}
}
