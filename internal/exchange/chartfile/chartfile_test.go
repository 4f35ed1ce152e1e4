package chartfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"organbook/internal/project"
)

const score = `<score-partwise><part-list><score-part id="P"><part-name>L</part-name></score-part></part-list><part id="P">
<measure number="1"><attributes><divisions>1</divisions></attributes><note><pitch><step>G</step><octave>4</octave></pitch><duration>4</duration></note></measure></part></score-partwise>`

func TestOpenTellsFilesApartByContent(t *testing.T) {
	dir := t.TempDir()
	chart := filepath.Join(dir, "a.organbook")
	if err := project.Save(chart, project.New()); err != nil {
		t.Fatal(err)
	}
	native, err := os.ReadFile(chart)
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		name, content string
		native        bool
	}{
		{"a.organbook", string(native), true},
		{"chart-in-disguise.xml", string(native), true},
		{"marked.xml", "\ufeff\n " + string(native), true},
		{"lead.musicxml", score, false},
		{"lead.txt", score, false},
	} {
		path := filepath.Join(dir, tc.name)
		if err := os.WriteFile(path, []byte(tc.content), 0o600); err != nil {
			t.Fatal(err)
		}
		f, err := Open(path)
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		if f.Native != tc.native || f.Chart == nil || f.Chart.Check() != nil {
			t.Errorf("%s: native %v, chart %v", tc.name, f.Native, f.Chart)
		}
	}
}

func TestOpenSaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	write := func(name, content string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for path, want := range map[string]string{
		filepath.Join(dir, "none"):             "no such file",
		dir:                                    "folder",
		write("empty.mxl", ""):                 "empty",
		write("cut.organbook", "once upon"):    "",
		write("prose.xml", "once upon a time"): "",
	} {
		_, err := Open(path)
		if err == nil || !strings.HasPrefix(err.Error(), path+":") || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v, want the path and %q", path, err, want)
		}
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: more than one line: %v", path, err)
		}
	}
}

// TestADamagedChartNamesTheVersionBefore cuts a saved chart short, with and
// without the version before beside it.
func TestADamagedChartNamesTheVersionBefore(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tune.organbook")
	for range 2 { // the second time keeps the first
		if err := project.Save(path, project.New()); err != nil {
			t.Fatal(err)
		}
	}
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, damaged := range [][]byte{whole[:len(whole)/2], nil} {
		if err := os.WriteFile(path, damaged, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err = Open(path); err == nil || !strings.Contains(err.Error(), "can be opened as tune.organbook~") {
			t.Errorf("%d bytes with the version before: %v", len(damaged), err)
		}
	}
	if before, err := Open(path + "~"); err != nil || !before.Native {
		t.Errorf("the version before does not open: %v", err)
	}
	if err := os.WriteFile(path+"~", whole[:len(whole)/2], 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err = Open(path); err == nil || strings.Contains(err.Error(), "~") {
		t.Errorf("with a version before that is damaged, too: %v", err)
	}
	if err := os.Remove(path + "~"); err != nil {
		t.Fatal(err)
	}
	if _, err = Open(path); err == nil || strings.Contains(err.Error(), "~") {
		t.Errorf("without the version before: %v", err)
	}
}
