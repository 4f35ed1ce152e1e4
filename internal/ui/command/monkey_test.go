package command

import (
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// monkeySteps is how many steps each of the two runs takes; ORGANBOOK_MONKEY
// sets it, as in ORGANBOOK_MONKEY=25000 for the long run before a release.
func monkeySteps(t *testing.T) int {
	text := os.Getenv("ORGANBOOK_MONKEY")
	if text == "" {
		return 1200
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestMonkey runs seeded random commands and input: the chart is whole after
// each, nothing panics, and undoing everything gives the first chart back.
func TestMonkey(t *testing.T) {
	steps := monkeySteps(t)
	for seed := uint64(1); seed <= 2; seed++ {
		r := rand.New(rand.NewPCG(seed, 7))
		first := project.New()
		s := session.New(first, nil)
		env, list := Env{s, &silentFront{}}, Builtin().All()
		for i := range steps {
			monkeyStep(r, env, list)
			if err := s.Chart().Check(); err != nil {
				t.Fatalf("seed %d step %d: %v", seed, i, err)
			}
			if len(s.Realisation().Steps) != len(s.Chart().Melody) {
				t.Fatalf("seed %d step %d: the realisation is not the chart's", seed, i)
			}
			if len(s.Chart().Bars) > 64 { // keep the chart of a size a person writes
				s.SelectBars(8, len(s.Chart().Bars)-1)
				s.RemoveBars()
			}
			if i%200 == 199 && undoAll(t, s, first) > 300 {
				// The history forgets what is a thousand edits back, so begin it anew.
				first = s.Chart()
				s = session.New(first, nil)
				env.Session = s
			}
		}
		undoAll(t, s, first)
	}
}

// undoAll goes back to the first chart and forth again, and returns how many edits
// there were.
func undoAll(t *testing.T, s *session.Session, first *project.Chart) (n int) {
	t.Helper()
	for ; s.CanUndo(); n++ {
		s.Undo()
	}
	if !s.Chart().Equal(first) {
		t.Fatalf("undoing %d edits does not give the first chart back", n)
	}
	for s.CanRedo() {
		s.Redo()
	}
	return n
}

var monkeyChords = []string{"C6", "Dm7", "G7b9", "Am7b5", "F#dim7", "Bb7#11/D", "Esus4", "N.C.", "H7", "", "Ebmaj7", "C7alt"}

// monkeyStep does one random thing: mostly a command, sometimes what the mouse
// and the forms do.
func monkeyStep(r *rand.Rand, e Env, list []*Command) {
	s := e.Session
	end := int64(s.Chart().Length())
	at := project.Ticks(r.Int64N(end + 1))
	switch r.IntN(13) {
	case 0:
		s.SetCaret(at)
	case 1:
		s.PlaceAt(at, 40+r.IntN(60))
	case 2:
		s.SetChordText(s.ChordPlace(at), monkeyChords[r.IntN(len(monkeyChords))])
	case 3:
		s.SelectSpan(at, at+project.Ticks(r.Int64N(6*int64(project.Whole))), 0, 127)
	case 4:
		s.MoveBy(project.Ticks(r.IntN(9)-4)*s.Entry().Snap(), project.PitchMove{Kind: project.Semitone, N: r.IntN(25) - 12})
	case 5:
		s.SetDrawbar(r.IntN(session.Drawbars), r.IntN(9))
	case 7:
		key, now := 48+r.IntN(30), time.Now()
		s.KeyPlayed(arrange.Division(r.IntN(3)), key, r.IntN(2) == 0, now)
		s.LiveDrawbar(r.IntN(session.Drawbars), r.IntN(9))
		if r.IntN(4) == 0 {
			s.KeepDrawbars()
		}
	case 6:
		s.SetMeter(project.Meter{Beats: 1 + r.IntN(7), Unit: 4 << r.IntN(2)})
	default:
		c := list[r.IntN(len(list))]
		if c.ID == "edit.undo" && r.IntN(3) > 0 {
			return
		}
		c.Run(e)
	}
}
