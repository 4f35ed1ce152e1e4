package ui

import (
	"fmt"

	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// MouseIn starts the light under the pointer.
func (g *gridView) MouseIn(e *desktop.MouseEvent) { g.MouseMoved(e) }

// MouseMoved lights the bare row under the pointer and says what is there.
func (g *gridView) MouseMoved(e *desktop.MouseEvent) {
	g.pointAt(e.Position)
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
		if changes := s.Chart().Changes; h.Index >= 0 && h.Index < len(changes) {
			return session.ReadChord(changes[h.Index].Chord.String()).Means + " · click to change it"
		}
		return "click to type a chord"
	case paint.HitNoteEnd:
		return "drag to make the note longer or shorter"
	case paint.HitLane, paint.HitBar:
		return "drag to select bars, double-click to play from here"
	case paint.HitCue:
		return "double-click to change the registration"
	case paint.HitChange:
		return "double-click to change the " + changes[h.Index].word + " from here on"
	case paint.HitFinding:
		if list := g.layout.Realisation.Findings; h.Index >= 0 && h.Index < len(list) {
			return findingText(s.Chart(), list[h.Index])
		}
	}
	return ""
}

// MouseOut takes the light away.
func (g *gridView) MouseOut() {
	g.leave()
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
