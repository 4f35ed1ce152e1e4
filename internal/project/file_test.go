package project

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

func titled(s string) *Chart {
	c := New()
	c.Title = s
	return c
}

// files lists a folder with the start of each file's content.
func files(t *testing.T, dir string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func titleOf(t *testing.T, path string) string {
	t.Helper()
	c, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	return c.Title
}

func mustSave(t *testing.T, path string, c *Chart) {
	t.Helper()
	if err := Save(path, c); err != nil {
		t.Fatal(err)
	}
}

func TestSaveKeepsThePreviousVersion(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tune.organbook")
	mustSave(t, path, titled("one"))
	if got := files(t, dir); !slices.Equal(got, []string{"tune.organbook"}) {
		t.Fatalf("files %v", got)
	}
	mustSave(t, path, titled("two"))
	mustSave(t, path, titled("three"))
	if got := files(t, dir); !slices.Equal(got, []string{"tune.organbook", "tune.organbook~"}) {
		t.Fatalf("files %v", got)
	}
	if now, before := titleOf(t, path), titleOf(t, path+"~"); now != "three" || before != "two" {
		t.Errorf("file %q, previous version %q", now, before)
	}
}

func TestSaveFollowsLinksAndKeepsPermissions(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "tune.organbook"), filepath.Join(dir, "link.organbook")
	mustSave(t, path, titled("one"))
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("tune.organbook", link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	mustSave(t, link, titled("two"))
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 || titleOf(t, path) != "two" {
		t.Errorf("the link was replaced, or the file was not: %v", err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("permissions became %v", info.Mode())
	}
}

func TestSaveOverAnEmptyFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tune.organbook")
	if err := os.WriteFile(path, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	mustSave(t, path, titled("one"))
	if _, err := os.Stat(path + "~"); !errors.Is(err, fs.ErrNotExist) {
		t.Error("an empty file was kept as a previous version")
	}
}

// A file that is no readable chart is never replaced.
func TestSaveSparesWhatItCannotRead(t *testing.T) {
	for name, tt := range map[string]struct {
		content string
		is      error
	}{
		"foreign": {"Dear organist,", ErrForeign},
		"newer":   {`{"format":"organbook-chart","version":9}`, ErrNewer},
		"damaged": {`{"format":"organbook-chart","version":1,`, ErrDamaged},
	} {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, []byte(tt.content), 0o644); err != nil {
			t.Fatal(err)
		}
		err := Save(path, New())
		if !errors.Is(err, tt.is) || !strings.Contains(err.Error(), "save under another name") {
			t.Errorf("%s: %v", name, err)
		}
		if got, _ := os.ReadFile(path); string(got) != tt.content {
			t.Errorf("%s: the file was changed", name)
		}
	}
}

// A file that another program has written since is left alone, unless it holds
// what is to be saved already.
func TestSaveOverSparesWhatOthersWrote(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tune.organbook")
	one, two, three := titled("one"), titled("two"), titled("three")
	for _, tt := range []struct {
		there, known *Chart
		want         string
		is           error
	}{
		{one, one, "three", nil},
		{one, titled("one"), "three", nil},
		{two, one, "two", ErrChanged},
		{three, one, "three", nil},
		{two, nil, "three", nil},
	} {
		mustSave(t, path, tt.there)
		if err := SaveOver(path, tt.known, three); !errors.Is(err, tt.is) || titleOf(t, path) != tt.want {
			t.Errorf("there %v, known %v: %v and %q in the file, want %v and %q", tt.there, tt.known, err, titleOf(t, path), tt.is, tt.want)
		}
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := SaveOver(path, one, three); err != nil || titleOf(t, path) != "three" {
		t.Errorf("a file that is gone: %v", err)
	}
}

func TestSaveRefusals(t *testing.T) {
	dir := t.TempDir()
	protected := filepath.Join(dir, "protected.organbook")
	mustSave(t, protected, titled("one"))
	if err := os.Chmod(protected, 0o444); err != nil {
		t.Fatal(err)
	}
	unsound := New()
	unsound.Bars = nil
	for _, tt := range []struct {
		path string
		c    *Chart
		want string
	}{
		{dir, New(), "this is a folder"},
		{filepath.Join(dir, "none", "x.organbook"), New(), "no such file or folder"},
		{filepath.Join(protected, "x.organbook"), New(), "not a folder"},
		{filepath.Join(dir, strings.Repeat("x", 300)), New(), "too long"},
		{protected, New(), "write-protected"},
		{filepath.Join(dir, "y.organbook"), unsound, "at least one bar"},
	} {
		var fileErr *FileError
		if err := Save(tt.path, tt.c); !errors.As(err, &fileErr) || fileErr.Path != tt.path || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %s", tt.path, err, tt.want)
		}
	}
	if got := files(t, dir); !slices.Equal(got, []string{"protected.organbook"}) || titleOf(t, protected) != "one" {
		t.Errorf("files %v", got)
	}
}

func TestSaveIntoAReadOnlyFolder(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("the superuser may write into any folder")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "tune.organbook")
	mustSave(t, path, titled("one"))
	os.Chmod(dir, 0o555)
	defer os.Chmod(dir, 0o755)
	if err := Save(path, titled("two")); !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "access is denied") {
		t.Errorf("error %v", err)
	}
	if titleOf(t, path) != "one" {
		t.Error("the file was changed")
	}
}

