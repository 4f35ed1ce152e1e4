package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"organbook/internal/exchange/chartfile"
	"organbook/internal/ui/desktop"
	_ "organbook/internal/ui/locale" // first, so that the toolkit starts quietly
)

// version is what --version prints; a release build may set it by -ldflags.
var version = "0.1.0"

func newRootCommand() *cobra.Command {
	var withoutDisplay string
	root := &cobra.Command{
		Use:   "organbook [FILE]",
		Short: "Arrange a lead sheet for two hands and two feet",
		Long: `Organbook turns a lead sheet into an arrangement for a two-manual organ with
pedals, as a big-band arranger would write it. It opens a window on FILE (a
chart or a MusicXML file), or on the demo chart. The commands below do the same
work without a window.`,
		Version:       version,
		Args:          between(0, 1, "name one file at most: organbook FILE; organbook --help lists the commands"),
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE: func(cmd *cobra.Command, args []string) error {
			opts := windowOptions(args)
			if displayFound() {
				return desktop.Run(opts)
			}
			if opts.Problem != nil {
				return opts.Problem
			}
			return withoutWindow(cmd, withoutDisplay)
		},
	}
	root.Flags().StringVar(&withoutDisplay, "without-display", "",
		"where there is no display, write the demo in every format to this `folder` instead of failing")
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return plainFlag(err) })
	root.SetHelpCommand(newHelpCommand())
	root.AddCommand(newConvertCommand(), newExplainCommand(), newCheckCommand(), newChordCommand(), newDemoCommand())
	return root
}

// newHelpCommand shows the help of a command; what is none is refused like any other
// argument.
func newHelpCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Help about any command",
		RunE: func(cmd *cobra.Command, args []string) error {
			about, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return fmt.Errorf("help: there is no command %q; organbook --help lists them", strings.Join(args, " "))
			}
			about.InitDefaultHelpFlag()
			about.InitDefaultVersionFlag()
			return about.Help()
		},
	}
}

var errNoDisplay = errors.New("there is no display to open a window on; set DISPLAY, or use a command (organbook --help)")

func withoutWindow(cmd *cobra.Command, demoDir string) error {
	if demoDir == "" {
		return errNoDisplay
	}
	fmt.Fprintf(cmd.OutOrStdout(), "organbook: there is no display to open a window on; the demo is written to ./%s instead\n", demoDir)
	return writeDemo(cmd, demoDir, false)
}

// windowOptions opens the file named on the command line, if one is. What is
// wrong with it the window says, for who double-clicks a file sees no terminal;
// where there is no display it is said before anything about that.
func windowOptions(args []string) desktop.Options {
	opts := desktop.Options{Version: version}
	if len(args) == 0 {
		return opts
	}
	opts.Path = args[0]
	file, err := chartfile.Open(opts.Path)
	opts.Chart, opts.Warnings, opts.Problem = file.Chart, file.Warnings, err
	return opts
}
