package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/theory"
)

// familyList says under the alternatives which families serve the chord of the
// note, best first: what each sounds as over the chord's root, and why.
type familyList struct {
	v      *benchPage
	title  *canvas.Text
	names  []*canvas.Text
	whys   []*widget.Label
	listed int
}

func newFamilyList(v *benchPage) *familyList {
	return &familyList{v: v, title: text("", sizeSmall+1, true, v.b.w.look.colours().Muted)}
}

// update follows the bench's note; of several notes it lists nothing.
func (f *familyList) update() {
	f.listed = 0
	s := f.v.b.w.session
	step, ok := s.Step()
	if !ok || f.v.several || !step.Chord.IsValid() {
		return
	}
	f.title.Text = tr("Families for " + step.Chord.Pretty())
	for _, service := range s.Families() {
		if f.listed == len(f.names) {
			f.names = append(f.names, text("", sizeText, true, f.v.b.w.look.colours().Text))
			f.whys = append(f.whys, newHint(""))
		}
		f.names[f.listed].Text = familyText(service)
		f.whys[f.listed].SetText(prose(say(service.Reason)))
		f.listed++
	}
}

// familyText is "G minor, sounds as D9".
func familyText(s theory.Service) string {
	text := s.Family.Tonic().Pretty() + " " + s.Family.Sixth().String()
	if s.Sound != "" {
		text += ", sounds as " + theory.Pretty(s.Sound)
	}
	return text
}

func (f *familyList) objects() []fyne.CanvasObject {
	if f.listed == 0 {
		return nil
	}
	o := []fyne.CanvasObject{f.title}
	for i := range f.listed {
		o = append(o, f.names[i], f.whys[i])
	}
	return o
}

// arrange walks down the list from y and returns its end.
func (f *familyList) arrange(y, inner float32, set placing) float32 {
	if f.listed == 0 {
		return y
	}
	set(f.title, benchPad, y+8, inner, 16)
	y += 32
	for i := range f.listed {
		f.names[i].Text = fitText(f.names[i].Text, f.names[i], inner)
		set(f.names[i], benchPad, y, inner, 18)
		y = arrangeHint(f.whys[i], y+12, inner, set)
	}
	return y
}

func (f *familyList) retint() {
	p := f.v.b.w.look.colours()
	f.title.Color = p.Muted
	for _, n := range f.names {
		n.Color = p.Text
	}
}
