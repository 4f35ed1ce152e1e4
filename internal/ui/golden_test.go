package ui

import (
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
)

// looked is a look, a theme and a size of the window.
type looked struct {
	name string
	mode themeMode
	size fyne.Size
}

var (
	lightLeast = looked{"light-1066x666", alwaysLight, fyne.NewSize(1066, 666)}
	darkSmall  = looked{"dark-1280x720", alwaysDark, fyne.NewSize(1280, 720)}
)

// looks are what every part of the window is kept in: both themes, and a screen of
// 1600×1000 at 150 %, a small one and 1600×1000 as it is.
var looks = []looked{
	{"dark-1066x666", alwaysDark, fyne.NewSize(1066, 666)}, lightLeast,
	darkSmall, {"light-1280x720", alwaysLight, fyne.NewSize(1280, 720)},
	{"dark-1600x1000", alwaysDark, fyne.NewSize(1600, 1000)}, {"light-1600x1000", alwaysLight, fyne.NewSize(1600, 1000)},
}

// inEveryLook does something in each look. The race detector sees the same things
// happen on the same goroutine in every one of them, at ten times the price, so it
// gets one only.
func inEveryLook(t *testing.T, looks []looked, do func(t *testing.T, l looked)) {
	t.Helper()
	if raceDetector {
		looks = looks[:1]
	}
	for _, l := range looks {
		t.Run(l.name, func(t *testing.T) { do(t, l) })
	}
}

func TestGoldenPictures(t *testing.T) {
	inEveryLook(t, looks, func(t *testing.T, l looked) {
		w := open(t, Options{}, l.mode, l.size)
		w.session.SelectNote(3, false)
		compareGolden(t, "window-"+l.name+".png", w.win.Canvas().Capture())
	})
}

// compareGolden compares with a kept picture; that a dozen pixels differ, or all of
// them by three levels of 255 (rounding in another version of a library), is let
// pass. ORGANBOOK_GOLDEN=write keeps the new ones.
func compareGolden(t *testing.T, name string, got image.Image) {
	t.Helper()
	compareGoldenAt(t, filepath.Join("testdata", name), got)
}

// compareGoldenAt is compareGolden for a picture that is kept elsewhere. A picture
// that still passes is not written anew.
func compareGoldenAt(t *testing.T, path string, got image.Image) {
	t.Helper()
	if raceDetector {
		return // that it could be drawn is all there is to learn
	}
	problem := unlikeKept(path, got)
	if problem == "" {
		return
	}
	if os.Getenv("ORGANBOOK_GOLDEN") == "write" {
		writePNG(t, path, got)
		return
	}
	failed := filepath.Join("testdata", "failed", filepath.Base(path))
	writePNG(t, failed, got)
	t.Errorf("%s %s; look at %s (ORGANBOOK_GOLDEN=write keeps it)", path, problem, failed)
}

// unlikeKept says how a picture differs from the kept one, "" where it passes.
func unlikeKept(path string, got image.Image) string {
	f, err := os.Open(path)
	if err != nil {
		return err.Error()
	}
	defer f.Close()
	want, err := png.Decode(f)
	switch {
	case err != nil:
		return err.Error()
	case want.Bounds() != got.Bounds():
		return fmt.Sprintf("is %v, want %v", got.Bounds(), want.Bounds())
	}
	const dozen = 12
	if n := differing(want, got, 3); n > dozen {
		return fmt.Sprintf("differs in %d pixels", n)
	}
	return ""
}

// differing counts the pixels of which a channel differs by more than some levels
// of 255. Windows are opaque, so premultiplied and other channels are the same.
func differing(a, b image.Image, levels int) (n int) {
	p, q := rgba(a), rgba(b)
	for i := 0; i < len(p.Pix); i += 4 {
		for c := range 4 {
			if d := int(p.Pix[i+c]) - int(q.Pix[i+c]); d > levels || d < -levels {
				n++
				break
			}
		}
	}
	return n
}

// rgba returns a picture in channels of a byte, without gaps between its lines.
func rgba(img image.Image) *image.RGBA {
	r := img.Bounds()
	if p, ok := img.(*image.RGBA); ok && p.Stride == 4*r.Dx() {
		return p
	}
	p := image.NewRGBA(image.Rect(0, 0, r.Dx(), r.Dy()))
	draw.Draw(p, p.Rect, img, r.Min, draw.Src)
	return p
}

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
