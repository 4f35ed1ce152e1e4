package paint

import (
	"fmt"
	"image"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"organbook/assets/fonts"
)

// subpixels is how many places within a pixel a glyph is kept at; letters sit
// where they should to a quarter pixel.
const subpixels = 4

// maxRuns bounds the remembered lines of text.
const maxRuns = 4096

// glyphMask is one rasterised glyph and where its first pixel lies from the
// pen.
type glyphMask struct {
	pix          []uint8
	w, h, dx, dy int
}

// glyph holds a character's masks, each made when first drawn.
type glyph struct {
	masks [subpixels]*glyphMask
}

// placed is a glyph at a distance from the line's start, in pixels.
type placed struct {
	x float64
	r rune
	g *glyph
}

// run is one line of text laid out.
type run struct {
	glyphs []placed
	width  float64
}

// typeface is one font at one size in pixels.
type typeface struct {
	face   font.Face
	glyphs map[rune]*glyph
	runs   map[string]*run
}

type faceKey struct {
	font Font
	size float64
}

// typefaces is shared by all canvases: faces and masks are costly to make and
// the program uses few sizes. Its lock covers every use of a face, because a
// font.Face is not safe for concurrent use.
var typefaces = struct {
	sync.Mutex
	fonts [3]*opentype.Font
	faces map[faceKey]*typeface
}{faces: map[faceKey]*typeface{}}

// faceFor returns the typeface; the lock must be held.
func faceFor(f Font, size float64) *typeface {
	key := faceKey{f, math.Round(size*8) / 8}
	if t := typefaces.faces[key]; t != nil {
		return t
	}
	face, err := opentype.NewFace(fontFor(f), &opentype.FaceOptions{Size: key.size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic(fmt.Sprintf("paint: font size %g: %v", key.size, err))
	}
	t := &typeface{face: face, glyphs: map[rune]*glyph{}, runs: map[string]*run{}}
	typefaces.faces[key] = t
	return t
}

func fontFor(f Font) *opentype.Font {
	if typefaces.fonts[f] == nil {
		parsed, err := opentype.Parse([...][]byte{fonts.Regular, fonts.SemiBold, fonts.Music}[f])
		if err != nil {
			// The fonts are embedded: a test would have failed.
			panic(fmt.Sprintf("paint: embedded font: %v", err))
		}
		typefaces.fonts[f] = parsed
	}
	return typefaces.fonts[f]
}

func (t *typeface) run(s string) *run {
	if r := t.runs[s]; r != nil {
		return r
	}
	if len(t.runs) >= maxRuns {
		clear(t.runs)
	}
	r := t.layOut(s)
	t.runs[s] = r
	return r
}

// layOut places the characters of s with their kerning.
func (t *typeface) layOut(s string) *run {
	out := &run{}
	var pen fixed.Int26_6
	before := rune(-1)
	for _, r := range s {
		if before >= 0 {
			pen += t.face.Kern(before, r)
		}
		out.glyphs = append(out.glyphs, placed{float64(pen) / 64, r, t.glyph(r)})
		if advance, ok := t.face.GlyphAdvance(r); ok {
			pen += advance
		}
		before = r
	}
	out.width = float64(pen) / 64
	return out
}

func (t *typeface) glyph(r rune) *glyph {
	g := t.glyphs[r]
	if g == nil {
		g = &glyph{}
		t.glyphs[r] = g
	}
	return g
}

// mask returns the glyph's mask at one of the places within a pixel.
func (t *typeface) mask(g *glyph, r rune, place int) *glyphMask {
	if m := g.masks[place]; m != nil {
		return m
	}
	m := &glyphMask{}
	dot := fixed.Point26_6{X: fixed.Int26_6(place * 64 / subpixels)}
	if dr, src, at, _, ok := t.face.Glyph(dot, r); ok && !dr.Empty() {
		m.w, m.h, m.dx, m.dy = dr.Dx(), dr.Dy(), dr.Min.X, dr.Min.Y
		m.pix = make([]uint8, m.w*m.h)
		copyMask(m, src, at)
	}
	g.masks[place] = m
	return m
}

func copyMask(m *glyphMask, src image.Image, at image.Point) {
	alpha, ok := src.(*image.Alpha)
	for y := 0; y < m.h; y++ {
		for x := 0; x < m.w; x++ {
			if ok {
				m.pix[y*m.w+x] = alpha.AlphaAt(at.X+x, at.Y+y).A
				continue
			}
			_, _, _, a := src.At(at.X+x, at.Y+y).RGBA()
			m.pix[y*m.w+x] = uint8(a >> 8)
		}
	}
}

// textWidth measures s; in and out are in the unit of size.
func textWidth(f Font, size float64, s string) float64 {
	typefaces.Lock()
	defer typefaces.Unlock()
	return faceFor(f, size).run(s).width
}

// inkBand returns where the ink of s, one character, begins and ends below the base
// line, negative above it; in and out are in the unit of size.
func inkBand(f Font, size float64, s string) (top, bottom float64) {
	typefaces.Lock()
	defer typefaces.Unlock()
	for _, r := range s {
		if b, _, ok := faceFor(f, size).face.GlyphBounds(r); ok {
			return float64(b.Min.Y) / 64, float64(b.Max.Y) / 64
		}
	}
	return -size, 0
}

// drawText hands each glyph of s, started at pixel x, to draw with the pixel
// its pen stands in.
func drawText(s string, f Font, size, x float64, draw func(m *glyphMask, x int)) {
	typefaces.Lock()
	defer typefaces.Unlock()
	t := faceFor(f, size)
	for _, p := range t.run(s).glyphs {
		at := math.Floor((x+p.x)*subpixels + 0.5)
		whole := int(math.Floor(at / subpixels))
		draw(t.mask(p.g, p.r, int(at)-whole*subpixels), whole)
	}
}
