package command

import "testing"

// TestEveryWayToEditNotesHasAKey lists what can be done to notes: each has a
// command with a key, so that nothing needs the mouse, and a menu, so that
// nothing needs the key.
func TestEveryWayToEditNotesHasAKey(t *testing.T) {
	table := Builtin()
	for what, ids := range map[string][]string{
		"select":                    {"edit.selectall", "edit.selectpassage", "extend.next", "extend.previousbar"},
		"cut, copy, paste":          {"edit.cut", "edit.copy", "edit.paste", "edit.duplicate"},
		"transpose by step, octave": {"note.up", "note.down", "note.octaveup", "note.octavedown", "note.semitoneup", "note.semitonedown"},
		"nudge in time":             {"note.later", "note.earlier"},
		"lengthen many":             {"note.longer", "note.shorter", "length.4", "length.dot"},
		"split, join, tie, delete":  {"note.split", "note.join", "note.hold", "note.delete"},
		"tuplets to come":           {"length.triplet", "length.tuplet5", "length.tuplet7", "length.tuplet9", "length.tuplet6", "length.tuplet2", "length.tuplet4"},
		"tuplets of what is there":  {"note.divide3", "note.divide5", "note.divide7", "note.divide9", "note.even"},
		"step entry and recording":  {"keys.steps", "record.toggle", "keys.letters", "keys.silence"},
		"the MIDI page":             {"focus.MIDI page", "midi.down", "midi.up", "midi.next", "midi.previous", "midi.learn", "midi.forget"},
		"a tempo that rises":        {"play.ramp", "play.rampform"},
	} {
		for _, id := range ids {
			switch c := table.Find(id); {
			case c == nil:
				t.Errorf("%s: there is no command %s", what, id)
			case len(c.Keys) == 0 || c.Menu == "":
				t.Errorf("%s: %s has keys %v and the menu %q", what, id, c.Keys, c.Menu)
			}
		}
	}
	for _, id := range []string{"swing.straight", "swing.medium", "swing.triplet", "record.value.16", "record.triplets.1"} {
		if c := table.Find(id); c == nil || c.Menu == "" {
			t.Errorf("%s stands in no menu", id)
		}
	}
}
