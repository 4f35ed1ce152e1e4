package paint

import (
	"testing"

	"organbook/internal/theory"
)

// TestBlocksKeepTheirSignsOnTheStaffsPicture paints the blocks of every family over
// four octaves and finds no ink over or under the place they were given: a flat of
// the highest note stands taller than its head.
func TestBlocksKeepTheirSignsOnTheStaffsPicture(t *testing.T) {
	const width, height, margin = 140, 84, 16
	const slack = 3 // places are whole: what is drawn at one may reach some pixels beyond
	blocks := 0
	for _, tonic := range []string{"C", "Db", "D", "Eb", "F", "F#", "Gb", "G", "Ab", "A", "Bb", "B"} {
		for _, sixth := range theory.Sixths {
			family := theory.NewFamily(theory.MustParseName(tonic), sixth)
			for _, name := range family.Scale() {
				for octave := 3; octave <= 6; octave++ {
					voices, _, ok := family.Block(theory.NewPitch(name, octave))
					if !ok {
						continue
					}
					blocks++
					p := NewPicture(width, height+2*margin, 1, Dark().Ground)
					PaintBlockStaff(p, Rect{4, margin, width - 8, height}, voices, Dark())
					for y := range height + 2*margin {
						if y >= margin-slack && y < margin+height+slack {
							continue
						}
						for x := range width {
							if p.img.RGBAAt(x, y) != p.img.RGBAAt(0, 0) {
								t.Fatalf("%s %s, %v: ink at %d, %d", tonic, sixth, voices, x, y-margin)
							}
						}
					}
				}
			}
		}
	}
	if blocks < 1000 {
		t.Errorf("only %d blocks", blocks)
	}
}
