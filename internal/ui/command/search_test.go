package command

import (
	"slices"
	"strings"
	"testing"
)

// TestTheMostLikelyCommandComesFirst: everyday words, and what is typed of them
// on the way.
func TestTheMostLikelyCommandComesFirst(t *testing.T) {
	table := Builtin()
	for query, first := range map[string]string{
		"undo": "edit.undo", "drop 2": "voicing.drop2", "drop": "voicing.drop2", "loop pass": "play.looppassage", "export wav": "file.export.wav",
		"dark": "view.dark", "close": "voicing.close", "copy": "edit.copy", "fold bench": "view.bench", "list commands": "help.commands",
		"level": "play.louder", "lev": "play.louder", "volume": "play.louder", "loud": "play.louder", "quiet": "play.softer",
		"save": "file.save", "sav": "file.save", "save as": "file.saveas", "open": "file.open", "new": "file.new", "import": "file.open", "quit": "file.quit",
		"play": "play.toggle", "pla": "play.toggle", "stop": "play.toggle", "loop": "play.loop", "click": "play.click", "metronome": "play.click", "solo": "alone.lead",
		"mute": "mute.lead", "count": "play.countin", "slower": "play.slower", "rewind": "play.rewind", "record": "record.toggle",
		"tempo": "bar.tempo", "speed": "bar.tempo", "key": "bar.key", "meter": "bar.meter", "time signature": "bar.meter", "key signature": "bar.key",
		"bar": "bar.insert", "bars": "bar.insert", "repeat": "bar.repeatstart", "coda": "bar.coda", "d.s. al coda": "jump.dscoda", "title": "chart.title",
		"octave": "note.octaveup", "tie": "note.hold", "rest": "note.rest", "sharp": "note.sharper", "flat": "note.flatter", "transpose": "chart.transpose",
		"delete": "note.delete", "split": "note.split", "quarter": "length.4", "crotchet": "length.4", "quaver": "length.8", "note value": "length.1",
		"triplet": "length.triplet", "dotted": "length.dot", "chord": "chord.type", "swell": "console.swellmore", "expression": "console.swellmore",
		"pin": "bench.pin", "unpin": "bench.unpin", "next alternative": "bench.next", "export": "file.export.musicxml", "midi": "focus.MIDI page", "export midi": "file.export.mid",
		"registration": "passage.registration", "drawbars": "passage.registration", "rotary": "rotary.stopped", "reverb": "tone.size.more",
		"vibrato": "vibrato.upper.none", "take": "take.make", "passage": "passage.treatment", "new passage": "passage.split", "harmonise": "passage.treatment", "bass": "bass.roots",
		"zoom": "view.wider", "theme": "view.dark", "language": "language.system", "help": "help.guide", "handbook": "help.guide", "panic": "keys.silence",
		"bench": "bench.left", "scale": "note.up", "swing": "bar.tempo", "player": "reach.player", "fingering": "finger.next",
	} {
		found := table.Search(query, nil)
		if len(found) == 0 {
			t.Errorf("%q finds nothing", query)
			continue
		}
		if found[0].ID != first {
			t.Errorf("%q finds %s (%s) before %s", query, found[0].ID, found[0].Title, first)
		}
	}
}

func TestSearchFindsByFurtherWords(t *testing.T) {
	table := Builtin()
	for query, id := range map[string]string{"transpose": "note.octaveup", "nudge": "note.later", "merge": "note.join", "erase": "note.delete",
		"volta": "bar.ending", "rehearsal": "bar.section", "shuffle": "bar.tempo", "anacrusis": "bar.pickup", "percussion": "accent.loud",
		"reharmonise": "passage.treatment", "quantise": "record.value.8", "german": "language.de", "audio": "file.export.wav", "%": "swing.light"} {
		if !slices.ContainsFunc(table.Search(query, nil), func(c *Command) bool { return c.ID == id }) {
			t.Errorf("%q does not find %s", query, id)
		}
	}
	for _, query := range []string{"", "  "} {
		if got := table.Search(query, nil); !slices.Equal(got, table.All()) {
			t.Errorf("%q lists %d of %d, or in another order", query, len(got), len(table.All()))
		}
	}
	if len(table.Search("zzz", nil)) != 0 {
		t.Error("nonsense finds something")
	}
}

// TestSearchSpeaksAnotherLanguageBesides: what is typed fits in either.
func TestSearchSpeaksAnotherLanguageBesides(t *testing.T) {
	table := NewTable([]*Command{
		{ID: "a", Title: "Key click", Menu: "Sound", Also: "attack"},
		{ID: "b", Title: "Key from here…", Menu: "Bar", Also: "key; signature"},
		{ID: "c", Title: "Louder", Menu: "Play"},
	})
	say := func(s string) string {
		for _, x := range [][2]string{{"Key click", "Tastenklick"}, {"Key from here…", "Tonart ab hier…"}, {"search: key; signature", "Tonart; Vorzeichen"}, {"search: attack", "Anschlag"}} {
			if s == x[0] {
				return x[1]
			}
		}
		return s
	}
	for query, want := range map[string]string{"tonart": "b", "vorz": "b", "key": "ba", "anschlag": "a", "klick": "a", "louder": "c", "key tonart": "", "search": ""} {
		var ids []string
		for _, c := range table.Search(query, say) {
			ids = append(ids, c.ID)
		}
		if got := strings.Join(ids, ""); got != want {
			t.Errorf("%q finds %q, want %q", query, got, want)
		}
	}
}

// TestEveryRowOfFurtherWordsFindsItsCommands: no row is for commands that there are
// no more, and every word in it finds what it is for.
func TestEveryRowOfFurtherWordsFindsItsCommands(t *testing.T) {
	table := Builtin()
	used := map[string]bool{}
	for _, c := range table.All() {
		used[c.Also] = true
		for _, word := range wordsIn(strings.ToLower(c.Also)) {
			if !slices.Contains(table.Search(word, nil), c) {
				t.Errorf("%q does not find %s", word, c.ID)
			}
		}
	}
	for i, row := range furtherWords {
		if !used[row.Also] {
			t.Errorf("no command has the words %q of %s", row.Also, row.ID)
		}
		for _, other := range furtherWords[:i] {
			if other.ID == row.ID {
				t.Errorf("two rows are for %s", row.ID)
			}
		}
	}
}
