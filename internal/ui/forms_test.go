package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/ui/command"
)

// TestPickupByKey finds the pick-up among the commands, gives the chart one and
// takes it back.
func TestPickupByKey(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	before := w.session.Chart()
	w.ListCommands()
	typeRunes(w, "upbeat")
	press(w, fyne.KeyReturn)
	typeRunes(w, "4")
	press(w, fyne.KeyReturn)
	if said := dialogText(w); !strings.Contains(said, "shorter than a bar of 4/4") {
		t.Errorf("a pick-up of four beats: %q", said)
	}
	press(w, fyne.KeyBackspace)
	if said := dialogText(w); strings.Contains(said, "shorter") {
		t.Errorf("what was wrong is still said while it is put right: %q", said)
	}
	typeRunes(w, "1.5")
	press(w, fyne.KeyReturn)
	if got, want := w.session.Chart().Pickup(), project.Quarter*3/2; got != want {
		t.Errorf("a pick-up of %d ticks, want %d", got, want)
	}
	w.run("edit.undo")
	if !w.session.Chart().Equal(before) {
		t.Error("one undo does not take the pick-up back")
	}
}

// TestTypingReplacesTheTempo types a number into the form as it opens, at a bar
// in the middle, where the form says how far it reaches.
func TestTypingReplacesTheTempo(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	w.session.SelectBars(4, 5)
	w.run("bar.tempo")
	hint := false
	walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if f, ok := o.(*widget.Form); ok {
			hint = strings.Contains(f.Items[0].HintText, "from bar 5 on")
		}
	})
	if !hint {
		t.Error("the form does not say from which bar on")
	}
	typeRunes(w, "160")
	press(w, fyne.KeyReturn)
	c := w.session.Chart()
	if c.TempoAt(0) != 120 || c.TempoAt(c.BarStart(4)) != 160 {
		t.Errorf("tempo %v, then %v", c.TempoAt(0), c.TempoAt(c.BarStart(4)))
	}
}

// TestTheTempoOffersTheWrittenOne opens what a click on the tempo opens.
func TestTheTempoOffersTheWrittenOne(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.top.pace.Tapped(&fyne.PointEvent{})
	found := false
	walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if x, ok := o.(*canvas.Text); ok {
			found = found || strings.HasPrefix(x.Text, "Tempo and swing…")
		}
	})
	if !found {
		t.Error("the menu does not offer the written tempo")
	}
}

// TestNothingFoundIsSaid looks for a command that does not exist.
func TestNothingFoundIsSaid(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.ListCommands()
	said := func() (visible bool) {
		walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
			if l, ok := o.(*widget.Label); ok && strings.HasPrefix(l.Text, "No command has these words") {
				visible = l.Visible()
			}
		})
		return visible
	}
	for _, tc := range []struct {
		typed string
		want  bool
	}{{"", false}, {"zither", true}} {
		typeRunes(w, tc.typed)
		if said() != tc.want {
			t.Errorf("%q: the list says that nothing is found: %v", tc.typed, !tc.want)
		}
	}
	for range "zither" {
		press(w, fyne.KeyBackspace)
	}
	if said() {
		t.Error("it still says so when there is something again")
	}
}

// TestEnterAgreesInEveryFieldOfAForm goes by keyboard through the fields of two
// forms: the blank ticks a box, Enter applies the form from a box and from a
// choice, Escape leaves it.
func TestEnterAgreesInEveryFieldOfAForm(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	boxes := func() (out []*escCheck) {
		walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
			if c, ok := o.(*escCheck); ok {
				out = append(out, c)
			}
		})
		return out
	}
	for _, id := range []string{"form." + command.FormPlayer, "form." + command.FormConsole} {
		n := 0
		for i := 0; i == 0 || i < n; i++ {
			for _, last := range []fyne.KeyName{fyne.KeyEscape, fyne.KeyReturn} {
				w.Form(strings.TrimPrefix(id, "form."))
				list := boxes()
				if n = len(list); n == 0 {
					t.Fatalf("%s: there are no boxes", id)
				}
				box, was := list[i], list[i].Checked
				w.win.Canvas().Focus(box)
				typeRunes(w, " ")
				if box.Checked == was {
					t.Errorf("%s: the blank does not tick “%s”", id, box.Text)
				}
				before := w.session.Chart()
				bridge := w.session.Performer().ThumbBridge // stretches are rounded by what the form shows
				typeRunes(w, " ")                           // both forms must be able to apply
				press(w, last)
				if w.win.Canvas().Overlays().Top() != nil {
					t.Fatalf("%s: %v in “%s” leaves the form open: %s", id, last, box.Text, dialogText(w))
				}
				if w.session.Chart() != before || w.session.Performer().ThumbBridge != bridge {
					t.Errorf("%s: nothing was changed, and yet something is", id)
				}
			}
		}
	}
	w.Form(command.FormPlayer)
	box := boxes()[0]
	w.win.Canvas().Focus(box)
	was := w.session.Performer().ThumbBridge
	typeRunes(w, " ")
	press(w, fyne.KeyReturn)
	if w.session.Performer().ThumbBridge == was {
		t.Error("Enter in a box does not apply the form")
	}
	w.Form(command.FormConsole)
	walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if s, ok := o.(*escSelect); ok {
			w.win.Canvas().Focus(s)
			s.SetSelectedIndex(1)
		}
	})
	console := w.session.Chart().Console
	press(w, fyne.KeyReturn)
	if w.session.Chart().Console == console || w.win.Canvas().Overlays().Top() != nil {
		t.Error("Enter in a choice does not apply the form")
	}
}
