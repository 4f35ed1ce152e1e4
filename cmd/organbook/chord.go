package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"organbook/internal/theory"
)

func newChordCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "chord SYMBOL…",
		Short: "Say what a chord symbol means and which families serve it",
		Long: `For each symbol, prints its root, bass and spelled tones, and the families that
serve it in order of preference, each with its home and away chords, what it
sounds as over the root, and why. A family said to lead is the one the chord
resolves to. With --json there is one JSON object a line.`,
		Example: "  organbook chord Cm7b5/Gb 'D7(b9)' --json",
		RunE: func(cmd *cobra.Command, symbols []string) error {
			if len(symbols) == 0 {
				return errors.New("chord: give at least one chord symbol, such as Cm7b5/Gb")
			}
			if asJSON {
				return printChordsJSON(cmd.OutOrStdout(), symbols)
			}
			return printChords(cmd.OutOrStdout(), cmd.ErrOrStderr(), symbols)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print a JSON object for each symbol, one a line")
	return cmd
}

// printChords describes each symbol in text. Unreadable ones go to stderr with
// a mark under the character; the others are still described.
func printChords(stdout, stderr io.Writer, symbols []string) error {
	var failed error
	described := 0
	for _, symbol := range symbols {
		c, err := theory.ParseChord(symbol)
		if err != nil {
			printChordError(stderr, err)
			failed = errReported
			continue
		}
		if described++; described > 1 {
			fmt.Fprintln(stdout)
		}
		if err := printChord(stdout, symbol, c); err != nil {
			return err
		}
	}
	return failed
}

func printChordError(w io.Writer, err error) {
	fmt.Fprintln(w, sentence(err))
	var ce *theory.ChordError
	if errors.As(err, &ce) && !strings.ContainsAny(ce.Input, "\n\r\t") {
		fmt.Fprintf(w, "  %s\n  %s^\n", ce.Input, strings.Repeat(" ", ce.At))
	}
}

func printChord(w io.Writer, symbol string, c theory.Chord) error {
	fmt.Fprint(w, symbol)
	if c.String() != symbol {
		fmt.Fprintf(w, "  (written %s here)", c)
	}
	fmt.Fprintln(w)
	if c.IsNone() {
		_, err := fmt.Fprintln(w, "  no chord: nothing accompanies the melody")
		return err
	}
	fmt.Fprintf(w, "  root   %s\n  bass   %s\n  tones  %s\n", c.Root(), c.Bass(), joinNames(c.Tones(), " "))
	return printServices(w, theory.Serve(c))
}

// printServices lists the families in aligned columns, each with its reason.
func printServices(w io.Writer, services []theory.Service) error {
	columns := &strings.Builder{}
	tw := tabwriter.NewWriter(columns, 0, 0, 2, ' ', 0)
	for _, s := range services {
		role := "rests on"
		if s.Leading {
			role = "leads to"
		}
		fmt.Fprintf(tw, "  %s\t%s\thome %s\taway %s\tsounds as %s\n",
			role, strings.TrimSuffix(s.Family.String(), " family"), s.Family.HomeChord(), s.Family.AwayChord(), s.Sound)
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	lines := strings.Split(columns.String(), "\n")
	for i, s := range services {
		fmt.Fprintf(w, "%s\n      %s\n", lines[i], s.Reason)
	}
	return nil
}

func joinNames(names []theory.Name, sep string) string {
	words := make([]string, len(names))
	for i, n := range names {
		words[i] = n.String()
	}
	return strings.Join(words, sep)
}

// chordJSON is the stable form of one readable symbol.
type chordJSON struct {
	Symbol       string        `json:"symbol"`
	Printed      string        `json:"printed"`
	Root         string        `json:"root"`
	Bass         string        `json:"bass"`
	Tones        []string      `json:"tones"`
	PitchClasses []int         `json:"pitchClasses"`
	Families     []familyJSON  `json:"families"`
	Services     []serviceJSON `json:"services"`
}

// familyJSON names a family.
type familyJSON struct {
	Tonic string `json:"tonic"`
	Sixth string `json:"sixth"`
}

// serviceJSON is one of the families again, with what it does for the chord.
type serviceJSON struct {
	Family  familyJSON `json:"family"`
	Home    string     `json:"home"`
	Away    string     `json:"away"`
	Leading bool       `json:"leading"`
	Sound   string     `json:"sound"`
	Reason  string     `json:"reason"`
}

// chordErrorJSON is the stable form of an unreadable symbol; at counts the
// characters before the offending one.
type chordErrorJSON struct {
	Symbol string `json:"symbol"`
	Error  string `json:"error"`
	At     int    `json:"at"`
}

func printChordsJSON(w io.Writer, symbols []string) error {
	out := json.NewEncoder(w)
	out.SetEscapeHTML(false)
	var failed error
	for _, symbol := range symbols {
		var value any
		c, err := theory.ParseChord(symbol)
		if err == nil {
			value = describeChord(symbol, c)
		} else {
			value, failed = describeChordError(symbol, err), errReported
		}
		if err := out.Encode(value); err != nil {
			return err
		}
	}
	return failed
}

func describeChord(symbol string, c theory.Chord) chordJSON {
	d := chordJSON{
		Symbol: symbol, Printed: c.String(), Root: c.Root().String(), Bass: c.Bass().String(),
		Tones: []string{}, PitchClasses: c.PitchClasses(), Families: []familyJSON{}, Services: []serviceJSON{},
	}
	for _, n := range c.Tones() {
		d.Tones = append(d.Tones, n.String())
	}
	for _, s := range theory.Serve(c) {
		f := familyJSON{s.Family.Tonic().String(), s.Family.Sixth().String()}
		d.Families = append(d.Families, f)
		d.Services = append(d.Services, serviceJSON{
			f, s.Family.HomeChord().String(), s.Family.AwayChord().String(), s.Leading, s.Sound, s.Reason.String(),
		})
	}
	return d
}

func describeChordError(symbol string, err error) chordErrorJSON {
	d := chordErrorJSON{Symbol: symbol, Error: err.Error()}
	var ce *theory.ChordError
	if errors.As(err, &ce) {
		d.Error, d.At = ce.Reason, ce.At
	}
	return d
}
