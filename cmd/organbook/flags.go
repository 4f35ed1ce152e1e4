package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// sharedFlags are the options that every command on a chart takes.
type sharedFlags struct {
	given                                   *pflag.FlagSet // tells a flag of 0 from none
	voicing, plan, bass, console, key, bars string
	tempo                                   float64
	json                                    bool
}

func (f *sharedFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	f.given = fs
	fs.StringVar(&f.voicing, "voicing", "", "voicing of every block: close, drop2, drop3, drop24 (drop 2 and 4), double-lead, three-part, pair (thirds and sixths), spread, fourths, octaves, unison (lead alone)")
	fs.StringVar(&f.plan, "plan", "", "hand plan of every passage: shout, solo-over-comp, two-hand-block")
	fs.StringVar(&f.bass, "bass", "", "what the feet play: roots, two-feel, none")
	fs.StringVar(&f.console, "console", "", "the instrument: full, short, concert, single, or your own, such as \"own upper:36-96 lower:36-96 pedal:36-67\"")
	fs.StringVar(&f.key, "key", "", "move the chart to this key, such as \"C minor\" or Eb")
	fs.Float64Var(&f.tempo, "tempo", 0, "quarter notes a minute")
	fs.StringVar(&f.bars, "bars", "", "only these bars, such as 5-12, counted from 1 in written order")
}

func (f *sharedFlags) registerJSON(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&f.json, "json", false, "print JSON in place of text")
}

// load reads a file, prints what its import had to say, and applies the flags:
// the chart, the arranger's options, and the bars asked for (end exclusive).
func (f *sharedFlags) load(cmd *cobra.Command, path string) (c *project.Chart, o arrange.Options, first, end int, err error) {
	c, warnings, err := loadChart(path)
	if err != nil {
		return nil, o, 0, 0, err
	}
	for _, w := range warnings {
		cmd.PrintErrln("organbook: " + w)
	}
	if c, o, err = f.apply(c); err != nil {
		return nil, o, 0, 0, err
	}
	first, end, err = f.barRange(c)
	return c, o, first, end, err
}

// apply returns the chart as the flags ask for it, with the options that the
// arranger takes.
func (f *sharedFlags) apply(c *project.Chart) (*project.Chart, arrange.Options, error) {
	o, err := f.options()
	if err != nil {
		return nil, o, err
	}
	for _, step := range []func(*project.Chart) (*project.Chart, error){f.applyKey, f.applyTempo, f.applyConsole} {
		if c, err = step(c); err != nil {
			return nil, o, err
		}
	}
	return c, o, nil
}

func (f *sharedFlags) options() (arrange.Options, error) {
	var o arrange.Options
	if err := parseInto("--voicing", f.voicing, theory.ParseVoicing, &o.Voicing); err != nil {
		return o, err
	}
	if err := parseInto("--plan", f.plan, project.ParseHandPlan, &o.Plan); err != nil {
		return o, err
	}
	return o, parseInto("--bass", f.bass, project.ParseBassStyle, &o.Bass)
}

// parseInto parses a flag's text, when there is any, into an optional value.
func parseInto[T any](flag, text string, parse func(string) (T, error), to **T) error {
	if text == "" {
		return nil
	}
	v, err := parse(text)
	if err != nil {
		return fmt.Errorf("%s: %w", flag, err)
	}
	*to = &v
	return nil
}

func (f *sharedFlags) applyKey(c *project.Chart) (*project.Chart, error) {
	if f.key == "" {
		return c, nil
	}
	k, err := theory.ParseKeyIn(f.key, c.Key.Mode())
	if err != nil {
		return nil, fmt.Errorf("--key: %w", err)
	}
	by, err := c.IntervalTo(k)
	if err != nil {
		return nil, fmt.Errorf("--key: %w", err)
	}
	return c.Transpose(by)
}

func (f *sharedFlags) applyTempo(c *project.Chart) (*project.Chart, error) {
	if !f.given.Changed("tempo") {
		return c, nil
	}
	return project.SetTempo{Tempo: f.tempo}.Apply(c)
}

func (f *sharedFlags) applyConsole(c *project.Chart) (*project.Chart, error) {
	if f.console == "" {
		return c, nil
	}
	if _, ok := project.ConsoleByID(f.console); !ok {
		return nil, fmt.Errorf("--console %q: expected one of %s", f.console, consoleIDs())
	}
	return project.SetConsole{Console: f.console}.Apply(c)
}

// barRange returns the indexes of the bars asked for, the end exclusive, all
// of them when the flag is not given.
func (f *sharedFlags) barRange(c *project.Chart) (first, end int, err error) {
	if f.bars == "" {
		return 0, len(c.Bars), nil
	}
	a, b, dash := strings.Cut(f.bars, "-")
	first, err = strconv.Atoi(strings.TrimSpace(a))
	if err == nil && dash {
		end, err = strconv.Atoi(strings.TrimSpace(b))
	} else {
		end = first
	}
	if err != nil || first < 1 || end < first || first > len(c.Bars) {
		return 0, 0, fmt.Errorf("--bars %q: expected a bar or a range such as 5-12 within 1-%d", f.bars, len(c.Bars))
	}
	return first - 1, min(end, len(c.Bars)), nil
}

func consoleIDs() string {
	var ids []string
	for _, k := range project.Consoles() {
		ids = append(ids, k.ID)
	}
	return strings.Join(ids, ", ")
}

// plainFlag says in the words of the other flags what is wrong with one that takes
// a number.
func plainFlag(err error) error {
	var invalid *pflag.InvalidValueError
	if errors.As(err, &invalid) && invalid.GetFlag().Value.Type() == "float64" {
		return fmt.Errorf("--%s %q: expected a number, such as 120 or 0.8", invalid.GetFlag().Name, invalid.GetValue())
	}
	return err
}

// between checks how many arguments there are (most below 0: any number) and
// says in its own sentence what is missing.
func between(least, most int, sentence string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) < least || most >= 0 && len(args) > most {
			return errors.New(sentence)
		}
		return nil
	}
}
