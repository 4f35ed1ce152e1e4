package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"organbook/internal/project"
	"organbook/internal/ui/export"
)

func newConvertCommand() *cobra.Command {
	var flags sharedFlags
	var stems string
	var onlyNew bool
	cmd := &cobra.Command{
		Use:   "convert IN OUT…",
		Short: "Read a chart or a MusicXML file and write each OUT by its ending",
		Long: `Reads IN, a chart (.organbook) or a MusicXML file of any version (.musicxml,
.xml, .mxl), arranges it and writes every OUT by its ending: .organbook
.musicxml .mxl .mid .wav .flac .png .json. A file is written whole or not at all.
A MIDI file (.mid) is played as it is into .wav or .flac.
An OUT that exists is replaced; of a chart, which holds work, the version before
stays beside it with a ~ after its name. With --no-replace nothing is written
where one of the files exists.
With --stems a sound file becomes several, named after it: "tune upper.wav".`,
		Example: `  organbook convert tune.mxl tune.organbook tune.mid
  organbook convert tune.organbook high.json --key "C minor" --plan two-hand-block --voicing drop2`,
		Args: between(2, -1, "name the file to read and at least one to write: organbook convert IN OUT…"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return convert(cmd, &flags, stems, onlyNew, args[0], args[1:])
		},
	}
	flags.register(cmd)
	cmd.Flags().StringVar(&stems, "stems", "", "sound files for each of the divisions, or of the layers, in place of one")
	noReplace(cmd, &onlyNew)
	return cmd
}

var stemsByName = map[string]export.Stems{"": export.NoStems, "divisions": export.DivisionStems, "layers": export.LayerStems}

// convert refuses unusable names before it reads, and unusable input before
// it writes, so that a mistake leaves no half of the files behind.
func convert(cmd *cobra.Command, flags *sharedFlags, stems string, onlyNew bool, in string, outs []string) error {
	kind, ok := stemsByName[stems]
	if !ok {
		return fmt.Errorf("--stems %q: say divisions or layers", stems)
	}
	sound := false
	for _, out := range outs {
		if err := export.Check(out); err != nil {
			return err
		}
		sound = sound || isSound(out)
		if same, _ := samePath(in, out); same {
			return fmt.Errorf("%s: this is the file to read from; choose another name to write to", out)
		}
	}
	if kind != export.NoStems && !sound {
		return fmt.Errorf("--stems %s: none of the files to write holds sound; name one that ends in .wav or .flac", stems)
	}
	if isMIDI(in) {
		return renderMIDI(in, outs, kind, onlyNew)
	}
	job, err := prepare(cmd, flags, in)
	if err != nil {
		return err
	}
	job.Stems = kind
	if onlyNew {
		if err := refuseExisting(outs, job.Files); err != nil {
			return err
		}
	}
	for _, out := range outs {
		replaces := replacesChart(out)
		if err := job.Write(out); err != nil {
			return located(out, err)
		}
		if replaces {
			fmt.Fprintf(cmd.ErrOrStderr(), "organbook: %s: replaced; the chart that was there is now %s~\n", out, filepath.Base(out))
		}
	}
	return nil
}

// noReplace adds the flag that keeps files that exist.
func noReplace(cmd *cobra.Command, onlyNew *bool) {
	cmd.Flags().BoolVar(onlyNew, "no-replace", false, "write nothing where one of the files to write exists")
}

// refuseExisting is an error where one of the files exists that are made for
// outs; of says which are made for one of them.
func refuseExisting(outs []string, of func(out string) []string) error {
	for _, out := range outs {
		for _, path := range of(out) {
			if _, err := os.Lstat(path); err == nil {
				return fmt.Errorf("%s: exists already; choose another name, or leave --no-replace out to replace it", path)
			}
		}
	}
	return nil
}

// replacesChart reports whether writing to a path keeps the chart that is there
// under another name.
func replacesChart(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular() && strings.EqualFold(filepath.Ext(path), ".organbook")
}

// prepare loads a chart, applies the flags and realises it.
func prepare(cmd *cobra.Command, flags *sharedFlags, in string) (*export.Job, error) {
	chart, options, first, end, err := flags.load(cmd, in)
	if err != nil {
		return nil, err
	}
	if chart, err = excerpt(chart, first, end); err != nil {
		return nil, err
	}
	return export.NewJob(chart, options), nil
}

// excerpt returns a chart of the bars from first up to end.
func excerpt(c *project.Chart, first, end int) (*project.Chart, error) {
	var err error
	if end < len(c.Bars) {
		c, err = project.RemoveBars{First: end, End: len(c.Bars)}.Apply(c)
	}
	if err == nil && first > 0 {
		c, err = project.RemoveBars{First: 0, End: first}.Apply(c)
	}
	return c, err
}

func samePath(a, b string) (bool, error) {
	pa, errA := filepath.Abs(a)
	pb, errB := filepath.Abs(b)
	return pa == pb, errors.Join(errA, errB)
}
