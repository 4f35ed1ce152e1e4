package ui

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
)

func TestGoldenPictures(t *testing.T) {
	for _, tc := range []struct {
		name string
		mode themeMode
		size fyne.Size
	}{
		{"dark-1280x720", alwaysDark, fyne.NewSize(1280, 720)}, {"light-1280x720", alwaysLight, fyne.NewSize(1280, 720)},
		{"dark-1600x1000", alwaysDark, fyne.NewSize(1600, 1000)}, {"light-1600x1000", alwaysLight, fyne.NewSize(1600, 1000)},
	} {
		t.Run(tc.name, func(t *testing.T) {
			w := open(t, Options{}, tc.mode, tc.size)
			w.session.SelectNote(3, false)
			compareGolden(t, "window-"+tc.name+".png", w.win.Canvas().Capture())
		})
	}
}

// compareGolden compares with a kept picture; a difference of a few levels in
// a channel (rounding in another version of a library) is let pass, but not
// more than a thousandth of the pixels beyond it. ORGANBOOK_GOLDEN=write keeps
// the new ones.
func compareGolden(t *testing.T, name string, got image.Image) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if os.Getenv("ORGANBOOK_GOLDEN") == "write" {
		writePNG(t, path, got)
		return
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatalf("%v (ORGANBOOK_GOLDEN=write makes it)", err)
	}
	defer f.Close()
	want, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if want.Bounds() != got.Bounds() {
		t.Fatalf("%s is %v, want %v", name, got.Bounds(), want.Bounds())
	}
	if n := differing(want, got); n > got.Bounds().Dx()*got.Bounds().Dy()/1000 {
		writePNG(t, filepath.Join("testdata", "failed", name), got)
		t.Errorf("%d pixels of %s differ; look at testdata/failed/%s", n, name, name)
	}
}

func differing(a, b image.Image) (n int) {
	r := a.Bounds()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			r1, g1, b1, _ := a.At(x, y).RGBA()
			r2, g2, b2, _ := b.At(x, y).RGBA()
			if far(r1, r2) || far(g1, g2) || far(b1, b2) {
				n++
			}
		}
	}
	return n
}

func far(a, b uint32) bool { return max(a, b)-min(a, b) > 8<<8 }

func writePNG(t *testing.T, path string, img image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
