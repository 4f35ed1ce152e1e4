package ui

import (
	"slices"

	"fyne.io/fyne/v2"

	"organbook/internal/ui/command"
)

// groupStarts are the commands that a line is drawn over in their menus: each
// begins a group of what belongs together.
var groupStarts = []string{
	"file.save", "file.export.musicxml", "file.quit",
	"edit.cut", "edit.selectall",
	"note.split", "note.delete", "note.up", "note.longer", "note.divide3", "length.tuplet5", "length.dot",
	"chart.transpose",
	"bar.repeatstart", "bar.section", "chart.title", "jump.dc", "jump.none",
	"passage.treatment", "passage.twofive", "strip.later", "form.next", "template.list", "registration.list",
	"family.prefer.minor", "family.prefer.dominant", "family.prefer.dominant-flat-five", "range.highup", "range.usual",
	"take.next", "take.compare", "take.surprise", "take.delete",
	"console.rotary", "console.effects", "accent.loud",
	"vibrato.upper.light", "vibrato.upper.light with dry", "vibrato.lower.light", "vibrato.lower.light with dry",
	"vibrato.pedal.light", "vibrato.pedal.light with dry",
	"tone.distance.more", "tone.size.more", "tone.usual",
	"bench.pin", "bench.costs", "bench.left", "bench.unpinhere", "finger.0",
	"filter.family.major", "filter.reach.within-reach", "filter.none",
	"reach.apply", "reach.player",
	"play.loop", "play.countin", "play.louder", "play.ramp", "mute.none",
	"keys.steps", "midi.down", "record.triplets.0", "record.replace",
	"view.bigger", "view.bench", "view.dark", "view.motion",
}

// menuLines lists the commands of a menu that are to be shown, with a line between
// groups.
func (w *Window) menuLines(name string, shows func(*command.Command) bool) (items []*fyne.MenuItem) {
	begins := false
	for _, c := range w.commands.InMenu(name) {
		begins = begins || slices.Contains(groupStarts, c.ID)
		if !shows(c) {
			continue
		}
		if begins && len(items) > 0 {
			items = append(items, fyne.NewMenuItemSeparator())
		}
		items, begins = append(items, w.menuItem(c, name)), false
	}
	return items
}
