//go:build linux && !android

package device

import (
	"os"
	"path/filepath"
	"testing"
)

func TestWhyThereAreNoPorts(t *testing.T) {
	dir := t.TempDir()
	if err := openable(filepath.Join(dir, "seq")); err != errNoSequencer {
		t.Errorf("without a sequencer: %v", err)
	}
	file := filepath.Join(dir, "forbidden")
	if err := os.WriteFile(file, nil, 0o000); err != nil {
		t.Fatal(err)
	}
	if err := openable(file); os.Getuid() != 0 && err != errForbidden {
		t.Errorf("without the right: %v", err)
	}
}
