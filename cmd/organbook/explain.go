package main

import (
	"encoding/json"
	"io"

	"github.com/spf13/cobra"

	"organbook/internal/arrange"
)

// explainWidth is how wide the text is set, in characters.
const explainWidth = 100

func newExplainCommand() *cobra.Command {
	var flags sharedFlags
	cmd := &cobra.Command{
		Use:   "explain IN",
		Short: "Explain the arrangement note by note",
		Long: `Prints a line for every melody note of IN, a chart or a MusicXML file: bar and
beat, the note, the chord and its function, how the block was found, its voices
from the top down, what it sounds as, and the reason. --bars picks lines; the
notes around them still count.`,
		Example: `  organbook explain tune.organbook --bars 5-8
  organbook explain tune.musicxml --voicing drop2 --plan two-hand-block --json`,
		Args: between(1, 1, "name the one file to explain: organbook explain IN"),
		RunE: func(cmd *cobra.Command, args []string) error {
			lines, err := explained(cmd, &flags, args[0])
			if err != nil {
				return err
			}
			if flags.json {
				return writeLinesJSON(cmd.OutOrStdout(), lines)
			}
			return arrange.WriteLines(cmd.OutOrStdout(), lines, explainWidth)
		},
	}
	flags.register(cmd)
	flags.registerJSON(cmd)
	return cmd
}

// explained loads and realises a file and returns the lines the flags ask for.
func explained(cmd *cobra.Command, flags *sharedFlags, path string) ([]arrange.Line, error) {
	chart, options, first, end, err := flags.load(cmd, path)
	if err != nil {
		return nil, err
	}
	var picked []arrange.Line
	for _, l := range arrange.Explain(arrange.Realise(chart, options)) {
		if l.BarIndex >= first && l.BarIndex < end {
			picked = append(picked, l)
		}
	}
	return picked, nil
}

// lineJSON is one explained note as --json prints it, one object a line.
type lineJSON struct {
	Bar         int      `json:"bar"`
	Beat        float64  `json:"beat"`
	Melody      string   `json:"melody"`
	Chord       string   `json:"chord"`
	Function    string   `json:"function"`
	Technique   string   `json:"technique"`
	Voicing     string   `json:"voicing"`
	Block       []string `json:"block"`
	Name        string   `json:"name"`
	Reason      string   `json:"reason"`
	Pinned      bool     `json:"pinned"`
	Anticipates bool     `json:"anticipates"`
}

func writeLinesJSON(w io.Writer, lines []arrange.Line) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	for i := range lines {
		l := &lines[i]
		out := lineJSON{
			Bar: l.Bar, Beat: l.Beat, Melody: l.Melody.String(), Chord: l.Chord, Function: l.Function,
			Technique: l.Technique.String(), Voicing: l.Voicing.String(), Name: l.Name, Reason: l.Reason,
			Pinned: l.Pinned, Anticipates: l.Anticipates,
		}
		for _, v := range l.Block {
			out.Block = append(out.Block, v.String())
		}
		if err := enc.Encode(out); err != nil {
			return err
		}
	}
	return nil
}
