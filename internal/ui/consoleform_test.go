package ui

import (
	"testing"

	"organbook/internal/project"
)

// TestTheConsoleFormGivesBackWhatItShows holds for every console there is, and
// for one of the user's own.
func TestTheConsoleFormGivesBackWhatItShows(t *testing.T) {
	for _, k := range project.ConsolesWith("own upper:36-96 lower:36-84 pedal:36-67 offset:-40 busy:left-hand") {
		if got, err := newConsoleFields(k).read(); err != nil || got != k {
			t.Errorf("%s: %v, %+v", k.ID, err, got)
		}
	}
}

func TestKeysAreReadAsTheyAreWritten(t *testing.T) {
	for key := 12; key < 128; key++ {
		if got, err := readKey(keyText(key)); err != nil || got != key {
			t.Errorf("%s is read as %d, %v", keyText(key), got, err)
		}
	}
}

func TestAConsoleOfOnesOwn(t *testing.T) {
	base, _ := project.ConsoleByID("full")
	f := newConsoleFields(base)
	f.compass[1].SetText("c2 - c6")
	f.compass[2].SetText("")
	f.free[1].SetChecked(false)
	k, err := f.read()
	if err != nil || k.ID != "own upper:36-96 lower:36-84 busy:left-hand" {
		t.Errorf("%v, %+v", err, k)
	}
	for _, bad := range []string{"C2", "C2–H9", "C7–C2", "C2–C3–C4"} {
		f.compass[0].SetText(bad)
		if k, err := f.read(); err == nil {
			t.Errorf("%q makes the console %s", bad, k.ID)
		}
	}
}
