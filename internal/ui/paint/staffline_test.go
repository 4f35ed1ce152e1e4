package paint

import (
	"testing"

	"organbook/internal/theory"
)

// TestLineOfBlocks paints lines of blocks: as many as have room are shown, each
// leaves ink where it stands, and nothing leaves the rectangle's width.
func TestLineOfBlocks(t *testing.T) {
	block := pitches("Bb4", "G4", "E4", "Db4")
	low := pitches("A4", "F#4", "C4", "Eb3")
	for _, tc := range []struct {
		n    int
		add  []theory.Pitch
		want int
	}{{1, block, 1}, {4, block, 4}, {40, block, -1}, {4, low, 4}, {40, low, -1}, {3, nil, 3}} {
		var line []LineBlock
		for range tc.n {
			line = append(line, LineBlock{Voices: tc.add})
		}
		p := NewPicture(300, 80, 1, Dark().Ground)
		r := Rect{4, 2, 280, 76}
		got := PaintBlockLine(p, r, line, Dark())
		if tc.want >= 0 && got != tc.want || tc.want < 0 && (got < 5 || got >= tc.n) {
			t.Errorf("%d blocks of %v: %d shown", tc.n, tc.add, got)
		}
		for y := range 80 {
			for x := 290; x < 300; x++ {
				if p.img.RGBAAt(x, y) != p.img.RGBAAt(299, 0) {
					t.Fatalf("%d blocks of %v: ink at %d, %d outside", tc.n, tc.add, x, y)
				}
			}
		}
	}
}

// TestNaturalsAfterAlteredNotes holds that a natural has its sign where a block
// before altered the same line or space, once.
func TestNaturalsAfterAlteredNotes(t *testing.T) {
	p := staffPainter{bottom: trebleBottom}
	for i, step := range []struct {
		notes []theory.Pitch
		want  []bool
	}{
		{pitches("F4", "A4"), []bool{false, false}},
		{pitches("F#4", "A4"), []bool{true, false}},
		{pitches("F4", "A4"), []bool{true, false}},
		{pitches("F4", "A4", "F5"), []bool{false, false, false}},
		{pitches("Eb4", "E4"), []bool{true, true}},
		{pitches("E4"), []bool{true}},
	} {
		p.notes = validSorted(step.notes)
		for k, want := range step.want {
			if got := p.columns().of[k] >= 0; got != want {
				t.Errorf("block %d: %v has a sign: %v, want %v", i, p.notes[k], got, want)
			}
		}
		p.remember()
	}
}

// TestFaintBlocksAreFainter compares the ink of a block that stays with that of
// one that changes.
func TestFaintBlocksAreFainter(t *testing.T) {
	ink := func(faint bool) (sum int) {
		p := NewPicture(120, 80, 1, Dark().Ground)
		PaintBlockLine(p, Rect{0, 0, 120, 80}, []LineBlock{{pitches("C5", "A4", "G4", "E4"), faint}}, Dark())
		for _, b := range p.img.Pix {
			sum += int(b)
		}
		return sum
	}
	if ink(true) >= ink(false) {
		t.Error("a faint block has as much ink as another")
	}
}
