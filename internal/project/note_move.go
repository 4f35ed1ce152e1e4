package project

import (
	"fmt"

	"organbook/internal/theory"
)

// MoveNotes shifts notes in time and pitch. What they land on gives way as for
// AddNote; the moved notes keep their distances. Pins follow in time and are
// dropped where the pitch changes.
type MoveNotes struct {
	// Starts are the positions of the notes.
	Starts []Ticks
	// By is the shift in time, negative to the left.
	By Ticks
	// Pitch is the shift in pitch; the zero value keeps it.
	Pitch PitchMove
}

// PitchMove is a shift in pitch: N steps of a kind, negative down.
type PitchMove struct {
	Kind PitchStep
	N    int
}

// PitchStep is the size of a step in pitch.
type PitchStep uint8

// The steps.
const (
	// ScaleStep moves to the next note of the key signature in force; a note
	// outside the scale moves to its neighbour on it.
	ScaleStep PitchStep = iota
	// Semitone moves by half steps, spelled as the key usually does.
	Semitone
	// OctaveStep moves by octaves and keeps the name.
	OctaveStep
)

// Name returns "move 2 notes".
func (e MoveNotes) Name() string { return "move " + counted(len(e.Starts), "note") }

// Apply fails when no note starts at one of the positions, or one would leave
// the bars or the range of keys.
func (e MoveNotes) Apply(c *Chart) (*Chart, error) {
	taken, rest, err := c.pull(e.Starts)
	if err != nil {
		return nil, err
	}
	if e.By == 0 && e.Pitch.N == 0 {
		return c, nil
	}
	ruler := c.Ruler()
	moved := make([]entry, len(taken))
	for i, n := range taken {
		moved[i], err = e.move(n, ruler.KeyAt(n.Start))
		if err != nil {
			return nil, Problem{ruler.PositionText(n.Start), err.Error()}
		}
	}
	if err := c.fits(notesOf(moved)); err != nil {
		return nil, err
	}
	return c.withLine(place(rest, moved))
}

// Select keeps the moved notes selected.
func (e MoveNotes) Select(_, _ *Chart, _ Selection) Selection {
	starts := sortedStarts(e.Starts)
	for i := range starts {
		starts[i] += e.By
	}
	return NoteSelection(starts...)
}

func (e MoveNotes) move(n entry, key theory.Key) (entry, error) {
	pitch := e.Pitch.of(n.Pitch, key)
	if !pitch.IsValid() {
		return n, fmt.Errorf("%s would leave the range of keys", n.Pitch)
	}
	n = n.pitched(Note{Pitch: pitch})
	n.Start += e.By
	return n, nil
}

// of returns where a pitch moves to, the zero Pitch when out of range.
func (m PitchMove) of(p theory.Pitch, key theory.Key) theory.Pitch {
	if m.N == 0 {
		return p
	}
	switch m.Kind {
	case Semitone:
		target := p.Key() + m.N
		return theory.PitchAt(key.Spell((target%12+12)%12), target)
	case OctaveStep:
		return theory.NewPitch(p.Name(), p.Octave()+m.N)
	}
	for i := 0; i < abs(m.N) && p.IsValid(); i++ {
		p = scaleNeighbour(p, key, sign(m.N))
	}
	return p
}

// scaleNeighbour returns the nearest note of the signature above (direction 1)
// or below (-1) a pitch.
func scaleNeighbour(p theory.Pitch, key theory.Key, direction int) theory.Pitch {
	// The note may be an altered one, whose own letter already lies on that
	// side; otherwise the next letter does, and two on for B# and its like.
	for step := range 3 {
		place := p.Diatonic() + direction*step
		q := onSignature(place, key)
		if q.IsValid() && direction*(q.Key()-p.Key()) > 0 {
			return q
		}
	}
	return theory.Pitch{}
}

// onSignature returns the pitch at a staff place, letters above C0, altered as
// the key signature says.
func onSignature(place int, key theory.Key) theory.Pitch {
	octave := floorDiv(place, 7)
	letter := theory.Letter(place - 7*octave)
	return theory.NewPitch(theory.NewName(letter, signatureAlter(letter, key.Fifths())), octave)
}

// signatureAlter returns what a signature of so many sharps does to a letter.
func signatureAlter(letter theory.Letter, fifths int) int {
	// Sharps arrive in the order F C G D A E B, which are the places -1 to 5
	// on the line of fifths; a letter is raised once per seven it falls below.
	place := theory.NewName(letter, 0).Fifths()
	return floorDiv(fifths-place-2, 7) + 1
}

func notesOf(es []entry) []Note {
	notes := make([]Note, len(es))
	for i, e := range es {
		notes[i] = e.Note
	}
	return notes
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func abs(n int) int { return max(n, -n) }

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}
