package atomicfile

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// onlyFile fails unless dir holds nothing but a file of that name and content.
func onlyFile(t *testing.T, dir, name, want string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != 1 || entries[0].Name() != name {
		t.Fatalf("folder holds %v, want %s alone", entries, name)
	}
	if got, _ := os.ReadFile(filepath.Join(dir, name)); string(got) != want {
		t.Fatalf("%s holds %q, want %q", name, got, want)
	}
}

func TestWriteCreatesAndReplaces(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tune.mid")
	for _, s := range []string{"first", "second, longer", "3"} {
		if err := Write(path, text(s)); err != nil {
			t.Fatal(err)
		}
		onlyFile(t, dir, "tune.mid", s)
	}
}

func TestFailedWriteLeavesNothing(t *testing.T) {
	broken := errors.New("broken")
	fail := func(w io.Writer) error {
		text("half")(w)
		return broken
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "tune.mid")
	if err := Write(path, fail); err != broken {
		t.Fatalf("got %v, want the filler's own error", err)
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 0 {
		t.Fatalf("left behind: %v", entries)
	}
	if err := Write(path, text("kept")); err != nil {
		t.Fatal(err)
	}
	if err := Write(path, fail); err != broken {
		t.Fatalf("got %v", err)
	}
	onlyFile(t, dir, "tune.mid", "kept")
}

func TestPanicLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	func() {
		defer func() { recover() }()
		Write(filepath.Join(dir, "x"), func(io.Writer) error { panic("x") })
	}()
	if entries, _ := os.ReadDir(dir); len(entries) != 0 {
		t.Fatalf("left behind: %v", entries)
	}
}

func TestReplacedFileKeepsPermissionsAndLinks(t *testing.T) {
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real"), filepath.Join(dir, "link")
	if err := os.WriteFile(real, nil, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("real", link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	if err := Write(link, text("new")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link became %v, %v", info.Mode(), err)
	}
	info, _ = os.Stat(real)
	if got, _ := os.ReadFile(real); string(got) != "new" || info.Mode().Perm() != 0o640 {
		t.Errorf("the file holds %q with mode %v", got, info.Mode())
	}
}

func TestDeviceIsWrittenDirectly(t *testing.T) {
	before, err := os.Lstat(os.DevNull)
	if err != nil {
		t.Skip(err)
	}
	if err := Write(os.DevNull, text("gone")); err != nil {
		t.Fatal(err)
	}
	if after, err := os.Lstat(os.DevNull); err != nil || after.Mode() != before.Mode() {
		t.Fatalf("the null device became %v, %v", after, err)
	}
}

func TestErrorsNameTheFile(t *testing.T) {
	dir := t.TempDir()
	for _, path := range []string{dir, filepath.Join(dir, "missing", "tune.mid")} {
		err := Write(path, text("x"))
		if err == nil || !strings.HasPrefix(err.Error(), path+": cannot be written: ") || strings.Contains(err.Error(), "~") {
			t.Errorf("%s: got %v", path, err)
		}
	}
}
