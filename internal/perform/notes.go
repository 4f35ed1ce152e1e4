package perform

import (
	"cmp"
	"slices"
	"sort"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// restrike is how long a key stays up before it is struck again, in seconds:
// long enough to be heard as a new attack, short enough to sound legato.
const restrike = 0.03

// placed is a note with its performed start and end.
type placed struct {
	start, end project.Ticks
	// written is the position on the page of the start, writtenEnd of the end.
	written, writtenEnd project.Ticks
	note                *arrange.Note
}

// place puts the notes of each run on the performed axis, cut to the run.
func (p *Performance) place(notes []arrange.Note, runs []run, o Options) []placed {
	var out []placed
	longest := longestNote(notes)
	for _, r := range runs {
		first := r.from
		if r.held {
			first -= longest
		}
		i := sort.Search(len(notes), func(i int) bool { return notes[i].Start >= first })
		for ; i < len(notes) && notes[i].Start < r.to; i++ {
			if n := &notes[i]; !o.Mute.Has(n.Layer) && n.Start+n.Duration > r.from {
				out = append(out, p.placeNote(n, r))
			}
		}
	}
	return out
}

func longestNote(notes []arrange.Note) (longest project.Ticks) {
	for i := range notes {
		longest = max(longest, notes[i].Duration)
	}
	return longest
}

func (p *Performance) placeNote(n *arrange.Note, r run) placed {
	from, to := max(n.Start, r.from), min(n.Start+n.Duration, r.to)
	start, end := p.page.Bend(from, n.Limb)+r.offset, p.page.Bend(to, n.Limb)+r.offset
	return placed{start, max(end, start+1), from, to, n}
}

// keyEvents turns notes into key events, one key of a division at a time.
func (p *Performance) keyEvents(notes []placed) []Event {
	slices.SortStableFunc(notes, func(a, b placed) int {
		return cmp.Or(
			cmp.Compare(a.note.Division, b.note.Division),
			cmp.Compare(a.note.Key, b.note.Key),
			cmp.Compare(a.start, b.start),
		)
	})
	events := make([]Event, 0, 2*len(notes))
	for _, n := range p.separate(notes) {
		down := Event{
			At: n.start, Kind: KeyDown, Written: n.written, Division: n.note.Division, Key: n.note.Key,
			Limb: n.note.Limb, Layer: n.note.Layer, Finger: n.note.Finger, Step: n.note.Step,
		}
		up := down
		up.At, up.Kind, up.Written = n.end, KeyUp, n.writtenEnd
		events = append(events, down, up)
	}
	return events
}

// separate makes the notes of one key follow each other: notes that start
// together become one, a note struck while its key is down takes the key over
// to the longer end, and a key that is struck again comes up a little before.
// Other notes keep their full length: the organ is played legato.
func (p *Performance) separate(notes []placed) []placed {
	var out []placed
	for _, n := range notes {
		if len(out) == 0 || !sameKey(out[len(out)-1], n) {
			out = append(out, n)
			continue
		}
		last := &out[len(out)-1]
		if last.end > n.start && n.end < last.end {
			n.end, n.writtenEnd = last.end, last.writtenEnd
		}
		if last.start == n.start {
			last.end, last.writtenEnd = n.end, n.writtenEnd
			continue
		}
		p.release(last, n.start)
		out = append(out, n)
	}
	return out
}

func sameKey(a, b placed) bool {
	return a.note.Division == b.note.Division && a.note.Key == b.note.Key
}

// release ends a note in time for its key to be struck again at next. Short
// notes keep two thirds of the time there is.
func (p *Performance) release(n *placed, next project.Ticks) {
	gap := project.Ticks(restrike / p.TempoAt(next).secondsPerTick())
	latest := next - min(gap, (next-n.start)/3)
	if n.end > next {
		n.writtenEnd -= n.end - next
	}
	n.end = min(n.end, latest)
}
