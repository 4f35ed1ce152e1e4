package ui

import (
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// gesture is one press of the pointer until its release.
type gesture struct {
	active, dragged bool
	hit             paint.Hit
	from, at        fyne.Position
	extend          bool
	along           bool // scrolling goes on
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

// pointed is one press of the button: when, where in the visible part, how far that
// was scrolled, what stood at its height and what lay under it.
type pointed struct {
	when   time.Time
	at     fyne.Position
	scroll float32
	spot   paint.Spot
	hit    paint.Hit
}

// slipped takes note of a press and reports whether it is the second of a double
// click under which the picture has moved: what the first one did scrolled the
// grid, and what lies there now is not what was meant.
func (g *gridView) slipped(at fyne.Position) bool {
	p := pointed{when: g.w.session.Now(), at: at.SubtractXY(0, g.scroll.Offset.Y), scroll: g.scroll.Offset.Y, hit: g.hitAt(at)}
	if g.layout != nil {
		p.spot = g.layout.SpotAt(float64(at.Y), false)
	}
	f := g.first
	near := math.Hypot(float64(p.at.X-f.at.X), float64(p.at.Y-f.at.Y)) < 2*dragSlack
	if near && p.when.Sub(f.when) < fyne.CurrentApp().Driver().DoubleTapDelay() {
		return g.layout != nil && math.Abs(g.layout.SpotY(f.spot)-float64(f.at.Y+p.scroll)) > 1
	}
	g.first = p
	return false
}

// MouseDown takes the keyboard and begins a gesture.
func (g *gridView) MouseDown(e *desktop.MouseEvent) {
	g.act(e.Position, func() { g.pressed(e) })
}

func (g *gridView) pressed(e *desktop.MouseEvent) {
	if e.Button == desktop.MouseButtonPrimary && g.slipped(e.Position) {
		g.gesture = gesture{}
		return
	}
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
	list := g.layout.Realisation.Findings
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
	g.showGhosts(nil)
	g.showBanded(nil)
	away(g.band)
	g.w.hint("")
	do := g.clicked
	if q.dragged {
		do = g.dropped
	}
	g.act(g.aim.at.AddXY(0, g.scroll.Offset.Y), func() { do(q) })
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
	case paint.HitCue, paint.HitChange:
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

// DoubleTapped plays from a bar, or opens the form behind a row of settings: what
// the first click met, wherever its doing has moved the picture.
func (g *gridView) DoubleTapped(*fyne.PointEvent) {
	switch h := g.first.hit; h.Kind {
	case paint.HitLane, paint.HitBar:
		g.say(g.w.session.PlayFromBar(h.Bar))
	case paint.HitCue:
		g.w.registrationForm()
	case paint.HitChange:
		g.w.session.SetCaret(g.w.session.Chart().BarStart(h.Bar))
		g.w.run(changes[h.Index].command)
	}
}

// changes are the changes that stand over a bar, by Hit.Index: their word and
// the command that opens their form.
var changes = [...]struct{ word, command string }{
	paint.ChangeOfMeter: {"meter", "bar.meter"},
	paint.ChangeOfKey:   {"key", "bar.key"},
	paint.ChangeOfTempo: {"tempo", "bar.tempo"},
}

// noteMenus are the menus of a note.
var noteMenus = []string{"Edit", "Note", "Pitch", "Time", "Divide", "Length"}

// TappedSecondary opens the menu of what is under the pointer.
func (g *gridView) TappedSecondary(e *fyne.PointEvent) {
	g.act(e.Position, func() { g.openMenu(e) })
}

func (g *gridView) openMenu(e *fyne.PointEvent) {
	s := g.w.session
	h := g.hitAt(e.Position)
	menus := []string{"Bar", "Signs and jumps", "Passage"}
	switch h.Kind {
	case paint.HitNote, paint.HitNoteEnd:
		if !contains(s.SelectedIndexes(), h.Index) {
			s.SelectNote(h.Index, false)
		}
		menus = noteMenus
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
