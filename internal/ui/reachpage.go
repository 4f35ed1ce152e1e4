package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/arrange"
	"organbook/internal/reach"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// reachPage is the other page of the bench's column: what two hands and two
// feet can do about the chart, finding by finding, with ways out.
type reachPage struct {
	b       *benchView
	heading *canvas.Text
	facts   *canvas.Text
	player  *button
	rows    []*findingRow
	// listed is the number of rows in use. A frame may measure the page between
	// an edit and its update, so the layout never counts the report's findings.
	listed int
	care   *widget.Label
	// looking is the report and finding whose ways out are being tried.
	looking *arrange.ReachReport
}

func newReachPage(b *benchView) *reachPage {
	p := b.w.look.colours()
	v := &reachPage{b: b, heading: text("", sizeHeading, true, p.Text), facts: text("", sizeSmall, false, p.Muted), care: widget.NewLabel("")}
	v.care.Wrapping, v.care.SizeName = fyne.TextWrapWord, captionSize
	v.player = b.w.top.command("player…", "reach.player")
	v.player.compact = true
	return v
}

// update shows the report of the chart.
func (v *reachPage) update() {
	s := v.b.w.session
	r := s.Reach()
	for len(v.rows) < len(r.Findings) {
		v.rows = append(v.rows, newFindingRow(v, len(v.rows)))
	}
	v.listed = len(r.Findings)
	v.heading.Text = reachHeading(r)
	v.facts.Text = playerFacts(s)
	v.care.SetText(tr(r.Care))
	for i := range r.Findings {
		v.rows[i].show(&r.Findings[i], r.Places[i].Text, i == s.Finding())
	}
	if i := s.Finding(); i >= 0 {
		v.look(i)
	}
}

// look works out the ways out of a finding beside the user's typing; what
// comes too late is dropped.
func (v *reachPage) look(i int) {
	w := v.b.w
	report := w.session.Reach()
	if _, known := w.session.KnownRemedies(i); known || v.looking == report {
		return
	}
	v.looking = report
	w.background(func() {
		list := session.WaysOut(report, i)
		fyne.Do(func() {
			if v.looking == report {
				v.looking = nil
			}
			if w.session.KeepRemedies(report, i, list) && v.b.page == command.Reach {
				v.b.update()
			}
		})
	})
}

// reachHeading sums a report up.
func reachHeading(r *arrange.ReachReport) string {
	var count [reach.Unplayable + 1]int
	for i := range r.Findings {
		count[r.Findings[i].Severity]++
	}
	if len(r.Findings) == 0 {
		return tr("Two hands and two feet can play it")
	}
	var parts []string
	for s := reach.Unplayable; ; s-- {
		if count[s] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", count[s], tr(s.String())))
		}
		if s == reach.Caution {
			return strings.Join(parts, ", ")
		}
	}
}

// playerFacts describes the player in a line.
func playerFacts(s *session.Session) string {
	p := s.Performer()
	feet := [...]string{"both feet", "left foot only", "no feet"}[p.Feet]
	touch := [...]string{"legato", "detached"}[p.Touch]
	facts := tr(p.Name+" hands") + " · " + tr(feet) + " · " + tr(touch)
	if s.HasOwnPlayer() {
		return tr("this chart's player") + ": " + facts
	}
	return facts
}

// objects are what the page shows.
func (v *reachPage) objects() []fyne.CanvasObject {
	o := []fyne.CanvasObject{v.heading, v.facts, v.player}
	for _, r := range v.rows[:v.listed] {
		o = append(o, r)
	}
	if v.care.Text != "" {
		o = append(o, v.care)
	}
	return o
}

// arrange walks down the page from y and returns its end.
func (v *reachPage) arrange(y, inner float32, set placing) float32 {
	set(v.heading, benchPad, y, inner, 20)
	y += 22
	button := v.player.MinSize().Width
	v.facts.Text = fitText(playerFacts(v.b.w.session), v.facts, inner-button-8)
	set(v.facts, benchPad, y+4, inner-button-8, 16)
	set(v.player, benchPad+inner-button, y, button, 24)
	y += 32
	for _, r := range v.rows[:v.listed] {
		h := r.height(inner)
		set(r, benchPad, y, inner, h)
		y += h + 5
	}
	if v.care.Text != "" {
		h := wrappedHeight(v.care, inner+16)
		set(v.care, benchPad-8, y, inner+16, h)
		y += h
	}
	return y + 4
}

func (v *reachPage) retint() {
	p := v.b.w.look.colours()
	v.heading.Color, v.facts.Color = p.Text, p.Muted
	for _, r := range v.rows {
		r.sign.valid = false
		r.Refresh()
	}
}

// chosen is the finding that was walked to.
func (v *reachPage) chosen() (fyne.CanvasObject, bool) {
	i := v.b.w.session.Finding()
	if i < 0 || i >= len(v.rows) {
		return nil, false
	}
	return v.rows[i], i == 0
}
