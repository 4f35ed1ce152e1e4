package arrange

import (
	"fmt"
	"io"
	"strings"

	"organbook/internal/theory"
)

// Summary counts what an arranger would look for in a whole arrangement.
type Summary struct {
	// Notes are the melody notes, Chorded those of them with a chord in force.
	Notes, Chorded int
	// Home to Own count the blocks by how they were found: Own are made of the
	// symbol's own notes. Thinned are leads alone or in octaves over a chord,
	// Planned those of them that plan or voicing ask for. Fewer are the blocks that
	// a fast run or a low register left with two or three voices; they count as
	// what they are besides.
	Home, Away, Borrowed, Approach, Own, Thinned, Planned, Fewer int
	// Pinned counts the user's own choices, Moves the blocks that change under a
	// held note.
	Pinned, Moves int
	// Movements counts the steps of inner voices from one block to the next in
	// the same line; Average and Largest measure them in semitones.
	Movements int
	Average   float64
	Largest   int
	// Moving counts the blocks under a lead that moved, Repeated those of them
	// whose inner voices all stayed.
	Moving, Repeated int
	// Ninths are minor ninths under the lead, Unasked those of them that neither
	// symbol nor pin asks for.
	Ninths, Unasked int
	// Crossings are voices above the one before them; Outside counts block notes
	// outside the family's scale and the symbol, approaches left out.
	Crossings, Outside int
}

// Summarise counts over the steps of a realisation that keep reports true for;
// nil keeps all.
func Summarise(r *Realisation, keep func(*Step) bool) Summary {
	var s Summary
	total := 0
	for i := range r.Steps {
		st := &r.Steps[i]
		if keep != nil && !keep(st) {
			continue
		}
		s.count(r, i)
		if i > 0 && r.joined(i) {
			total += s.compare(&r.Steps[i-1], st)
		}
	}
	if s.Movements > 0 {
		s.Average = float64(total) / float64(s.Movements)
	}
	return s
}

// joined reports whether step i follows the one before it in one line.
func (r *Realisation) joined(i int) bool {
	return r.search != nil && r.search.spots[r.search.first[i]].joined
}

func (s *Summary) count(r *Realisation, i int) {
	st := &r.Steps[i]
	s.Notes++
	s.Moves += len(st.Moves)
	if st.Pinned {
		s.Pinned++
	}
	if !playable(st.Chord) {
		return
	}
	s.Chorded++
	switch st.Technique {
	case theory.Home:
		s.Home++
	case theory.Away:
		s.Away++
	case theory.Borrowed:
		s.Borrowed++
	case theory.Approach:
		s.Approach++
	case theory.Diatonic:
		s.Own++
	case theory.Alone:
		s.Thinned++
		if r.search != nil && r.search.cands[r.search.first[i]][r.search.chosen[r.search.first[i]]].origin == fromPlan {
			s.Planned++
		}
	}
	if r.search != nil {
		at := r.search.first[i]
		if c := &r.search.cands[at][r.search.chosen[at]]; c.thinned || c.n == 2 && r.search.spots[at].thin == thinPair {
			s.Fewer++
		}
	}
	s.inspect(r, i)
}

// inspect looks at the notes of one block.
func (s *Summary) inspect(r *Realisation, i int) {
	st := &r.Steps[i]
	symbol := st.Chord.PCSet()
	scale := symbol
	if st.Family.IsValid() {
		for _, n := range st.Family.Scale() {
			scale = scale.With(n.PC())
		}
	}
	for k, v := range st.Voices {
		if k > 0 && v.Key() > st.Voices[k-1].Key() {
			s.Crossings++
		}
		if k > 0 && st.Technique != theory.Approach && !scale.Has(v.Key()) && !customaryTension(st.Chord, v.Name()) {
			s.Outside++
		}
		if down := st.Lead.Key() - v.Key(); down > 12 && down%12 == 1 {
			s.Ninths++
			if !st.Pinned && !asksForNinth(st.Chord, st.Lead.Name(), v.Name()) {
				s.Unasked++
			}
		}
	}
}

// compare looks at two neighbouring blocks and returns how far inner voices
// moved in all.
func (s *Summary) compare(a, b *Step) (total int) {
	last := a.Voices
	if n := len(a.Moves); n > 0 {
		last = a.Moves[n-1].Voices
	}
	inner := min(len(last), len(b.Voices))
	for k := 1; k < inner; k++ {
		d := last[k].Key() - b.Voices[k].Key()
		d = max(d, -d)
		total += d
		s.Movements++
		s.Largest = max(s.Largest, d)
	}
	if a.Lead.Key() != b.Lead.Key() && len(b.Voices) > 1 {
		s.Moving++
		if inner > 1 && len(last) == len(b.Voices) && sameKeys(last[1:], b.Voices[1:]) {
			s.Repeated++
		}
	}
	return total
}

// Write prints the summary, a line a figure.
func (s Summary) Write(w io.Writer) error {
	var b strings.Builder
	line := func(name string, value any, note string) {
		fmt.Fprintf(&b, "%-34s %8v", name, value)
		if note != "" {
			b.WriteString("  " + note)
		}
		b.WriteByte('\n')
	}
	line("melody notes", s.Notes, fmt.Sprintf("%d with a chord in force", s.Chorded))
	line("home blocks", s.Home, s.share(s.Home))
	line("away blocks", s.Away, s.share(s.Away))
	line("borrowed blocks", s.Borrowed, s.share(s.Borrowed))
	line("approach blocks", s.Approach, s.share(s.Approach))
	line("blocks of the symbol's own notes", s.Own, s.share(s.Own))
	line("thinned to the lead", s.Thinned, fmt.Sprintf("%d as plan or voicing ask", s.Planned))
	line("thinned to two or three voices", s.Fewer, "in fast runs and low registers")
	line("pinned", s.Pinned, "")
	line("moves under held notes", s.Moves, "")
	line("average movement of inner voices", fmt.Sprintf("%.2f", s.Average), "semitones")
	line("largest movement of inner voices", s.Largest, "semitones")
	line("repeated blocks, moving lead", s.Repeated, fmt.Sprintf("of %d", s.Moving))
	line("minor ninths under the lead", s.Ninths, fmt.Sprintf("%d unasked", s.Unasked))
	line("crossings", s.Crossings, "")
	line("notes outside family and symbol", s.Outside, "approaches left out")
	_, err := io.WriteString(w, b.String())
	return err
}

// share writes a count as a part of the notes with a chord.
func (s *Summary) share(n int) string {
	if s.Chorded == 0 {
		return ""
	}
	return fmt.Sprintf("%.0f %%", 100*float64(n)/float64(s.Chorded))
}
