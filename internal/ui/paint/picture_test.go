package paint

import (
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

func TestGridPictures(t *testing.T) {
	for _, th := range []*Theme{Dark(), Light()} {
		savePicture(t, "chart-"+th.Name, GridPicture(demo(), demo().Chart.Title, th, 1160, 1))
	}
}

// someLit are keys of all limbs, with and without fingers, with substitutions,
// slides and crossings.
var someLit = []LitKey{
	{Division: arrange.Upper, Key: 64, Limb: arrange.RightHand, Finger: 1, Glide: true},
	{Division: arrange.Upper, Key: 66, Limb: arrange.RightHand, Finger: 2},
	{Division: arrange.Upper, Key: 71, Limb: arrange.RightHand, Finger: 5, Then: 4},
	{Division: arrange.Lower, Key: 58, Limb: arrange.LeftHand, Finger: 2},
	{Division: arrange.Lower, Key: 60, Limb: arrange.LeftHand, Finger: 1},
	{Division: arrange.Lower, Key: 65, Limb: arrange.LeftHand, Ghost: true},
	{Division: arrange.Lower, Key: 53, Limb: arrange.LeftHand, Finger: 4, Ghost: true},
	{Division: arrange.Lower, Key: 54, Limb: arrange.LeftHand, Finger: 3, Ghost: true},
	{Division: arrange.Pedal, Key: 38, Limb: arrange.LeftFoot, Part: reach.Toe, Cross: reach.Behind},
	{Division: arrange.Pedal, Key: 44, Limb: arrange.RightFoot, Part: reach.Heel, Glide: true},
}

// TestNarrowPictures shows notes that go on in the next system.
func TestNarrowPictures(t *testing.T) {
	r := demo()
	r.Chart.Melody[12].Duration += 7 * q / 2
	r.Chart.Melody = append(r.Chart.Melody[:13], r.Chart.Melody[17:]...)
	r.Steps, r.Notes = nil, nil
	(&demoBuilder{chart: r.Chart, r: *r}).blocks()
	l := LayoutGrid(r, GridOptions{Width: 420})
	c := NewPicture(420, 900, 1.5, Dark().Ground)
	PaintGrid(c, l, Dark(), nil)
	savePicture(t, "narrow", c.Image())
}

func TestConsolePictures(t *testing.T) {
	for _, th := range []*Theme{Dark(), Light()} {
		for _, console := range project.Consoles() {
			c := NewPicture(1060, 280, 1, th.Panel)
			l := LayoutConsole(1060, 280, console)
			PaintConsole(c, l, th, th.Panel)
			PaintLit(c, l, th, someLit)
			savePicture(t, "console-"+console.ID+"-"+th.Name, c.Image())
		}
	}
}

func pitches(names ...string) (out []theory.Pitch) {
	for _, n := range names {
		out = append(out, theory.MustParsePitch(n))
	}
	return out
}

func TestBenchPictures(t *testing.T) {
	blocks := [][]theory.Pitch{
		pitches("Bb4", "A4", "F#4", "Eb4"), pitches("D5", "Bb4", "G4", "E4"), pitches("G5", "Eb5", "C5", "A4", "G4"),
		pitches("C4", "Bb3", "G3", "E3"), pitches("E6", "C6", "A5", "G5"), pitches("F#3", "D##3", "Cb3", "Abb2"),
		pitches("G4", "E4", "C4", "A3", "D3"), pitches("D5", "G4", "Bb3", "F#3"), pitches("Ab5", "D5", "B4", "F3"),
	}
	reg := project.Registration{Upper: project.Drawbars{8, 8, 8, 6, 0, 4, 0, 2, 6}, Lower: project.Drawbars{8, 4, 8}, Pedal: [2]uint8{8, 5}}
	for _, th := range []*Theme{Dark(), Light()} {
		c := NewPicture(900, 420, 2, th.Panel)
		for i, b := range blocks {
			x, y := 10+float64(i%3)*290, 10+float64(i/3)*95
			PaintBlockStaff(c, Rect{x, y, 120, 80}, b, th)
			keys := BlockKeysOf(b, arrange.RightHand)
			for j := range keys {
				keys[j].Finger = len(keys) - j
			}
			PaintBlockKeys(c, Rect{x + 140, y + 8, 130, 64}, keys, th)
		}
		PaintBlockKeys(c, Rect{10, 310, 74, 32}, BlockKeysOf(blocks[0], arrange.RightHand), th)
		for d, title := range []string{"Upper · full section", "Lower · low brass", "Pedal · round bass"} {
			l := LayoutDrawbars(Rect{120 + 220*float64(d), 290, 180, 130}, arrange.Division(d))
			PaintDrawbars(c, l, th, title, Settings(&reg, arrange.Division(d)), th.Panel)
		}
		savePicture(t, "bench-"+th.Name, c.Image())
	}
}

// stateful is a window's state that shows everything at once.
func stateful() *GridState {
	chord, passage := 1, 1
	return &GridState{
		Selected: map[int]bool{4: true, 12: true}, Chord: &chord, Passage: &passage,
		Caret: &Caret{At: 15 * q, Length: q, Key: 72}, LoopStart: 5 * q, LoopEnd: 17 * q,
		Hover: Hit{Kind: HitRow, System: 0, Bar: 3, Key: 70},
	}
}

func TestStatePictures(t *testing.T) {
	for _, th := range []*Theme{Dark(), Light()} {
		l := LayoutGrid(demo(), GridOptions{Width: 830})
		c := NewPicture(830, 430, 2, th.Ground)
		PaintGrid(c, l, th, stateful())
		savePicture(t, "state-"+th.Name, c.Image())
	}
}
