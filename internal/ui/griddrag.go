package ui

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"

	"organbook/internal/project"
	"organbook/internal/ui/paint"
)

// Dragged follows the pointer.
func (g *gridView) Dragged(e *fyne.DragEvent) {
	q := &g.gesture
	if !q.active {
		return
	}
	q.at = e.Position
	if !q.dragged && math.Hypot(float64(q.at.X-q.from.X), float64(q.at.Y-q.from.Y)) < dragSlack {
		return
	}
	q.dragged = true
	g.act(e.Position, g.showDrag)
	g.scrollAlong()
}

// showDrag shows what the drag would do if it ended here.
func (g *gridView) showDrag() {
	q := &g.gesture
	switch q.hit.Kind {
	case paint.HitNote:
		g.showMove()
	case paint.HitNoteEnd:
		g.showResize()
	case paint.HitRow:
		g.showBand()
	case paint.HitLane, paint.HitBar, paint.HitChange, paint.HitCue:
		g.w.session.SelectBars(q.hit.Bar, g.barAt(q.at))
	}
}

// barAt returns the bar nearest to a point.
func (g *gridView) barAt(p fyne.Position) int {
	return g.dragged(p).Bar
}

// dragged returns what lies under a point that something is dragged to: a
// pointer outside the view means the edge next to it.
func (g *gridView) dragged(p fyne.Position) paint.Hit {
	top := g.scroll.Offset.Y
	return g.layout.Nearest(float64(p.X), float64(clamp(p.Y, top+1, top+g.scroll.Size().Height-1)))
}

// moveOf returns how far a dragged note has come, in time and rows.
func (g *gridView) moveOf() (by project.Ticks, semitones int) {
	q := &g.gesture
	snap := g.w.session.Entry().Snap()
	here := g.dragged(q.at)
	by = roundTo(here.At-q.hit.At, snap)
	semitones = int(math.Round(float64(q.from.Y-q.at.Y) / g.layout.Options.RowHeight))
	if here.System != q.hit.System {
		semitones = here.Key - q.hit.Key
		if here.Key == 0 {
			semitones = 0
		}
	}
	return by, semitones
}

func roundTo(t, step project.Ticks) project.Ticks {
	if t < 0 {
		return -roundTo(-t, step)
	}
	return (t + step/2) / step * step
}

// showMove draws the notes that are dragged where they would go.
func (g *gridView) showMove() {
	by, semitones := g.moveOf()
	c := g.w.session.Chart()
	var ghosts []paint.Ghost
	for _, i := range g.w.session.SelectedIndexes() {
		n := c.Melody[i]
		ghosts = append(ghosts, paint.Ghost{Start: n.Start + by, Duration: n.Duration, Key: n.Pitch.Key() + semitones})
	}
	g.showGhosts(ghosts)
	n := c.Melody[g.gesture.hit.Index]
	t := min(max(n.Start+by, 0), c.Length()-1)
	hint := fmt.Sprintf("to %s, %s", c.PositionText(t), g.w.session.SpellAt(t, n.Pitch.Key()+semitones).Pretty())
	if len(ghosts) > 1 {
		hint = fmt.Sprintf("%d notes %s", len(ghosts), hint)
	}
	if replaced := g.replaces(by); replaced != "" {
		hint += factsApart + replaced
	}
	g.w.hint(hint)
}

// replaces says how many notes go where the dragged ones would be dropped, "" for
// none.
func (g *gridView) replaces(by project.Ticks) string {
	c := g.w.session.Chart()
	d, err := project.MoveNotes{Starts: g.w.session.Selection().Notes, By: by}.Apply(c)
	if err != nil || len(d.Melody) == len(c.Melody) {
		return ""
	}
	if n := len(c.Melody) - len(d.Melody); n > 1 {
		return fmt.Sprintf("in place of %d notes", n)
	}
	return "in place of 1 note"
}

