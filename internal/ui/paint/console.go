package paint

import (
	"math"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/reach"
)

// Room for the divisions' names, in units.
const (
	labelRoom  = 46.0 // left of the keyboards
	splitLabel = 16.0 // above a manual that both divisions share
)

// ConsoleLayout is the geometry of a console's keyboards in a size. It is the
// reach model's, in millimetres, drawn to one scale: manuals stand where their
// keys are, and the pedalboard with its middle under theirs. Depths are
// foreshortened where the height asks for it, those of pedals always.
type ConsoleLayout struct {
	// Console is the instrument.
	Console project.Console
	// Words says a word of the picture in its reader's language; nil leaves it
	// in English.
	Words func(string) string
	// Width and Height are the size asked for, in units.
	Width, Height float64
	// Scale is how many units a millimetre along the keyboards takes.
	Scale float64
	// Upper, Lower and Pedal are the keyboards' outlines; empty for a
	// keyboard the console lacks.
	Upper, Lower, Pedal Rect

	model reach.Console
	keys  [3][]consoleKey
}

// consoleKey is the place of one key.
type consoleKey struct {
	Rect
	key   int
	sharp bool
}

// pedalSlant is how much of their depth pedals show to someone on the bench.
const pedalSlant = 0.28

// LayoutConsole places the keyboards of a console in a size.
func LayoutConsole(width, height float64, console project.Console) *ConsoleLayout {
	l := &ConsoleLayout{Console: console, Width: width, Height: height, model: arrange.ReachConsole(console)}
	manuals := l.extent(reach.Upper).union(l.extent(reach.Lower))
	pedals := l.extent(reach.Pedal)
	wide := math.Max(manuals.width(), pedals.width())
	l.Scale = (width - labelRoom - 1) / wide
	middle := labelRoom + wide*l.Scale/2
	l.placeBands()
	x0 := middle - manuals.middle()*l.Scale
	l.place(reach.Upper, x0, &l.Upper)
	if console.Split > 0 {
		l.Lower = l.Upper
	}
	l.place(reach.Lower, x0, &l.Lower)
	l.place(reach.Pedal, middle-pedals.middle()*l.Scale, &l.Pedal)
	return l
}

// leastManual is the depth at which a manual can still be played by the mouse, and
// manualGap what stands between two in a low room, in units.
const leastManual, manualGap = 36.0, 6.0

// LayoutManuals places the manuals of a console in a size that is low: both of them
// where they can be played, else the upper one alone, and none of the pedals. It is
// nil where not even that can be played.
func LayoutManuals(width, height float64, console project.Console) *ConsoleLayout {
	l := &ConsoleLayout{Console: console, Width: width, Height: height, model: arrange.ReachConsole(console)}
	all := l.extent(reach.Upper).union(l.extent(reach.Lower))
	l.Scale = (width - labelRoom - 1) / all.width()
	x0, deep := labelRoom-all.low*l.Scale, (all.far-all.near)*l.Scale
	if console.Split > 0 {
		l.Upper = Rect{labelRoom, splitLabel, 0, math.Min(deep, height-splitLabel)}
		l.Lower = l.Upper
	} else if half := math.Min(deep, (height-manualGap)/2); half >= leastManual {
		l.Upper = Rect{labelRoom, 0, 0, half}
		l.Lower = Rect{labelRoom, half + manualGap, 0, half}
	} else {
		l.Upper = Rect{labelRoom, 0, 0, math.Min(deep, height)}
	}
	if l.Upper.H < leastManual {
		return nil
	}
	l.place(reach.Upper, x0, &l.Upper)
	if l.Lower.H > 0 {
		l.place(reach.Lower, x0, &l.Lower)
	}
	return l
}

// extent is the room that keys take along the keyboard and away from the
// player, in millimetres; it holds nothing where high is not above low.
type extent struct{ low, high, near, far float64 }

func (e extent) width() float64  { return e.high - e.low }
func (e extent) middle() float64 { return (e.low + e.high) / 2 }

func (e extent) union(o extent) extent {
	switch {
	case o.width() <= 0:
		return e
	case e.width() <= 0:
		return o
	}
	return extent{math.Min(e.low, o.low), math.Max(e.high, o.high), math.Min(e.near, o.near), math.Max(e.far, o.far)}
}

