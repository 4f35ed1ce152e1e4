package musicxml

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"runtime"
	"strings"
	"testing"
	"time"
)

// file is a name and its content in an archive.
type file struct{ name, content string }

func archive(t testing.TB, files ...file) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		w, err := z.Create(f.name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(w, f.content); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func container(paths ...string) file {
	s := `<?xml version="1.0"?><container><rootfiles>`
	for _, p := range paths {
		s += `<rootfile full-path="` + p + `"/>`
	}
	return file{"META-INF/container.xml", s + "</rootfiles></container>"}
}

func TestArchives(t *testing.T) {
	right, wrong := four(n("C4", 8)), four(n("D4", 8))
	guess := "table of contents"
	tests := []struct {
		name     string
		files    []file
		warnings []string
	}{
		{"as the standard says", []file{{"mimetype", "application/musicxml"}, container("score.xml"), {"a.xml", wrong}, {"score.xml", right}}, nil},
		{"in a folder", []file{container("music/score.musicxml"), {"a.xml", wrong}, {"music/score.musicxml", right}}, nil},
		{"the first root file", []file{container("score.xml", "part.xml"), {"part.xml", wrong}, {"score.xml", right}}, nil},
		{"a root file of another type first", []file{{"META-INF/container.xml", `<container><rootfiles><rootfile full-path="x.pdf" media-type="application/pdf"/><rootfile full-path="score.xml" media-type="application/musicxml+xml"/></rootfiles></container>`}, {"x.pdf", "%PDF"}, {"score.xml", right}}, nil},
		{"another case and slash", []file{container(`Music\Score.XML`), {"a.xml", wrong}, {"music/score.xml", right}}, nil},
		{"an escaped name", []file{container(`my%20score.xml`), {"a.xml", wrong}, {"my score.xml", right}}, nil},
		{"no container", []file{{"score.xml", right}}, []string{guess}},
		{"an empty container", []file{{"META-INF/container.xml", ""}, {"score.xml", right}}, []string{guess}},
		{"a container that is no XML", []file{{"META-INF/container.xml", "<<<& \x00"}, {"score.xml", right}}, []string{guess}},
		{"a container that names nothing there", []file{container("gone.xml"), {"score.xml", right}}, []string{guess}},
		{"a container in UTF-16", []file{{"META-INF/container.xml", string(utf16Bytes(container("score.xml").content, binary.LittleEndian, true))}, {"a.xml", wrong}, {"score.xml", right}}, nil},
		{"a named file that is no score", []file{container("style.xml"), {"style.xml", "<style/>"}, {"score.xml", right}}, nil},
		{"other files around", []file{{"__MACOSX/._score.xml", "\x00\x05"}, {".hidden.xml", wrong}, {"deep/er/b.xml", wrong}, {"readme.txt", "<b>"}, {"score.xml", right}}, []string{guess}},
		{"a score without an ending", []file{{"notes", "hello"}, {"score", right}}, []string{guess}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, warnings := readBytes(t, archive(t, tt.files...))
			if got := melodyText(c); got != "0+40320 C4" {
				t.Errorf("melody %s, want that of the right file", got)
			}
			wantWarnings(t, warnings, append(tt.warnings, noChords)...)
		})
	}
}

func TestDamagedArchiveContentIsKept(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.CreateHeader(&zip.FileHeader{Name: "score.xml", Method: zip.Store})
	if err != nil {
		t.Fatal(err)
	}
	io.WriteString(w, four(n("C4", 8)))
	z.Close()
	broken := bytes.Replace(b.Bytes(), []byte("<step>C"), []byte("<step>D"), 1) // the checksum is wrong now
	c, warnings := readBytes(t, broken)
	if got := melodyText(c); got != "0+40320 D4" {
		t.Errorf("melody %s", got)
	}
	wantWarnings(t, warnings, "table of contents", "damaged", noChords)
}

// TestBombsStayInBounds unpacks archives that hold a thousand times their size
// and XML made to grow in memory.
func TestBombsStayInBounds(t *testing.T) {
	start := `<score-partwise><part id="P1"><measure number="1">` + inHead(2, 4, 4) + n("C4", 8)
	tests := []struct {
		name string
		text string
		want error
	}{
		{"blank lines", start + strings.Repeat("<!-- -->\n"+strings.Repeat(" ", 1000), 80<<10), ErrTooLarge},
		{"empty notes", start + strings.Repeat("<note/>", 2<<20), ErrTooLarge},
		{"empty bars", start + strings.Repeat("</measure><measure>", 2<<20), ErrTooLarge},
		{"titles", "<score-partwise>" + strings.Repeat("<credit><credit-words>"+strings.Repeat("x", 1000)+"</credit-words></credit>", 60000), ErrNoNotes},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := archive(t, file{"score.xml", tt.text})
			if len(b) > len(tt.text)/20 {
				t.Fatalf("the bomb packs %d into %d bytes only", len(tt.text), len(b))
			}
			peak, stop := watchHeap()
			_, _, err := Read(bytes.NewReader(b), int64(len(b)), "bomb.mxl")
			stop()
			if !errors.Is(err, tt.want) {
				t.Errorf("error %v, want %v", err, tt.want)
			}
			if mb := *peak >> 20; mb > 400 {
				t.Errorf("%d MB of heap", mb)
			} else {
				t.Logf("%d MB of heap", mb)
			}
		})
	}
}

// watchHeap samples how far the heap grows until stop is called.
func watchHeap() (peak *uint64, stop func()) {
	runtime.GC()
	var before runtime.MemStats
	runtime.ReadMemStats(&before)
	peak = new(uint64)
	quit, done := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		for {
			var now runtime.MemStats
			runtime.ReadMemStats(&now)
			if now.HeapAlloc > before.HeapAlloc {
				*peak = max(*peak, now.HeapAlloc-before.HeapAlloc)
			}
			select {
			case <-quit:
				return
			case <-time.After(5 * time.Millisecond):
			}
		}
	}()
	return peak, func() { close(quit); <-done }
}