// showRecorded draws what was recorded so far, until it is written.
func (g *gridView) showRecorded() {
	if g.gesture.active {
		return
	}
	var ghosts []paint.Ghost
	for _, n := range g.w.session.Recorded() {
		ghosts = append(ghosts, paint.Ghost{Start: n.Start, Duration: n.Duration, Key: n.Pitch.Key()})
	}
	g.showGhosts(ghosts)
}

// showGhosts draws notes that are not there; none takes them away.
func (g *gridView) showGhosts(ghosts []paint.Ghost) {
	if !slices.Equal(g.ghosts, ghosts) {
		g.ghosts = ghosts
		g.repaint()
	}
}

// lengthOf returns the length a dragged end asks for.
func (g *gridView) lengthOf() project.Ticks {
	q := &g.gesture
	n := g.w.session.Chart().Melody[q.hit.Index]
	here := g.dragged(q.at)
	snap := g.w.session.Entry().Snap()
	end := g.layout.Snap(here.At, snap)
	return max(end-n.Start, min(snap, n.Duration))
}

// showResize draws the notes whose ends are dragged as long as they would be.
func (g *gridView) showResize() {
	c := g.w.session.Chart()
	n := c.Melody[g.gesture.hit.Index]
	length := g.lengthOf()
	var ghosts []paint.Ghost
	for _, i := range g.w.session.SelectedIndexes() {
		m := c.Melody[i]
		ghosts = append(ghosts, paint.Ghost{Start: m.Start, Duration: max(m.Duration+length-n.Duration, project.Whole/32), Key: m.Pitch.Key()})
	}
	g.showGhosts(ghosts)
	g.w.hint(fmt.Sprintf("ends at %s", c.PositionText(n.Start+length)))
}

// showBand draws the rubber band and marks the notes that it touches.
func (g *gridView) showBand() {
	a, b := g.gesture.from, g.gesture.at
	put(g.band, min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X)-min(a.X, b.X), max(a.Y, b.Y)-min(a.Y, b.Y))
	touched := g.touched(g.gesture)
	g.showBanded(touched)
	if n := len(touched); n == 1 {
		g.w.hint("1 note in the frame")
	} else {
		g.w.hint(fmt.Sprintf("%d notes in the frame", n))
	}
}

// showBanded marks the notes that the rubber band would select.
func (g *gridView) showBanded(notes []int) {
	if !slices.Equal(g.banded, notes) {
		g.banded = notes
		g.repaint()
	}
}

// dropped does what a drag asks for.
func (g *gridView) dropped(q gesture) {
	s := g.w.session
	switch q.hit.Kind {
	case paint.HitNote:
		by, semitones := g.moveOf()
		g.aim.drops = true
		g.say(s.MoveBy(by, project.PitchMove{Kind: project.Semitone, N: semitones}))
	case paint.HitNoteEnd:
		g.say(s.Resize(s.Chart().Melody[q.hit.Index].Start, g.lengthOf()))
	case paint.HitRow:
		g.selectBand(q)
	}
}

// selectBand selects the notes the rubber band touches.
func (g *gridView) selectBand(q gesture) {
	var starts []project.Ticks
	for _, i := range g.touched(q) {
		starts = append(starts, g.w.session.Chart().Melody[i].Start)
	}
	g.w.session.SelectStarts(starts, q.extend)
}

// touched returns the notes of the melody that a gesture's rubber band touches.
func (g *gridView) touched(q gesture) (notes []int) {
	x0, x1 := min(q.from.X, q.at.X), max(q.from.X, q.at.X)
	y0, y1 := min(q.from.Y, q.at.Y), max(q.from.Y, q.at.Y)
	box := paint.Rect{X: float64(x0), Y: float64(y0), W: float64(x1 - x0), H: float64(y1 - y0)}
	for i := range g.w.session.Chart().Melody {
		for _, seg := range g.layout.NoteSegments(i) {
			if box.Overlaps(seg.Rect) {
				notes = append(notes, i)
				break
			}
		}
	}
	return notes
}