// extent returns the room that a division takes.
func (l *ConsoleLayout) extent(d reach.Division) (all extent) {
	k := l.model.Compass(d)
	for key := k.Lowest; key <= k.Highest; key++ {
		all = all.union(extentOf(l.model.Key(d, key), d))
	}
	return all
}

// extentOf is the room of one key. A natural of a manual takes half the gap to
// its neighbours, so that outlines are shared. A pedal that is higher, as those
// at the ends of a concave board are, seems further back, and a pedal's sharp
// shows its front.
func extentOf(s reach.KeyShape, d reach.Division) extent {
	e := extent{float64(s.Left), float64(s.Left + s.Width), float64(s.Front), float64(s.Front + s.Depth)}
	switch {
	case d == reach.Pedal:
		e.near, e.far = e.near+float64(s.Rise), e.far+float64(s.Rise+s.Height)
	case !s.Sharp:
		e.low, e.high = e.low-naturalGap/2, e.high+naturalGap/2
	}
	return e
}

// naturalGap is the gap between two naturals of a manual in millimetres.
var naturalGap = float64(reach.ManualKey(62).Left - reach.ManualKey(60).Left - reach.ManualKey(60).Width)

// placeBands shares the height out between the keyboards, flatter than life
// when the height asks for it.
func (l *ConsoleLayout) placeBands() {
	manual, pedals := l.extent(reach.Upper), l.extent(reach.Pedal)
	deep, pedal := (manual.far-manual.near)*l.Scale, (pedals.far-pedals.near)*pedalSlant*l.Scale
	if l.Console.Split > 0 {
		room := l.Height - 2*splitLabel
		if pedal > 0 {
			room -= 0.6 * pedal
		}
		deep = math.Min(deep, room)
		l.Upper = Rect{labelRoom, splitLabel, 0, deep}
		if pedal > 0 {
			y := l.Upper.Bottom() + splitLabel/2
			l.Pedal = Rect{0, y, 0, math.Min(pedal, l.Height-y)}
		} else {
			l.Upper.Y = (l.Height - deep) / 2
		}
		return
	}
	gap := math.Max(6, l.Height*0.045)
	need := 2*deep + gap
	if pedal > 0 {
		need += pedal + 1.6*gap
	}
	if squeeze := l.Height / need; squeeze < 1 {
		deep, pedal, gap = deep*squeeze, pedal*squeeze, gap*squeeze
	}
	l.Upper = Rect{labelRoom, 0, 0, deep}
	l.Lower = Rect{labelRoom, deep + gap, 0, deep}
	if pedal > 0 {
		l.Pedal = Rect{0, l.Lower.Bottom() + 1.6*gap, 0, pedal}
	}
}

// place puts the keys of a division in its band. x0 is where the place 0 of
// their geometry is drawn.
func (l *ConsoleLayout) place(d reach.Division, x0 float64, band *Rect) {
	k, all := l.model.Compass(d), l.extent(d)
	if k.Keys() == 0 {
		*band = Rect{}
		return
	}
	band.X, band.W = x0+all.low*l.Scale, all.width()*l.Scale
	deep := band.H / (all.far - all.near)
	for key := k.Lowest; key <= k.Highest; key++ {
		s := l.model.Key(d, key)
		e := extentOf(s, d)
		r := Rect{x0 + e.low*l.Scale, band.Y + (all.far-e.far)*deep, e.width() * l.Scale, (e.far - e.near) * deep}
		l.keys[d] = append(l.keys[d], consoleKey{r, key, s.Sharp})
	}
}

// manualKeys places the keys of a compass, natural to natural, in a band.
func manualKeys(band Rect, k project.Compass) []consoleKey {
	l := ConsoleLayout{model: reach.Console{Upper: reach.Compass{Lowest: k.Lowest, Highest: k.Highest}}}
	all := l.extent(reach.Upper)
	l.Scale = band.W / all.width()
	l.place(reach.Upper, band.X-all.low*l.Scale, &band)
	return l.keys[reach.Upper]
}

// sharpDepth is the part of a natural's depth beside which a sharp lies.
var sharpDepth = float64(reach.ManualKey(61).Depth / reach.ManualKey(60).Depth)

// isSharp reports whether a key is a black one.
func isSharp(key int) bool { return reach.ManualKey(key).Sharp }

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
