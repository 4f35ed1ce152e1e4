package arrange

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// againstTheSymbol lists symbols with the notes that no block standing for them
// may have under its lead.
var againstTheSymbol = []struct {
	symbol string
	never  string
}{
	{"C7#9", "Db D"},
	{"C13#9", "Db D Ab"},
	{"C7b9", "D A"},
	{"C13b9", "D Ab"},
	{"C9", "Db Eb"},
	{"C13", "Db Eb Ab"},
	{"C9#11", "Db Eb F"},
	{"C13#11", "F Ab Db"},
	{"C7#5", "G A"},
	{"C7b13", "A"},
	{"Cmaj7#11", "F"},
	{"Cm9", "Db E B"},
	{"Cmaj7", "Bb"},
}

func TestNotesAgainstASymbol(t *testing.T) {
	for _, c := range againstTheSymbol {
		r := Realise(sketch(t, "C major", c.symbol+"@4", "C5@4"), Options{})
		for _, n := range namesIn(c.never) {
			if !r.search.spots[0].reading.against.Has(n.PC()) {
				t.Errorf("%s takes no offence at %v", c.symbol, n)
			}
		}
	}
	if r := Realise(sketch(t, "C major", "C7@4", "C5@4"), Options{}); r.search.spots[0].reading.against != theory.NewPCSet(11) {
		t.Error("C7 spells out nothing but its seventh")
	}
}

func namesIn(text string) (out []theory.Name) {
	for _, n := range strings.Fields(text) {
		out = append(out, theory.MustParseName(n))
	}
	return out
}

// TestTheSymbolWins holds every candidate, the bench's included, over every
// spelled-out symbol against it: only what passes on a short note may differ.
func TestTheSymbolWins(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(againstTheSymbol).Draw(t, "symbol")
		goal := rapid.SampledFrom([]string{"F6", "Fm6", "F7", "B6", "Dmaj7", "Am7", "C6"}).Draw(t, "goal")
		c := project.New()
		c.Bars = []project.Bar{project.NewBar(project.CommonTime), project.NewBar(project.CommonTime)}
		c.Changes = []project.Change{{Chord: theory.MustParseChord(kind.symbol)}, {Start: project.Whole, Chord: theory.MustParseChord(goal)}}
		for k := range 8 {
			p := theory.PitchAt(c.Key.Spell(rapid.IntRange(0, 11).Draw(t, "pc")), 0)
			c.Melody = append(c.Melody, project.Note{Start: project.Ticks(k) * project.Quarter, Duration: project.Quarter, Pitch: intoOctave(p, 67)})
		}
		c.Passages[0].Treatment = project.Treatment{
			Borrow: rapid.SampledFrom(project.Borrows).Draw(t, "borrow"), Dominants: rapid.SampledFrom(project.DominantColours).Draw(t, "colour"),
			Prefer: project.FamilySet(rapid.IntRange(0, 15).Draw(t, "prefer")),
		}
		r := Realise(c, Options{})
		for i := range r.Steps {
			for k := range r.search.cands[i] {
				holdsToSymbol(t, &r.search.spots[i], &r.search.cands[i][k])
			}
		}
	})
}

func holdsToSymbol(t *rapid.T, sp *spot, c *candidate) {
	if passes(c) && c.origin != fromTurn && sp.short {
		return
	}
	if c.technique != theory.Approach && c.n > 1 && quarrelsIn(c.voices, sp.reading.against) > 0 {
		t.Fatalf("%v over %s: %s quarrels with the symbol", sp.lead, sp.chord, pitchList(c.voices))
	}
}
