package project_test

import (
	"math"
	"strings"
	"testing"

	"organbook/internal/project"
)

// TestSetTone gives a chart a tone, keeps it through a file, and refuses what
// no instrument does.
func TestSetTone(t *testing.T) {
	tone := project.DefaultTone()
	tone.Click, tone.StopAngle, tone.Damping = 0, 90, 0
	c := mustApply(t, tune(), project.SetTone{Tone: tone})
	if got := reload(t, c); got.Sounding() != tone {
		t.Errorf("the tone %+v comes back as %+v", tone, got.Sounding())
	}
	if back := mustApply(t, c, project.SetTone{Tone: project.DefaultTone()}); back.Tone != nil || back.Sounding() != project.DefaultTone() {
		t.Errorf("the default tone is kept as %+v", back.Tone)
	}
	for what, change := range map[string]func(*project.Tone){
		"click":              func(t *project.Tone) { t.Click = 1.1 },
		"leakage":            func(t *project.Tone) { t.Leakage = -0.01 },
		"partials":           func(t *project.Tone) { t.Partials = math.NaN() },
		"distance":           func(t *project.Tone) { t.MicDistance = 0.1 },
		"angle of the micro": func(t *project.Tone) { t.MicAngle = 120 },
		"stop angle":         func(t *project.Tone) { t.StopAngle = 360 },
		"size":               func(t *project.Tone) { t.RoomSize = 100 },
		"decay":              func(t *project.Tone) { t.Decay = math.Inf(1) },
		"damping":            func(t *project.Tone) { t.Damping = 2 },
	} {
		bad := project.DefaultTone()
		change(&bad)
		mustRefuse(t, c, project.SetTone{Tone: bad}, what)
	}
}

// TestToneFields writes only what is not as usual.
func TestToneFields(t *testing.T) {
	tone := project.DefaultTone()
	tone.Leakage = 0.01
	var data strings.Builder
	if err := project.Write(&data, mustApply(t, tune(), project.SetTone{Tone: tone})); err != nil {
		t.Fatal(err)
	}
	if want := `"tone": {"leakage":0.01}`; !strings.Contains(data.String(), want) {
		t.Errorf("no %s in\n%.400s", want, data.String())
	}
}
