package ui

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/player/midi"
	"organbook/internal/ui/command"
)

// midiPage is the third page of the bench's column: the ports, what plays
// which division, what works which control, and which division sounds outside.
// It is a list of lines; each has a value with choices, and most can be
// learned from what is played next.
type midiPage struct {
	b     *benchView
	lines []midiLine
	rows  []*midiRow
	heads []*canvas.Text // over the lines that begin a part
	at    int            // the line that has the keyboard
	none  *widget.Label  // why there are no ports
}

func newMIDIPage(b *benchView) *midiPage {
	p := &midiPage{b: b, none: widget.NewLabel("")}
	p.none.Wrapping = fyne.TextWrapWord
	return p
}

// hub returns the hub, nil where the window has none.
func (p *midiPage) hub() *midi.Hub { return p.b.w.keyboards.hub }

// update shows setup and ports as they are now.
func (p *midiPage) update() {
	if p.b.page != command.MIDI {
		return
	}
	p.lines = nil
	if p.hub() == nil {
		p.none.SetText(tr("This window has no MIDI."))
		return
	}
	state := p.hub().State()
	p.none.SetText(portsSentence(state))
	p.lines = midiLines(p.hub(), state, p.b.w.registrationNames)
	p.at = min(p.at, len(p.lines)-1)
	for len(p.rows) < len(p.lines) {
		p.rows = append(p.rows, newMIDIRow(p, len(p.rows)))
		p.heads = append(p.heads, text("", sizeSmall+1, true, p.b.w.look.colours().Muted))
	}
	for i := range p.lines {
		p.heads[i].Text = tr(p.lines[i].part)
		p.rows[i].show(&p.lines[i], i == p.at)
	}
}

// portsSentence says in a sentence how many ports there are, or why none.
func portsSentence(s midi.State) string {
	switch {
	case !s.Looked:
		return tr("Looking for MIDI ports…")
	case s.Err != "":
		return capital(tr(s.Err)) + tr(". Everything else works.")
	case len(s.Inputs) == 0 && len(s.Outputs) == 0:
		return tr("No MIDI ports. Plug a keyboard in; it is listened to at once.")
	}
	there := 0
	wrong := ""
	for _, p := range append(slices.Clone(s.Inputs), s.Outputs...) {
		if p.There {
			there++
		}
		if p.Err != "" && wrong == "" {
			wrong = fmt.Sprintf(" %s: %s.", p.Name, tr(p.Err))
		}
	}
	if wrong == "" {
		wrong = tr(" A keyboard that is plugged in is listened to at once.")
	}
	return tr(fmt.Sprintf("%d in, %d out.", len(s.Inputs), there-len(s.Inputs))) + wrong
}

// objects are what the page shows.
func (p *midiPage) objects() []fyne.CanvasObject {
	o := []fyne.CanvasObject{p.none}
	for i := range p.lines {
		if p.lines[i].part != "" {
			o = append(o, p.heads[i])
		}
		o = append(o, p.rows[i])
	}
	return o
}

const midiRowHeight float32 = 26

// arrange walks down the page from y and returns its end.
func (p *midiPage) arrange(y, inner float32, set placing) float32 {
	h := wrappedHeight(p.none, inner+16)
	set(p.none, benchPad-8, y-4, inner+16, h)
	y += h - 2
	for i := range p.lines {
		if p.lines[i].part != "" {
			set(p.heads[i], benchPad, y+6, inner, 16)
			y += 26
		}
		set(p.rows[i], benchPad, y, inner, midiRowHeight)
		y += midiRowHeight + 2
	}
	return y + 4
}

// chosen is nothing: the page scrolls when a line is picked.
func (p *midiPage) chosen() (fyne.CanvasObject, bool) { return nil, false }

func (p *midiPage) retint() {
	for i := range p.heads {
		p.heads[i].Color = p.b.w.look.colours().Muted
		p.rows[i].Refresh()
	}
}

// line returns the line that has the keyboard, nil when there is none.
func (p *midiPage) line() *midiLine {
	if p.b.page != command.MIDI || p.at < 0 || p.at >= len(p.lines) {
		return nil
	}
	return &p.lines[p.at]
}

// pick gives a line the keyboard.
func (p *midiPage) pick(i int) {
	if i < 0 || i >= len(p.lines) || i == p.at {
		return
	}
	p.hub().LearnNothing()
	p.at = i
	p.b.update()
	p.b.revealRow(p.rows[i], i == 0)
}

// WalkPorts goes down the lines, or up.
func (w *Window) WalkPorts(by int) {
	p := w.bench.ports
	if p.line() != nil {
		p.pick(min(max(p.at+by, 0), len(p.lines)-1))
	}
}

// ChangePort goes to the next or previous choice of the line.
func (w *Window) ChangePort(by int) {
	if l := w.bench.ports.line(); l != nil && len(l.choices) > 0 {
		n := len(l.choices)
		w.keyboards.set(l.choose((l.chosen + by + n) % n))
	}
}

// ShowChoices lists the choices of the line under its value.
func (w *Window) ShowChoices() {
	if p := w.bench.ports; p.line() != nil {
		p.rows[p.at].open()
	}
}

// LearnPort waits for the key or controller that the line is about, or gives
// up waiting.
func (w *Window) LearnPort() {
	l, hub := w.bench.ports.line(), w.keyboards.hub
	switch {
	case l == nil:
		return
	case !l.learns():
		w.ChangePort(1)
		return
	case l.learning(hub):
		hub.LearnNothing()
		w.session.Say("Nothing was learned.")
	case l.control.IsSwitch():
		hub.LearnControl(l.control)
		w.session.Say("Move, press or choose what is to work: " + l.control.String() + ".")
	case l.control != midi.NoControl:
		hub.LearnControl(l.control)
		w.session.Say("Move what is to work: " + l.control.String() + ".")
	default:
		hub.LearnKeyboard(l.target)
		w.session.Say("Press a key of the keyboard that is to play: " + l.target.String() + ".")
	}
	w.bench.update()
}

// ForgetPort takes away what works the line.
func (w *Window) ForgetPort() {
	if l := w.bench.ports.line(); l != nil && l.forget != nil {
		w.keyboards.set(l.forget())
	}
}

// showActivity lights the page's tab and the marks of its ports.
func (b *benchView) showActivity(on bool) {
	label := "MIDI"
	if on {
		label = "MIDI ●"
	}
	b.tabs[3].setLabel(label, b.page == command.MIDI)
	if b.page != command.MIDI {
		return
	}
	for i := range b.ports.lines {
		if b.ports.lines[i].port != "" {
			b.ports.rows[i].mark()
		}
	}
}
