package ui

import (
	"fmt"
	"math"
	"organbook/internal/ui/session"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// gesture is one press of the pointer until its release.
type gesture struct {
	active, dragged bool
	hit             paint.Hit
	from, at        fyne.Position
	extend          bool
}

// dragSlack is how far the pointer may move and still click.
const dragSlack = 3

// hitAt returns what lies under a point of the content.
func (g *gridView) hitAt(p fyne.Position) paint.Hit {
	if g.layout == nil {
		return paint.Hit{Index: -1, Bar: -1}
	}
	return g.layout.Hit(float64(p.X), float64(p.Y))
}

// MouseDown takes the keyboard and begins a gesture.
func (g *gridView) MouseDown(e *desktop.MouseEvent) {
	g.w.focusPanel(command.Grid)
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	g.entry.finish()
	hit := g.hitAt(e.Position)
	g.gesture = gesture{active: true, hit: hit, from: e.Position, at: e.Position, extend: e.Modifier&fyne.KeyModifierShift != 0}
	switch hit.Kind {
	case paint.HitNote, paint.HitNoteEnd:
		g.pressNote(hit)
	case paint.HitFinding:
		g.showFinding(hit.Index)
	}
}

// pressNote selects the note under the pointer; a selected one stays selected
// with the others, so that several can be dragged.
func (g *gridView) pressNote(hit paint.Hit) {
	s := g.w.session
	for _, i := range s.SelectedIndexes() {
		if i == hit.Index && !g.gesture.extend && s.HasSeveral() {
			return
		}
	}
	s.SelectNote(hit.Index, g.gesture.extend)
	if !g.gesture.extend {
		s.HearCurrent()
	}
}

// showFinding says what a sign means and puts the caret there.
func (g *gridView) showFinding(i int) {
	list := g.w.session.Realisation().Findings
	if i >= 0 && i < len(list) {
		if k := g.w.session.FindingAt(list[i]); k >= 0 {
			g.w.session.PickFinding(k)
			g.w.bench.showPage(command.Reach)
		} else {
			g.w.session.SetCaret(list[i].Start)
		}
		g.w.session.Say(findingText(g.w.session.Chart(), list[i]))
	}
}

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
	switch q.hit.Kind {
	case paint.HitNote:
		g.showMove()
	case paint.HitNoteEnd:
		g.showResize()
	case paint.HitRow:
		g.showBand()
	case paint.HitLane, paint.HitBar, paint.HitCue:
		g.w.session.SelectBars(q.hit.Bar, g.barAt(q.at))
	}
}

// barAt returns the bar under a point, or the nearest.
func (g *gridView) barAt(p fyne.Position) int {
	if h := g.hitAt(p); h.Bar >= 0 {
		return h.Bar
	}
	return g.gesture.hit.Bar
}

