package paint

import (
	"math"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// Measures of the console in millimetres. An octave of a manual is 164.5 mm
// wide (seven white keys of 23.5 mm). Pedals stand as pedalboards are built:
// natural keys 60 mm apart, 25 keys about 1000 mm over all.
const (
	whitePitch = 23.5
	manualDeep = 128.0
	blackDeep  = 82.0
	blackWide  = 13.7
	pedalPitch = 64.0
	pedalWide  = 37.0
	pedalDeep  = 132.0
	sharpDeep  = 74.0
	sharpWide  = 26.0
	sharpAbove = 26.0 // how far a pedal's sharps reach behind the naturals
)

// Room for the divisions' names, in units.
const (
	labelRoom  = 46.0 // left of the keyboards
	splitLabel = 16.0 // above a manual that both divisions share
)

// ConsoleLayout is the geometry of a console's keyboards in a size. Both
// manuals are drawn to one scale with equal pitches above each other. The
// pedalboard stands with its middle under theirs, at the same scale too unless
// it would be wider than they are (as real ones often are): then it is drawn
// as wide as the manuals. Depths shrink to the height.
type ConsoleLayout struct {
	// Console is the instrument.
	Console project.Console
	// Width and Height are the size asked for, in units.
	Width, Height float64
	// Upper, Lower and Pedal are the keyboards' outlines; empty for a
	// keyboard the console lacks.
	Upper, Lower, Pedal Rect

	keys [3][]consoleKey
}

// consoleKey is the place of one key.
type consoleKey struct {
	Rect
	key   int
	sharp bool
}

// LayoutConsole places the keyboards of a console in a size.
func LayoutConsole(width, height float64, console project.Console) *ConsoleLayout {
	l := &ConsoleLayout{Console: console, Width: width, Height: height}
	compasses := [3]project.Compass{console.Upper, console.Lower, console.Pedal}
	if console.Split > 0 {
		l.placeSplit()
		return l
	}
	low, high := spread(console)
	whites := float64(whiteIndex(high) - whiteIndex(low) + 1)
	unit := (width - labelRoom - 1) / (whites * whitePitch) // units to the millimetre
	l.placeBands(unit)
	for d, band := range []*Rect{&l.Upper, &l.Lower} {
		k := compasses[d]
		if k.Keys() == 0 {
			*band = Rect{}
			continue
		}
		x := labelRoom + float64(whiteIndex(k.Lowest)-whiteIndex(low))*whitePitch*unit
		band.X, band.W = x, float64(whiteIndex(k.Highest)-whiteIndex(k.Lowest)+1)*whitePitch*unit
		l.keys[d] = manualKeys(*band, k)
	}
	l.placePedals(unit)
	return l
}

// spread returns the lowest and highest key of the two manuals; staggered
// manuals stand where their pitches are.
func spread(c project.Console) (low, high int) {
	low, high = c.Upper.Lowest, c.Upper.Highest
	if c.Lower.Keys() > 0 {
		low, high = min(low, c.Lower.Lowest), max(high, c.Lower.Highest)
	}
	return low, high
}

// placeBands shares the height out between the keyboards, flatter than life
// when the height asks for it.
func (l *ConsoleLayout) placeBands(unit float64) {
	deep, pedal := manualDeep*unit, (pedalDeep+sharpAbove)*unit
	hasPedal := l.Console.Pedal.Keys() > 0
	gap := math.Max(6, l.Height*0.045)
	need := 2*deep + gap
	if hasPedal {
		need += pedal + 1.6*gap
	}
	if squeeze := l.Height / need; squeeze < 1 {
		deep, pedal, gap = deep*squeeze, pedal*squeeze, gap*squeeze
	}
	l.Upper = Rect{labelRoom, 0, 0, deep}
	l.Lower = Rect{labelRoom, deep + gap, 0, deep}
	if hasPedal {
		l.Pedal = Rect{0, l.Lower.Bottom() + 1.6*gap, 0, pedal}
	}
}

// placeSplit places a console whose divisions share one manual.
func (l *ConsoleLayout) placeSplit() {
	c := l.Console
	whole := project.Compass{Lowest: c.Lower.Lowest, Highest: c.Upper.Highest}
	whites := float64(whiteIndex(whole.Highest) - whiteIndex(whole.Lowest) + 1)
	unit := (l.Width - labelRoom - 1) / (whites * whitePitch)
	deep := math.Min(manualDeep*unit, l.Height-2*splitLabel)
	band := Rect{labelRoom, (l.Height - deep) / 2, l.Width - labelRoom - 1, deep}
	for _, k := range manualKeys(band, whole) {
		d := arrange.Lower
		if k.key >= c.Split {
			d = arrange.Upper
		}
		l.keys[d] = append(l.keys[d], k)
	}
	l.Upper, l.Lower = boundsOf(l.keys[arrange.Upper]), boundsOf(l.keys[arrange.Lower])
}

func boundsOf(keys []consoleKey) (r Rect) {
	for _, k := range keys {
		r = r.Union(k.Rect)
	}
	return r
}

// placePedals centres the pedalboard under the manuals.
func (l *ConsoleLayout) placePedals(unit float64) {
	k := l.Console.Pedal
	if k.Keys() == 0 {
		return
	}
	slots := float64(whiteIndex(k.Highest) - whiteIndex(k.Lowest))
	pitch := pedalPitch * unit
	width := slots*pitch + pedalWide*unit
	manual := l.Upper.Union(l.Lower)
	if width > manual.W { // a wide pedalboard under narrow manuals is drawn closer
		pitch *= (manual.W - pedalWide*unit) / (width - pedalWide*unit)
		width = manual.W
	}
	l.Pedal.X, l.Pedal.W = manual.CentreX()-width/2, width
	scale := pitch / pedalPitch
	back := sharpAbove / (pedalDeep + sharpAbove) * l.Pedal.H
	for key := k.Lowest; key <= k.Highest; key++ {
		x := l.Pedal.X + (pedalSlot(key)-pedalSlot(k.Lowest))*pitch
		if isSharp(key) {
			h := sharpDeep / (pedalDeep + sharpAbove) * l.Pedal.H
			l.keys[arrange.Pedal] = append(l.keys[arrange.Pedal],
				consoleKey{Rect{x + (pedalWide-sharpWide)/2*scale, l.Pedal.Y, sharpWide * scale, h}, key, true})
			continue
		}
		l.keys[arrange.Pedal] = append(l.keys[arrange.Pedal],
			consoleKey{Rect{x, l.Pedal.Y + back, pedalWide * scale, l.Pedal.H - back}, key, false})
	}
}

// pedalSlot returns where a pedal stands in pitches of natural keys; sharps
// stand half-way.
func pedalSlot(key int) float64 {
	if isSharp(key) {
		return float64(whiteIndex(key-1)) + 0.5
	}
	return float64(whiteIndex(key))
}

// manualKeys places the keys of a compass in a band.
func manualKeys(band Rect, k project.Compass) []consoleKey {
	first := whiteIndex(k.Lowest)
	whites := whiteIndex(k.Highest) - first + 1
	w := band.W / float64(whites)
	out := make([]consoleKey, 0, k.Keys())
	for key := k.Lowest; key <= k.Highest; key++ {
		i := float64(whiteIndex(key) - first)
		if isSharp(key) {
			bw := w * blackWide / whitePitch
			x := band.X + (i+1)*w - bw/2 + sharpShift(key)*w
			out = append(out, consoleKey{Rect{x, band.Y, bw, band.H * blackDeep / manualDeep}, key, true})
			continue
		}
		out = append(out, consoleKey{Rect{band.X + i*w, band.Y, w, band.H}, key, false})
	}
	return out
}

// sharpShift returns how far a black key stands beside the crack between its
// white keys, in widths of a white key: outer keys of a group lean outward.
func sharpShift(key int) float64 {
	switch key % 12 {
	case 1, 6:
		return -0.08
	case 3, 10:
		return 0.08
	}
	return 0
}

// isSharp reports whether a key is a black one.
func isSharp(key int) bool { return 0b010101001010>>(mod(key, 12))&1 == 1 }

// whiteIndex counts white keys from MIDI key 0 to the white key that is key
// or lies just below it.
func whiteIndex(key int) int {
	below := [12]int{0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6}
	return key/12*7 + below[key%12]
}

// KeyRect returns the place of a key on a division; ok is false when the
// division lacks the key. White keys reach behind the black ones.
func (l *ConsoleLayout) KeyRect(d arrange.Division, key int) (r Rect, sharp, ok bool) {
	if k := l.find(d, key); k != nil {
		return k.Rect, k.sharp, true
	}
	return Rect{}, false, false
}

func (l *ConsoleLayout) find(d arrange.Division, key int) *consoleKey {
	keys := l.keys[d]
	if len(keys) == 0 || key < keys[0].key || key > keys[len(keys)-1].key {
		return nil
	}
	return &keys[key-keys[0].key]
}

// KeyAt returns the key under a point, black keys before white ones.
func (l *ConsoleLayout) KeyAt(x, y float64) (d arrange.Division, key int, ok bool) {
	for _, sharp := range []bool{true, false} {
		for d := range l.keys {
			for i := range l.keys[d] {
				if k := &l.keys[d][i]; k.sharp == sharp && k.Contains(x, y) {
					return arrange.Division(d), k.key, true
				}
			}
		}
	}
	return 0, 0, false
}
