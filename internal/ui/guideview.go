package ui

import (
	"fmt"
	"image/color"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"organbook/assets"
	"organbook/internal/ui/command"
)

// guideView is the handbook in a column of its own beside the grid, which stays
// in use while it is read. The column has the pages' list, a line to search in, and
// the page; it remembers the place, and Escape closes it.
type guideView struct {
	panel
	root   *fyne.Container
	pages  []assets.Page
	page   *picker
	close  *button
	find   *guideSearch
	said   *canvas.Text
	scroll *container.Scroll

	at       int // the page that is shown
	shown    guidePage
	width    float32 // the page was made for
	found    int     // the place that was found last, in the order of places
	searched string
	marks    string // the word that the page shows marked
}

var (
	_ fyne.Widget       = (*guideView)(nil)
	_ fyne.Focusable    = (*guideView)(nil)
	_ fyne.Shortcutable = (*guideView)(nil)
	_ fyne.Tappable     = (*guideView)(nil)
)

func newGuideView(w *Window) *guideView {
	g := &guideView{found: -1, at: -1}
	g.panel.init(w, command.Handbook)
	g.close = w.top.button(closeWord(), "Close the handbook (Escape)", w.closeGuide)
	g.close.compact = true
	g.page = newPicker(w, nil, func(i int) { g.turn(i, 0) })
	g.find = newGuideSearch(g)
	g.said = text("", sizeSmall, false, w.look.colours().Muted)
	g.scroll = container.NewVScroll(container.NewStack())
	g.scroll.OnScrolled = func(fyne.Position) { g.cull() }
	g.ExtendBaseWidget(g)
	g.root = container.New(&guideLayout{g}, g, g.page, g.find, g.said, g.close, g.scroll, g.ring)
	g.root.Hide()
	return g
}

// Tapped takes the keyboard.
func (g *guideView) Tapped(*fyne.PointEvent) { g.w.focusPanel(command.Handbook) }

// CreateRenderer draws nothing: the panel under the page only takes clicks.
func (g *guideView) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}

// Help opens the handbook beside the grid and gives it the keyboard, or closes it
// where it has the keyboard already.
func (w *Window) Help() {
	g := w.guide
	switch {
	case g.root.Visible() && w.win.Canvas().Focused() == fyne.Focusable(g):
		w.closeGuide()
		return
	case !g.root.Visible():
		if !w.openGuide() {
			return
		}
	}
	w.focusPanel(command.Handbook)
}

// openGuide shows the handbook where it was read last, and reports whether it could.
func (w *Window) openGuide() bool {
	if err := w.guide.load(); err != nil {
		w.showError(err)
		return false
	}
	w.frame.guide = true
	w.guide.root.Show()
	w.showFolds()
	w.guide.turn(w.prefs.guidePlace())
	return true
}

// helpBeside opens the handbook beside a chord that is being typed, or closes it
// again; the text and the keyboard stay where they are.
func (w *Window) helpBeside(e *chordEntry) {
	e.suspend(func() {
		if w.guide.root.Visible() {
			w.closeGuide()
		} else {
			w.openGuide()
		}
	})
}

// closeGuide gives the handbook's room back, and the keyboard to the grid.
func (w *Window) closeGuide() {
	if !w.frame.guide {
		return
	}
	w.guide.remember()
	w.frame.guide = false
	w.guide.root.Hide()
	w.showFolds()
	w.focusPanel(command.Grid)
}

// load reads the pages and makes the last one of the command table. A page that was
// shown before is kept, for the toolkit holds the pictures of one that was made for a
// minute after the last look at it.
func (g *guideView) load() error {
	pages, err := assets.HandbookIn(language())
	if err != nil {
		return err
	}
	pages = append(pages, assets.Page{Title: "Keys", Text: g.w.keysPage()})
	if slices.Equal(pages, g.pages) {
		return nil // the page that was made is the one that is read on
	}
	g.pages = pages
	g.page.options = nil
	for _, p := range g.pages {
		g.page.options = append(g.page.options, p.Title)
	}
	g.at = -1
	return nil
}

// remember keeps the place for the next time.
func (g *guideView) remember() { g.w.prefs.setGuidePlace(g.at, g.scroll.Offset.Y) }

// turn shows a page from a place in it on.
func (g *guideView) turn(page int, y float32) {
	if page < 0 || page >= len(g.pages) {
		page, y = 0, 0
	}
	if page != g.at || g.width != g.scroll.Size().Width || g.marks != g.searched {
		g.at, g.width, g.marks = page, g.scroll.Size().Width, g.searched
		shown, err := g.w.handbookPage(g.pages[page].Text, g.width-2*unit, g.marks)
		if err != nil {
			g.w.showError(err)
			return
		}
		g.shown = shown
		g.scroll.Content = shown.body
		g.scroll.Refresh()
	}
	g.page.show(page)
	g.scrollTo(y)
}

// refit makes the page anew if it was made for another width.
func (g *guideView) refit() {
	if g.at >= 0 && g.root.Visible() {
		g.turn(g.at, g.scroll.Offset.Y)
	}
}

