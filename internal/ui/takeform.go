package ui

import (
	"fmt"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// takesForm lists the takes of the passage: each is used, compared with the one
// in use, named or deleted.
func (w *Window) takesForm() {
	s := w.session
	w.showList("Takes of "+w.session.PassageQuoted(s.CurrentPassage()), func(f *listForm) {
		facts := s.TakeFacts()
		if len(facts) == 0 {
			f.note("One arrangement so far. “Make a take” keeps it and goes on with a copy; both can then be compared by ear.")
		}
		for i, t := range facts {
			w.takeRow(f, i, t, len(facts))
		}
	}, func(f *listForm) []*escButton {
		buttons := append([]*escButton{f.then("Make a take", s.MakeTake)}, f.comparing()...)
		return append(buttons, f.button("Proposals…", func() { f.close(); w.surpriseForm() }))
	})
}

// takeRow adds the row of take i of n.
func (w *Window) takeRow(f *listForm, i int, t session.TakeFacts, n int) {
	s := w.session
	name, words := t.Name, t.Settings
	use := f.then("Use", func() error { return s.UseTake(i) })
	compare := f.button("Compare", func() { w.grid.say(s.CompareTake(i)) })
	if t.InUse {
		name += " (in use)"
		use.Disable()
		compare.Disable()
	} else {
		words += " · " + unlike(t.Differ)
	}
	rename := f.button("Name…", func() {
		f.close()
		w.oneLineThen("Name the take", "Name of this arrangement of the passage", t.Name,
			func(name string) error { return s.RenameTakeAt(i, name) }, w.takesForm)
	})
	drop := f.then("Delete", func() error { return s.DropTakeAt(i) })
	if n < 2 {
		drop.Disable()
	}
	f.row(name, words, use, compare, rename, drop)
}

// unlike says how a take differs from the one in use.
func unlike(n int) string {
	switch n {
	case 0:
		return "the same blocks as in use"
	case 1:
		return "1 block unlike that in use"
	}
	return counted(n, "block") + " unlike those in use"
}

// surpriseForm lists takes that would differ in a stated way; each is heard in
// turn with what is there, and kept or not.
func (w *Window) surpriseForm() {
	s := w.session
	offers := &proposalList{s: s}
	offers.more()
	w.showList("Proposals for "+w.session.PassageQuoted(s.CurrentPassage()), func(f *listForm) {
		if len(offers.now) == 0 {
			f.note("No further proposal changes a block here that no take has yet.")
		}
		for _, o := range offers.now {
			w.proposalRow(f, o)
		}
	}, func(f *listForm) []*escButton {
		return append([]*escButton{f.then("Others", func() error { offers.more(); return nil })}, f.comparing()...)
	})
}

// proposalList goes through the proposals for a passage without showing one
// twice.
type proposalList struct {
	s    *session.Session
	seed int64
	seen map[project.Treatment]bool
	now  []arrange.Proposal
}

// mostSeeds bounds how many lists are tried for a proposal that was not shown.
const mostSeeds = 12

// more shows the next proposals, none when there are no others.
func (l *proposalList) more() {
	if l.seen == nil {
		l.seen = map[project.Treatment]bool{}
	}
	for range mostSeeds {
		l.now = nil
		for _, o := range l.s.Proposals(l.seed) {
			if !l.seen[o.Treatment] {
				l.now, l.seen[o.Treatment] = append(l.now, o), true
			}
		}
		l.seed++
		if len(l.now) > 0 {
			return
		}
	}
}

func (w *Window) proposalRow(f *listForm, o arrange.Proposal) {
	s := w.session
	hear := f.button("Hear", func() { w.grid.say(s.HearProposal(o)) })
	keep := f.button("Keep", func() {
		s.Stop()
		w.grid.say(s.KeepProposal(o))
		f.close()
	})
	f.row(capital(say(o.Says))+".", fmt.Sprintf("%s of the passage would change. Hearing it plays it and what is there in turn, a pass each.", counted(o.Changed, "block")), hear, keep)
}
