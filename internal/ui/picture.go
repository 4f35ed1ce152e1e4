package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"organbook/internal/ui/paint"
)

// picture is an image that a painter of package paint fills, at the pixels of
// the screen. It is painted again only when invalidate was called or its size
// changed; everything else shows the kept image.
type picture struct {
	raster *canvas.Raster
	img    *image.RGBA
	valid  bool
	draw   func(img *image.RGBA, scale float64)
}

func newPicture(draw func(img *image.RGBA, scale float64)) *picture {
	p := &picture{draw: draw}
	p.raster = canvas.NewRaster(p.generate)
	p.raster.ScaleMode = canvas.ImageScalePixels // pixels fit the screen's; smoothing them costs a third of a frame
	return p
}

// newPainted is a picture whose painter starts at the picture's own corner.
func newPainted(draw func(c *paint.Canvas)) *picture {
	return newPicture(func(img *image.RGBA, scale float64) { draw(paint.NewCanvas(img, scale, 0, 0)) })
}

// invalidate has the picture painted again.
func (p *picture) invalidate() {
	p.valid = false
	p.raster.Refresh()
}

// generate is asked by the toolkit for so many pixels.
func (p *picture) generate(w, h int) image.Image {
	if w <= 0 || h <= 0 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	if p.img == nil || p.img.Rect.Dx() != w || p.img.Rect.Dy() != h {
		p.img, p.valid = image.NewRGBA(image.Rect(0, 0, w, h)), false
	}
	if !p.valid {
		p.valid = true
		p.draw(p.img, float64(w)/float64(max(p.raster.Size().Width, 1)))
	}
	return p.img
}

// place moves and sizes the picture to whole units, so that its pixels are the
// screen's.
func (p *picture) place(x, y, w, h float32) {
	p.raster.Move(fyne.NewPos(x, y))
	p.raster.Resize(fyne.NewSize(w, h))
}
