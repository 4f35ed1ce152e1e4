package command

import (
	"slices"
	"testing"
)

func TestRebind(t *testing.T) {
	table := Builtin()
	if err := table.Rebind("play.toggle", []Stroke{"F9"}); err != nil {
		t.Fatal(err)
	}
	if c := table.ForKey(Grid, "F9"); c == nil || c.ID != "play.toggle" || c.Key() != "F9" {
		t.Error("the new key does not work")
	}
	if c := table.ForKey(Bench, "p"); c != nil {
		t.Errorf("the old key still means %s", c.ID)
	}
	for _, tc := range []struct {
		id  string
		key Stroke
	}{
		{"play.toggle", "Ctrl+s"},   // works anywhere
		{"play.toggle", "c"},        // a note in the grid
		{"note.place.C", "Ctrl+s"},  // would hide saving in the grid
		{"nothing.at.all", "F10"},   // no such command
		{"bench.down", "Ctrl+Down"}, // works anywhere
	} {
		if err := table.Rebind(tc.id, []Stroke{tc.key}); err == nil {
			t.Errorf("%s takes %s", tc.id, tc.key)
		}
	}
	if err := table.Rebind("bench.down", []Stroke{"c"}); err != nil {
		t.Errorf("a key of another panel is free: %v", err)
	}
	if err := table.Rebind("play.toggle", table.Usual("play.toggle")); err != nil || table.ForKey(Bench, "p") == nil {
		t.Errorf("the usual key does not come back: %v", err)
	}
	if err := table.Rebind("play.loop", nil); err != nil || table.ForKey(Grid, "l") != nil {
		t.Errorf("a command without keys: %v", err)
	}
}

func TestStrokesAreKept(t *testing.T) {
	for _, c := range Builtin().All() {
		if got := ReadStrokes(WriteStrokes(c.Keys)); !slices.Equal(got, c.Keys) {
			t.Errorf("%s: %v becomes %v", c.ID, c.Keys, got)
		}
	}
}
