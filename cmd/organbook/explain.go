package main

import (
	"encoding/json"
	"io"

	"github.com/spf13/cobra"

	"organbook/internal/arrange"
	"organbook/internal/theory"
)

// explainWidth is how wide the text is set, in characters.
const explainWidth = 100

func newExplainCommand() *cobra.Command {
	var flags sharedFlags
	var summary bool
	cmd := &cobra.Command{
		Use:   "explain IN",
		Short: "Explain the arrangement note by note",
		Long: `Prints a line for every melody note of IN, a chart or a MusicXML file: bar and
beat, the note, the chord and its function, how the block was found, its voices
from the top down, what it sounds as, and the reason. --bars picks lines; the
notes around them still count. With --summary it prints figures instead: how many
blocks rest, pass and borrow, how far the inner voices move, and what an
arranger would mark in red.`,
		Example: `  organbook explain tune.organbook --bars 5-8
  organbook explain tune.musicxml --voicing drop2 --plan two-hand-block --json
  organbook explain tune.organbook --summary`,
		Args: between(1, 1, "name the one file to explain: organbook explain IN"),
		RunE: func(cmd *cobra.Command, args []string) error {
			r, inside, err := realised(cmd, &flags, args[0])
			if err != nil {
				return err
			}
			if summary {
				counts := arrange.Summarise(r, func(st *arrange.Step) bool { return inside(st.Bar) })
				return writeSummary(cmd.OutOrStdout(), counts, flags.json)
			}
			lines := explained(r, inside)
			if flags.json {
				return writeLinesJSON(cmd.OutOrStdout(), lines)
			}
			return arrange.WriteLines(cmd.OutOrStdout(), lines, explainWidth)
		},
	}
	flags.register(cmd)
	flags.registerJSON(cmd)
	cmd.Flags().BoolVar(&summary, "summary", false, "print figures of the whole arrangement instead of its notes")
	return cmd
}

// realised loads and realises a file; inside tells whether the flags ask for a
// bar, by its index.
func realised(cmd *cobra.Command, flags *sharedFlags, path string) (r *arrange.Realisation, inside func(int) bool, err error) {
	chart, options, first, end, err := flags.load(cmd, path)
	if err != nil {
		return nil, nil, err
	}
	return arrange.Realise(chart, options), func(bar int) bool { return bar >= first && bar < end }, nil
}

// explained returns the lines of the bars inside.
func explained(r *arrange.Realisation, inside func(int) bool) (picked []arrange.Line) {
	for _, l := range arrange.Explain(r) {
		if inside(l.BarIndex) {
			picked = append(picked, l)
		}
	}
	return picked
}

// lineJSON is one explained note as --json prints it, one object a line.
type lineJSON struct {
	Bar         int      `json:"bar"`
	Beat        float64  `json:"beat"`
	Melody      string   `json:"melody"`
	Chord       string   `json:"chord"`
	Function    string   `json:"function"`
	Target      string   `json:"target,omitempty"`
	Technique   string   `json:"technique"`
	Voicing     string   `json:"voicing"`
	Block       []string `json:"block"`
	Name        string   `json:"name"`
	Reason      string   `json:"reason"`
	Pinned      bool     `json:"pinned"`
	Anticipates bool     `json:"anticipates"`
	// Moves are the later blocks under a held note.
	Moves []moveJSON `json:"moves,omitempty"`
}

// moveJSON is a change of the inner voices under a held note.
type moveJSON struct {
	At        string   `json:"at"`
	Chord     string   `json:"chord"`
	Function  string   `json:"function"`
	Target    string   `json:"target,omitempty"`
	Technique string   `json:"technique"`
	Block     []string `json:"block"`
	Name      string   `json:"name"`
	Reason    string   `json:"reason"`
}

func writeLinesJSON(w io.Writer, lines []arrange.Line) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	for i := range lines {
		l := &lines[i]
		out := lineJSON{
			Bar: l.Bar, Beat: l.Beat, Melody: l.Melody.String(), Chord: l.Chord, Function: l.Function, Target: l.Target,
			Technique: l.Technique.String(), Voicing: l.Voicing.String(), Name: l.Name, Reason: l.Reason,
			Pinned: l.Pinned, Anticipates: l.Anticipates,
		}
		out.Block = pitchNames(l.Block)
		for _, m := range l.Moves {
			out.Moves = append(out.Moves, moveJSON{m.Position, m.Chord, m.Function, m.Target, m.Technique.String(), pitchNames(m.Block), m.Name, m.Reason})
		}
		if err := enc.Encode(out); err != nil {
			return err
		}
	}
	return nil
}

func pitchNames(voices []theory.Pitch) []string {
	out := make([]string, len(voices))
	for i, v := range voices {
		out[i] = v.String()
	}
	return out
}