// When the disk fills up half-way, or anything else stops the writing, the old
// file stays and nothing is left beside it.
func TestReplaceSurvivesFailingWrites(t *testing.T) {
	for _, cause := range []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EROFS, fs.ErrPermission, errors.New("smoke")} {
		dir := t.TempDir()
		path := filepath.Join(dir, "tune.organbook")
		mustSave(t, path, titled("one"))
		err := replaceFile(path, keepPrevious, func(w io.Writer) error {
			io.WriteString(w, `{"format":"organ`)
			return cause
		})
		if !errors.Is(err, cause) || !errors.Is(plainFile(err), cause) {
			t.Errorf("error %v, want %v", err, cause)
		}
		if got := files(t, dir); !slices.Equal(got, []string{"tune.organbook"}) || titleOf(t, path) != "one" {
			t.Errorf("after %v: files %v", cause, got)
		}
	}
}

// The same when only the previous version cannot be put aside.
func TestSaveStopsWhenThePreviousVersionCannotBeKept(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tune.organbook")
	mustSave(t, path, titled("one"))
	if err := os.MkdirAll(filepath.Join(path+"~", "full"), 0o755); err != nil {
		t.Fatal(err)
	}
	err := Save(path, titled("two"))
	if err == nil || !strings.Contains(err.Error(), "previous version") || titleOf(t, path) != "one" {
		t.Errorf("error %v", err)
	}
	if got := files(t, dir); !slices.Equal(got, []string{"tune.organbook", "tune.organbook~"}) {
		t.Errorf("files %v", got)
	}
}

// A leftover of a crash does not stop a save.
func TestSaveBesideLeftovers(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tune.organbook")
	first, err := createBeside(path)
	if err != nil {
		t.Fatal(err)
	}
	first.Close()
	mustSave(t, path, titled("one"))
	if titleOf(t, path) != "one" {
		t.Error("not saved")
	}
}

func TestCopyStandsInForALink(t *testing.T) {
	dir := t.TempDir()
	from, to := filepath.Join(dir, "a"), filepath.Join(dir, "b")
	os.WriteFile(from, []byte("text"), 0o644)
	if err := copyFile(from, to); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(to); string(got) != "text" {
		t.Errorf("copied %q", got)
	}
	if copyFile(from, to) == nil || copyFile(filepath.Join(dir, "none"), filepath.Join(dir, "c")) == nil {
		t.Error("a copy over a file, or of none, did not fail")
	}
}

func TestLoadRefusals(t *testing.T) {
	dir := t.TempDir()
	for path, want := range map[string]string{
		dir:                         "this is a folder",
		filepath.Join(dir, "none"):  "no such file",
		filepath.Join(dir, "empty"): "the file is empty",
	} {
		if strings.HasSuffix(path, "empty") {
			os.WriteFile(path, nil, 0o644)
		}
		_, err := Load(path)
		if err == nil || !strings.HasPrefix(err.Error(), path+": ") || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", path, err, want)
		}
	}
}
