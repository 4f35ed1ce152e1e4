//go:build linux && !android && cgo

package player

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// TestOpeningPrintsNothing looks for a device in a process of its own, once where
// there is none and once where a sound server is set up that does not run: nothing
// reaches the terminal but what the process itself writes there.
func TestOpeningPrintsNothing(t *testing.T) {
	if os.Getenv("ORGANBOOK_TEST_OPENS") != "" {
		if _, err := connect(48000, 30*time.Millisecond); err == nil {
			fmt.Fprintln(os.Stderr, "a device opened")
		}
		fmt.Fprintln(os.Stderr, "still heard")
		return
	}
	for name, config := range map[string]string{
		"nothing": "pcm.default { type hw card 77 }",
		"a server": "pcm.default { type hw card 77 }\n" +
			`pcm.jack { type jack playback_ports { 0 system:playback_1 1 system:playback_2 } hint { show on description "a server" } }`,
	} {
		dir := t.TempDir()
		file := filepath.Join(dir, "asound.conf")
		if err := os.WriteFile(file, []byte(config+"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		c := exec.Command(os.Args[0], "-test.run=^TestOpeningPrintsNothing$")
		c.Env = append(os.Environ(), "ORGANBOOK_TEST_OPENS=1", "ALSA_CONFIG_PATH="+file, "JACK_NO_START_SERVER=1", "JACK_DEFAULT_SERVER=none", "HOME="+dir)
		var stderr bytes.Buffer
		c.Stderr = &stderr
		if err := c.Run(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if got := stderr.String(); got != "still heard\n" {
			t.Errorf("%s: the terminal shows\n%s", name, got)
		}
	}
}
