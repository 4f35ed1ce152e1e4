package paint

import (
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// update has the golden pictures written anew; look at them before you commit them.
var update = os.Getenv("ORGANBOOK_GOLDEN") == "write"

// maxDiffering is the part of a picture's pixels that may differ visibly from
// the golden one: rasterisers of other processors round edges differently.
const maxDiffering = 0.002

// golden compares a picture with the one in testdata.
func golden(t *testing.T, name string, img *image.RGBA) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if update {
		writePNG(t, path, img)
		return
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	decoded, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if decoded.Bounds() != img.Bounds() {
		t.Fatalf("%s: picture is %v, golden %v", name, img.Bounds(), decoded.Bounds())
	}
	want := image.NewRGBA(img.Bounds())
	draw.Draw(want, want.Rect, decoded, image.Point{}, draw.Src)
	if n := visiblyDiffering(img, want); float64(n) > maxDiffering*float64(len(img.Pix)/4) {
		got := filepath.Join(t.TempDir(), "..", name+"-got.png")
		writePNG(t, got, img)
		t.Errorf("%s: %d of %d pixels differ; see %s", name, n, len(img.Pix)/4, got)
	}
}

// visiblyDiffering counts the pixels in which a channel differs by more than
// a tenth.
func visiblyDiffering(a, b *image.RGBA) (n int) {
	for i := 0; i < len(a.Pix); i += 4 {
		for k := 0; k < 3; k++ {
			if d := int(a.Pix[i+k]) - int(b.Pix[i+k]); d > 25 || d < -25 {
				n++
				break
			}
		}
	}
	return n
}

func writePNG(t *testing.T, path string, img image.Image) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

func TestGolden(t *testing.T) {
	for _, th := range []*Theme{Dark(), Light()} {
		for name, img := range goldenPictures(th) {
			t.Run(name+"-"+th.Name, func(t *testing.T) { golden(t, name+"-"+th.Name, img) })
		}
	}
}

func goldenPictures(th *Theme) map[string]*image.RGBA {
	l := LayoutGrid(demo(), GridOptions{Width: 640, Passages: true})
	grid := NewPicture(640, 280, 1, th.Ground)
	PaintGrid(grid, l, th, stateful())

	console := NewPicture(640, 180, 1, th.Panel)
	k := LayoutConsole(640, 180, project.Consoles()[0])
	PaintConsole(console, k, th, th.Panel)
	PaintLit(console, k, th, someLit)

	single := NewPicture(640, 120, 1, th.Panel)
	k = LayoutConsole(640, 120, project.Consoles()[3])
	PaintConsole(single, k, th, th.Panel)
	PaintLit(single, k, th, []LitKey{{Division: arrange.Lower, Key: 53, Limb: arrange.LeftHand, Finger: 2}, {Division: arrange.Upper, Key: 55, Limb: arrange.RightHand, Finger: 1}})

	naturals := NewPicture(360, 90, 2, th.Panel)
	PaintBlockStaff(naturals, Rect{6, 6, 90, 78}, pitches("F4", "F#4", "A4", "C5"), th)
	PaintBlockLine(naturals, Rect{110, 6, 240, 78}, []LineBlock{{pitches("F#4", "A4"), false}, {pitches("F4", "A4"), false}, {pitches("Bb4", "B4", "D4"), false}}, th)

	bench := NewPicture(420, 96, 1, th.Panel)
	block := pitches("Bb4", "A4", "F#4", "Eb4")
	PaintBlockStaff(bench, Rect{8, 8, 120, 80}, block, th)
	PaintBlockKeys(bench, Rect{140, 16, 130, 64}, BlockKeysOf(block, arrange.LeftHand), th)
	PaintDrawbars(bench, LayoutDrawbars(Rect{290, 8, 120, 80}, arrange.Pedal), th, "Pedal", []uint8{8, 5}, th.Panel)
	return map[string]*image.RGBA{"grid": grid.img, "console": console.img, "single": single.img, "naturals": naturals.img, "bench": bench.img}
}
