package project_test

import (
	"strings"
	"testing"

	"organbook/internal/project"
)

func TestOwnConsoles(t *testing.T) {
	const id = "own upper:36-96 lower:41-84 pedal:36-67 offset:-40 busy:left-hand,right-foot"
	k, ok := project.ConsoleByID(id)
	if !ok || k.ID != id || k.Name != "Own: 61, 44 and 32 keys" || k.LowerOffset != -40 || k.Busy != project.BusyLeftHand|project.BusyRightFoot {
		t.Fatalf("%v %+v", ok, k)
	}
	c := mustApply(t, tune(), project.SetConsole{Console: id})
	if got := reload(t, c).Console; got != id {
		t.Errorf("read back as %q", got)
	}
	if list := project.ConsolesWith(id); len(list) != len(project.Consoles())+1 || list[len(list)-1] != k {
		t.Errorf("%d consoles", len(list))
	}
	if n := len(project.ConsolesWith("full")); n != len(project.Consoles()) {
		t.Errorf("%d consoles with one that is known", n)
	}
	none, err := project.ParseConsole("own upper:55-100 lower:28-54 split:55")
	if err != nil || none.Pedal.Keys() != 0 {
		t.Errorf("%v %+v", err, none)
	}
	for id, want := range map[string]string{
		"own":                         "upper keyboard",
		"mine":                        "is not a console",
		"own upper:36-96":             "lower keyboard",
		"own upper:36-40 lower:36-96": "upper keyboard",
		"own upper:36-96 lower:36-96 pedal:36-40":     "pedal keyboard",
		"own upper:36-96 lower:36-96 split:60":        "split at 60",
		"own upper:36-96 lower:36-96 offset:9000":     "9000 mm",
		"own upper:36-96 lower:36-96 busy:third-hand": "cannot be read",
		"own upper:36-96 lower:x-96":                  "cannot be read",
		"own upper:36-96 lower:36-96 bench:wide":      "bench",
	} {
		if _, err := project.ParseConsole(id); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, not %q", id, err, want)
		}
	}
}