// moveOf returns how far a dragged note has come, in time and rows.
func (g *gridView) moveOf() (by project.Ticks, semitones int) {
	q := &g.gesture
	snap := g.w.session.Entry().Snap()
	here := g.hitAt(q.at)
	if here.Bar >= 0 {
		by = roundTo(here.At-q.hit.At, snap)
	}
	semitones = int(math.Round(float64(q.from.Y-q.at.Y) / g.layout.Options.RowHeight))
	if here.System >= 0 && here.System != q.hit.System {
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

// showMove draws the ghost of the pressed note where it would go.
func (g *gridView) showMove() {
	by, semitones := g.moveOf()
	c := g.w.session.Chart()
	n := c.Melody[g.gesture.hit.Index]
	t := min(max(n.Start+by, 0), c.Length()-1)
	g.ghostAt(t, n.Duration, n.Pitch.Key()+semitones)
	g.w.hint(fmt.Sprintf("to %s, %s", c.PositionText(t), g.w.session.SpellAt(t, n.Pitch.Key()+semitones).Pretty()))
}

// ghostAt draws a note that is not there.
func (g *gridView) ghostAt(t, length project.Ticks, key int) {
	system, x := g.layout.X(t)
	bar := g.layout.Bars[g.layout.Ruler.BarAt(t)]
	width := bar.W * float64(length) / float64(bar.End-bar.Start)
	h := g.layout.Options.RowHeight + 4
	put(g.ghost, float32(x), float32(g.layout.RowY(system, key))-2, float32(max(width-2, 4)), float32(h))
}

// lengthOf returns the length a dragged end asks for.
func (g *gridView) lengthOf() project.Ticks {
	q := &g.gesture
	n := g.w.session.Chart().Melody[q.hit.Index]
	here := g.hitAt(q.at)
	if here.Bar < 0 {
		return n.Duration
	}
	snap := g.w.session.Entry().Snap()
	end := g.layout.Snap(here.At, snap)
	return max(end-n.Start, min(snap, n.Duration))
}

func (g *gridView) showResize() {
	n := g.w.session.Chart().Melody[g.gesture.hit.Index]
	length := g.lengthOf()
	g.ghostAt(n.Start, length, n.Pitch.Key())
	g.w.hint(fmt.Sprintf("ends at %s", g.w.session.Chart().PositionText(n.Start+length)))
}

// showBand draws the rubber band.
func (g *gridView) showBand() {
	a, b := g.gesture.from, g.gesture.at
	put(g.band, min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X)-min(a.X, b.X), max(a.Y, b.Y)-min(a.Y, b.Y))
}

// DragEnd ends the gesture.
func (g *gridView) DragEnd() { g.finishGesture() }

// MouseUp ends the gesture.
func (g *gridView) MouseUp(e *desktop.MouseEvent) {
	if e.Button == desktop.MouseButtonPrimary {
		g.finishGesture()
	}
}

func (g *gridView) finishGesture() {
	q := g.gesture
	if !q.active {
		return
	}
	g.gesture.active = false
	away(g.ghost)
	away(g.band)
	g.w.hint("")
	if q.dragged {
		g.dropped(q)
	} else {
		g.clicked(q)
	}
}

// dropped does what a drag asks for.
func (g *gridView) dropped(q gesture) {
	s := g.w.session
	switch q.hit.Kind {
	case paint.HitNote:
		by, semitones := g.moveOf()
		g.say(s.MoveBy(by, project.PitchMove{Kind: project.Semitone, N: semitones}))
	case paint.HitNoteEnd:
		g.say(s.Resize(s.Chart().Melody[q.hit.Index].Start, g.lengthOf()))
	case paint.HitRow:
		g.selectBand(q)
	}
}

// selectBand selects the notes the rubber band touches.
func (g *gridView) selectBand(q gesture) {
	x0, x1 := min(q.from.X, q.at.X), max(q.from.X, q.at.X)
	y0, y1 := min(q.from.Y, q.at.Y), max(q.from.Y, q.at.Y)
	box := paint.Rect{X: float64(x0), Y: float64(y0), W: float64(x1 - x0), H: float64(y1 - y0)}
	var starts []project.Ticks
	for i, n := range g.w.session.Chart().Melody {
		for _, seg := range g.layout.NoteSegments(i) {
			if box.Overlaps(seg.Rect) {
				starts = append(starts, n.Start)
				break
			}
		}
	}
	g.w.session.SelectStarts(starts, q.extend)
}

// clicked does what a click asks for.
func (g *gridView) clicked(q gesture) {
	s := g.w.session
	switch q.hit.Kind {
	case paint.HitRow:
		if q.extend {
			s.ExtendTo(q.hit.At)
			return
		}
		g.say(s.PlaceAt(q.hit.At, q.hit.Key))
	case paint.HitChord:
		t := s.ChordPlace(q.hit.At)
		if q.hit.Index >= 0 {
			t = s.Chart().Changes[q.hit.Index].Start
		}
		s.SetCaret(t)
		g.entry.open(t)
	case paint.HitLane:
		s.SetCaret(s.SnapTime(q.hit.At))
	case paint.HitBar:
		s.SelectBars(q.hit.Bar, q.hit.Bar)
	case paint.HitCue:
		s.SetCaret(s.Chart().BarStart(q.hit.Bar))
	case paint.HitNote:
		if s.HasSeveral() && !q.extend {
			s.SelectNote(q.hit.Index, false)
		}
	}
}

// say shows an error that the session has not said itself.
func (g *gridView) say(err error) {
	if err != nil {
		g.w.session.Say(session.Sentence(err))
	}
}

// DoubleTapped plays from a bar, or opens the form behind a row of settings.
func (g *gridView) DoubleTapped(e *fyne.PointEvent) {
	switch h := g.hitAt(e.Position); h.Kind {
	case paint.HitLane, paint.HitBar:
		g.say(g.w.session.PlayFromBar(h.Bar))
	case paint.HitCue:
		g.w.Form(command.FormRegistration)
	}
}

// TappedSecondary opens the menu of what is under the pointer.
func (g *gridView) TappedSecondary(e *fyne.PointEvent) {
	s := g.w.session
	h := g.hitAt(e.Position)
	menus := []string{"Bar", "Signs and jumps", "Passage"}
	switch h.Kind {
	case paint.HitNote, paint.HitNoteEnd:
		if !contains(s.SelectedIndexes(), h.Index) {
			s.SelectNote(h.Index, false)
		}
		menus = []string{"Note", "Edit"}
	case paint.HitChord:
		s.SetCaret(s.ChordPlace(h.At))
		menus = []string{"Chord", "Bar"}
	case paint.HitRow:
		s.SetCaret(s.SnapTime(h.At))
		menus = []string{"Edit", "Bar"}
	case paint.HitNone:
		return
	default:
		s.SetCaret(s.Chart().BarStart(h.Bar))
	}
	g.w.showContextMenu(menus, e.AbsolutePosition)
}

func contains(list []int, v int) bool {
	for _, x := range list {
		if x == v {
			return true
		}
	}
	return false
}

// MouseIn starts the light under the pointer.
func (g *gridView) MouseIn(e *desktop.MouseEvent) { g.MouseMoved(e) }

// MouseMoved lights the bare row under the pointer and says what is there.
func (g *gridView) MouseMoved(e *desktop.MouseEvent) {
	if g.gesture.active {
		return
	}
	hit := g.hitAt(e.Position)
	if sameLight(hit, g.hover) {
		return
	}
	g.hover = hit
	g.w.hint(g.hintFor(hit))
	g.repaint()
}

// sameLight reports whether two hits would look the same.
func sameLight(a, b paint.Hit) bool {
	return a.Kind == b.Kind && a.Key == b.Key && a.Bar == b.Bar && a.Index == b.Index
}

// hintFor says what is under the pointer, or what a click does.
func (g *gridView) hintFor(h paint.Hit) string {
	s := g.w.session
	switch h.Kind {
	case paint.HitRow:
		return fmt.Sprintf("%s at %s: click to place a %s", s.SpellAt(h.At, h.Key).Pretty(), s.Chart().PositionText(s.SnapTime(h.At)), s.Entry())
	case paint.HitChord:
		return "click to type a chord"
	case paint.HitNoteEnd:
		return "drag to make the note longer or shorter"
	case paint.HitLane:
		return "drag to select bars, double-click to play from here"
	case paint.HitCue:
		return "double-click to change the registration"
	case paint.HitFinding:
		if list := s.Realisation().Findings; h.Index >= 0 && h.Index < len(list) {
			return findingText(s.Chart(), list[h.Index])
		}
	}
	return ""
}

// MouseOut takes the light away.
func (g *gridView) MouseOut() {
	g.hover = paint.Hit{}
	g.w.hint("")
	g.repaint()
}

// Cursor shows that the end of a note can be dragged.
func (g *gridView) Cursor() desktop.Cursor {
	if g.hover.Kind == paint.HitNoteEnd {
		return desktop.HResizeCursor
	}
	return desktop.DefaultCursor
}
