package ui

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// control finds a control by its ID.
func control(t *testing.T, id string) int {
	t.Helper()
	for i := range session.Controls {
		if session.Controls[i].ID == id {
			return i
		}
	}
	t.Fatalf("no control %s", id)
	return 0
}

// spot is the point of the console that means a part of a control's track.
func spot(w *Window, at int, part float64) fyne.Position {
	v := w.console.effects
	i := 0
	if at >= session.Effects {
		i = 1
	}
	track := v.columns[i].Tracks[at-v.first(i)]
	o := v.picture.raster.Position()
	return fyne.NewPos(o.X+float32(track.X+part*track.W), o.Y+float32(track.CentreY()))
}

func TestGoldenEffects(t *testing.T) {
	inEveryLook(t, looks, func(t *testing.T, l looked) {
		w := open(t, Options{}, l.mode, l.size)
		w.run("console.effects")
		w.session.SelectNote(3, false)
		for id, v := range map[string]float64{"vibrato.lower": 5, "drive": 0.4, "room": 0.3, "accent": 2, "tone.leakage": 0.01, "tone.stop": 90} {
			if err := w.session.Set(&session.Controls[control(t, id)], v); err != nil {
				t.Fatal(err)
			}
		}
		w.focusPanel(command.Console)
		w.session.PickControl(control(t, "drive"))
		compareGolden(t, "effects-"+l.name+".png", crop(w, w.console.root))
	})
}

// TestEffectsByMouse pulls, turns and clicks effects as a person does.
func TestEffectsByMouse(t *testing.T) {
	for _, size := range []fyne.Size{fyne.NewSize(1280, 720), fyne.NewSize(1600, 1000)} {
		w := open(t, Options{}, alwaysDark, size)
		c := w.console
		drive, damping := control(t, "drive"), control(t, "tone.damping")
		value := func(i int) float64 { return w.session.Value(&session.Controls[i]) }
		before := value(drive)
		c.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(300, 120)}})
		c.MouseUp(nil)
		if value(drive) != before {
			t.Error("a hidden effect was moved")
		}
		w.run("console.effects")
		c.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: spot(w, drive, 0.3)}})
		c.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: spot(w, drive, 0.75)}})
		if value(drive) != before {
			t.Error("the chart changes while the pointer is down")
		}
		c.DragEnd()
		if got := value(drive); got != 0.75 {
			t.Errorf("drive pulled to %v, want 0.75", got)
		}
		c.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: spot(w, damping, 0.1)}, Scrolled: fyne.NewDelta(0, -10)})
		if got := value(damping); got != 0.45 {
			t.Errorf("damping turned to %v, want 0.45", got)
		}
		w.run("edit.undo")
		w.run("edit.undo")
		if value(drive) != before || w.session.HasTone() {
			t.Errorf("undone: drive %v, a tone of its own: %v", value(drive), w.session.HasTone())
		}
	}
}

// TestEffectsByKeyboard walks to an effect and turns it.
func TestEffectsByKeyboard(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1600, 1000))
	w.focusPanel(command.Console)
	w.stroke(command.Console, "e")
	if !w.session.EffectsShown() || !w.prefs.effects() || !w.console.effects.picture.raster.Visible() {
		t.Fatal("e does not show the effects")
	}
	w.stroke(command.Console, "Up")
	if _, ok := w.session.Drawbar(); !ok {
		t.Error("no drawbar lies before the first effect")
	}
	w.stroke(command.Console, "Down")
	w.stroke(command.Console, "Down")
	i, ok := w.session.Control()
	if !ok || session.Controls[i].ID != "accent.level" {
		t.Fatalf("the keyboard is at %d, an effect: %v", i, ok)
	}
	c := &session.Controls[i]
	before := w.session.Value(c)
	w.stroke(command.Console, "Right")
	if w.session.Value(c) == before {
		t.Errorf("%s stays at %v", c.ID, before)
	}
	w.stroke(command.Console, "e")
	if w.session.EffectsShown() || w.console.effects.picture.raster.Visible() || !w.console.keys.raster.Visible() {
		t.Error("e does not hide the effects")
	}
}

// TestEffectsInANarrowWindow: where effects and drawbars have no room beside each
// other, those are in sight that have the keyboard, and take the pointer.
func TestEffectsInANarrowWindow(t *testing.T) {
	for _, size := range []fyne.Size{fyne.NewSize(700, 720), fyne.NewSize(1024, 660)} {
		w := open(t, Options{}, alwaysDark, size)
		c := w.console
		w.focusPanel(command.Console)
		w.stroke(command.Console, "e")
		track := c.effects.columns[1].Tracks[0]
		if !c.effects.picture.raster.Visible() || c.stops.raster.Visible() || track.W < 80 {
			t.Errorf("%v: effects shown %v, drawbars %v, tracks of %.0f", size, c.effects.picture.raster.Visible(), c.stops.raster.Visible(), track.W)
		}
		stops, before := c.stops.raster.Position(), w.session.LiveRegistration()
		c.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: stops.AddXY(150, 3)}})
		c.MouseUp(nil)
		if w.session.LiveRegistration() != before {
			t.Errorf("%v: a drawbar out of sight is pulled", size)
		}
		w.stroke(command.Console, "Up")
		if c.effects.picture.raster.Visible() || !c.stops.raster.Visible() {
			t.Errorf("%v: the drawbar that has the keyboard is out of sight", size)
		}
		w.stroke(command.Console, "e")
		if !c.effects.picture.raster.Visible() {
			t.Errorf("%v: e does not bring the effects back", size)
		}
		w.stroke(command.Console, "e")
		if w.session.EffectsShown() || !c.stops.raster.Visible() || !c.keys.raster.Visible() {
			t.Errorf("%v: e does not hide the effects", size)
		}
	}
}