// search goes to the next place that holds a text, from page to page and round
// and round.
func (g *guideView) search(query string) {
	query = strings.ToLower(strings.TrimSpace(query))
	say := func(text string) {
		setText(g.said, text)
		g.root.Layout.Layout(g.root.Objects, g.root.Size())
	}
	unmark := func() {
		g.searched = ""
		g.turn(g.at, g.scroll.Offset.Y)
	}
	if query == "" {
		say("")
		unmark()
		return
	}
	type place struct{ page, section int }
	var places []place
	for i, p := range g.pages {
		for k, part := range handbookParts(p.Text) {
			if strings.Contains(strings.ToLower(part.text+part.caption), query) {
				places = append(places, place{i, k})
			}
		}
	}
	if len(places) == 0 {
		say(tr("not in the handbook"))
		unmark()
		return
	}
	if query != g.searched {
		g.found = -1
	}
	g.searched, g.found = query, (g.found+1)%len(places)
	to := places[g.found]
	g.turn(to.page, 0)
	if to.section < len(g.shown.sections) {
		g.scrollTo(g.shown.sections[to.section].Position().Y)
	}
	say(fmt.Sprintf("%d / %d", g.found+1, len(places)))
}

// TypedKey scrolls, turns pages, closes on Escape, and hands everything else to
// the commands, so that playing goes on while one reads.
func (g *guideView) TypedKey(e *fyne.KeyEvent) {
	height := g.scroll.Size().Height
	switch e.Name {
	case fyne.KeyDown:
		g.move(48)
	case fyne.KeyUp:
		g.move(-48)
	case fyne.KeyPageDown, fyne.KeySpace:
		g.move(height - 48)
	case fyne.KeyPageUp:
		g.move(48 - height)
	case fyne.KeyHome:
		g.scrollTo(0)
	case fyne.KeyEnd:
		g.scrollTo(g.scroll.Content.Size().Height)
	case fyne.KeyRight:
		g.turn(min(g.at+1, len(g.pages)-1), 0)
	case fyne.KeyLeft:
		g.turn(max(g.at-1, 0), 0)
	case fyne.KeyEscape:
		g.w.closeGuide()
	default:
		g.panel.TypedKey(e)
	}
}

// TypedRune goes to the search on a stroke, and hands other characters to the
// commands.
func (g *guideView) TypedRune(r rune) {
	if r == '/' {
		g.w.win.Canvas().Focus(g.find)
		g.find.TypedShortcut(&fyne.ShortcutSelectAll{}) // typing begins anew
		return
	}
	if r != ' ' { // the blank scrolls
		g.panel.TypedRune(r)
	}
}

func (g *guideView) move(by float32) { g.scrollTo(g.scroll.Offset.Y + by) }

// scrollTo shows the page from a height on, or its end.
func (g *guideView) scrollTo(y float32) {
	g.scroll.ScrollToOffset(fyne.NewPos(0, y))
	g.cull()
}

func (g *guideView) retint() {
	g.drawRing()
	g.said.Color = g.w.look.colours().Muted
	g.said.Refresh()
	g.width = -1 // pictures have other colours now, if not at once then when it is opened again
	g.refit()
}

// guideSearch is the line to search in: Enter goes on to the next place, Escape
// back to the page.
type guideSearch struct {
	widget.Entry
	g   *guideView
	lit bool // has the keyboard
}

// FocusGained shows the ring.
func (s *guideSearch) FocusGained() { s.lit = true; s.Entry.FocusGained() }

// FocusLost hides the ring.
func (s *guideSearch) FocusLost() { s.lit = false; s.Entry.FocusLost() }

// CreateRenderer draws the toolkit's entry with our ring around it.
func (s *guideSearch) CreateRenderer() fyne.WidgetRenderer {
	return newRingedEntry(s.Entry.CreateRenderer(), &s.lit)
}

func newGuideSearch(g *guideView) *guideSearch {
	s := &guideSearch{g: g}
	s.ExtendBaseWidget(s)
	s.PlaceHolder = tr("Search in the handbook ( / )")
	s.OnSubmitted = g.search
	return s
}

// TypedKey leaves on Escape.
func (s *guideSearch) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		s.g.w.focusPanel(command.Handbook)
		return
	}
	s.Entry.TypedKey(e)
}

// guideLayout places the head and, under it, the page.
type guideLayout struct{ g *guideView }

// MinSize is left to the frame.
func (*guideLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, 120) }

// Layout places everything in the column.
func (l *guideLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	g := l.g
	const pad float32 = 8
	close, said := g.close.MinSize().Width, g.said.MinSize().Width
	put(g, 0, 0, s.Width, s.Height)
	put(g.ring, 0, 0, s.Width, s.Height)
	put(g.page, pad, 6, s.Width-3*pad-close, controlHeight)
	put(g.close, s.Width-pad-close, 6+(controlHeight-24)/2, close, 24)
	y := 6 + controlHeight + unit
	search := g.find.MinSize().Height
	put(g.find, pad, y, s.Width-2*pad, search)
	put(g.said, s.Width-2*pad-said-4, y+(search-g.said.MinSize().Height)/2, said, g.said.MinSize().Height)
	y += search + unit
	wide := g.scroll.Size().Width
	put(g.scroll, 2, y, s.Width-4, s.Height-y-2)
	g.cull()
	if wide != g.scroll.Size().Width {
		g.refit()
	}
}

// closeWord is small as on the other buttons in English, where the close voicing
// is the same word; other languages take the one of the dialogs.
func closeWord() string {
	if language() == "en" {
		return "close"
	}
	return "Close"
}
