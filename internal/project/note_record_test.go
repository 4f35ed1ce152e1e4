package project_test

import (
	"testing"

	"organbook/internal/project"
)

func TestRecordReplacesAStretch(t *testing.T) {
	e := project.Record{From: ticks(3), To: ticks(9), Notes: []project.Note{note(4, 1, "A4"), note(7, 4, "B4")}}
	d, err := apply(t, tune(), e, project.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	want := []project.Note{note(0, 1, "C5"), note(1, 1, "D5"), note(2, 1, "E5"), note(4, 1, "A4"), note(7, 4, "B4")}
	if len(d.Melody) != len(want) {
		t.Fatalf("%v", d.Melody)
	}
	for i, n := range d.Melody {
		if n != want[i] {
			t.Errorf("note %d is %+v, want %+v", i, n, want[i])
		}
	}
	if len(d.Pins) != 1 {
		t.Error("the pin before the stretch is gone")
	}
}

func TestRecordThatAdds(t *testing.T) {
	e := project.Record{From: ticks(0), To: ticks(9), Notes: []project.Note{note(1, 1, "A4"), note(7, 4, "B4")}, Add: true}
	before := tune()
	d, err := apply(t, before, e, project.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range before.Melody {
		i, ok := d.NoteStarting(n.Start)
		switch touched := n.Start < ticks(2) && n.End() > ticks(1) || n.Start < ticks(11) && n.End() > ticks(7); {
		case !touched && (!ok || d.Melody[i] != n):
			t.Errorf("%+v is changed", n)
		case touched && ok && d.Melody[i] == n:
			t.Errorf("%+v sounds beside what was recorded over it", n)
		}
	}
}

func TestRecordRefuses(t *testing.T) {
	for name, e := range map[string]project.Record{
		"a note before the stretch": {From: ticks(4), To: ticks(8), Notes: []project.Note{note(3, 1, "A4")}},
		"a note behind it":          {From: ticks(4), To: ticks(8), Notes: []project.Note{note(8, 1, "A4")}},
		"two at once":               {From: ticks(4), To: ticks(8), Notes: []project.Note{note(4, 2, "A4"), note(5, 1, "B4")}},
		"past the end":              {From: 0, To: ticks(32), Notes: []project.Note{note(31, 4, "A4")}},
	} {
		if _, err := apply(t, tune(), e, project.Selection{}); err == nil {
			t.Errorf("%s is recorded", name)
		}
	}
}
