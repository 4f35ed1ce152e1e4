package command

import (
	"organbook/internal/theory"
	"organbook/internal/ui/session"
	"organbook/internal/ui/words"
)

// benchCommands walk through the blocks that a note, or each of the selected
// notes, could have.
func benchCommands() []*Command {
	has := (*session.Session).HasCurrent
	return []*Command{
		{ID: "bench.next", Title: "Next alternative, heard", Menu: "Bench", Keys: []Stroke{"Ctrl+Down"}, Applies: has, Do: quiet(func(s *session.Session) { s.WalkAlternatives(1) })},
		{ID: "bench.previous", Title: "Previous alternative, heard", Menu: "Bench", Keys: []Stroke{"Ctrl+Up"}, Applies: has, Do: quiet(func(s *session.Session) { s.WalkAlternatives(-1) })},
		{ID: "bench.down", Title: "Down the alternatives", Menu: "Bench", Keys: []Stroke{"Down"}, In: Bench, Applies: has, Do: quiet(func(s *session.Session) { s.WalkAlternatives(1) })},
		{ID: "bench.up", Title: "Up the alternatives", Menu: "Bench", Keys: []Stroke{"Up"}, In: Bench, Applies: has, Do: quiet(func(s *session.Session) { s.WalkAlternatives(-1) })},
		{ID: "bench.pin", Title: "Pin the alternative", Menu: "Bench", Keys: []Stroke{"Enter"}, In: Bench, Applies: has, Do: fallible((*session.Session).Pin)},
		{ID: "bench.pinhere", Title: "Pin: the whole block", Menu: "Pin", Keys: []Stroke{"Ctrl+p"}, Applies: has, Do: fallible((*session.Session).Pin)},
		{ID: "bench.pinvoicing", Title: "Pin: only the voicing", Menu: "Pin", Keys: []Stroke{"v"}, In: Bench, Applies: has, Do: fallible((*session.Session).PinVoicing)},
		{ID: "bench.pintechnique", Title: "Pin: only the technique", Menu: "Pin", Keys: []Stroke{"t"}, In: Bench, Applies: has, Do: fallible((*session.Session).PinTechnique)},
		{ID: "bench.unpin", Title: "Take the pin out", Menu: "Bench", Keys: []Stroke{"Delete", "Backspace"}, In: Bench, Applies: (*session.Session).IsPinned, Do: fallible((*session.Session).Unpin)},
		{ID: "bench.unpinhere", Title: "Pin: take it out", Menu: "Pin", Keys: []Stroke{"Ctrl+Shift+p"}, Applies: (*session.Session).IsPinned, Do: fallible((*session.Session).Unpin)},
		{ID: "bench.costs", Title: "Costs of the alternative, or not", Menu: "Bench", Keys: []Stroke{"w"}, In: Bench, Do: front(Frontend.ToggleCosts)},
		{ID: "bench.hear", Title: "Hear the block; of several notes the new way and the old one in turn", Menu: "Bench", Keys: []Stroke{"h"}, Applies: has, Do: fallible((*session.Session).HearBench)},
		{ID: "bench.left", Title: "Bench to the previous note", Menu: "Bench", Keys: []Stroke{"Left"}, In: Bench, Do: quiet(func(s *session.Session) { s.StepNote(-1) })},
		{ID: "bench.right", Title: "Bench to the next note", Menu: "Bench", Keys: []Stroke{"Right"}, In: Bench, Do: quiet(func(s *session.Session) { s.StepNote(1) })},
	}
}

// filterCommands say which alternatives the bench lists.
func filterCommands() []*Command {
	filter := func(id, title string, change func(*session.BenchFilter), set func(session.BenchFilter) bool) *Command {
		return &Command{ID: "filter." + id, Title: "List only: " + title, Menu: "List only",
			Applies: func(s *session.Session) bool { return !set(s.BenchFilter()) },
			On:      func(s *session.Session) bool { return set(s.BenchFilter()) },
			Do:      quiet(func(s *session.Session) { s.ChangeBenchFilter(change) })}
	}
	var list []*Command
	for _, v := range session.Voicings {
		list = append(list, filter("voicing."+v.String(), words.Voicing(v),
			func(f *session.BenchFilter) { f.InVoicing, f.Voicing = true, v },
			func(f session.BenchFilter) bool { return f.InVoicing && f.Voicing == v }))
	}
	for _, x := range theory.Sixths {
		list = append(list, filter("family."+idWord(x), x.String()+" family",
			func(f *session.BenchFilter) { f.OfFamily, f.Family = true, x },
			func(f session.BenchFilter) bool { return f.OfFamily && f.Family == x }))
	}
	for _, r := range session.ReachFilters[1:] {
		list = append(list, filter("reach."+idPlain(r.String()), r.String(),
			func(f *session.BenchFilter) { f.Reach = r },
			func(f session.BenchFilter) bool { return f.Reach == r }))
	}
	return append(list, &Command{ID: "filter.none", Title: "List all alternatives again", Menu: "List only", Keys: []Stroke{"x"}, In: Bench,
		Applies: func(s *session.Session) bool { return s.BenchFilter() != session.BenchFilter{} },
		Do:      quiet(func(s *session.Session) { s.SetBenchFilter(session.BenchFilter{}) })})
}
