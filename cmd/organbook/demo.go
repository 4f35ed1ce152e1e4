package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"organbook/assets"
	"organbook/internal/arrange"
	"organbook/internal/ui/export"
)

func newDemoCommand() *cobra.Command {
	var onlyNew bool
	cmd := &cobra.Command{
		Use:   "demo DIR",
		Short: "Write the built-in demo chart in every format",
		Long: `Writes the built-in demo chart to DIR in every format. Files of these names are
replaced, as convert does; with --no-replace nothing is written where one exists.`,
		Args: between(1, 1, "name the folder to write to: organbook demo DIR"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return writeDemo(cmd, args[0], onlyNew)
		},
	}
	noReplace(cmd, &onlyNew)
	return cmd
}

// demoName is the demo files' name without its ending.
const demoName = "ferry-at-seven"

func writeDemo(cmd *cobra.Command, dir string, onlyNew bool) error {
	chart, err := assets.Demo()
	if err != nil {
		return err
	}
	var paths []string
	for _, f := range export.Formats() {
		paths = append(paths, filepath.Join(dir, demoName+f.Ending))
	}
	if onlyNew {
		itself := func(path string) []string { return []string{path} }
		if err := refuseExisting(paths, itself); err != nil {
			return err
		}
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("%s: cannot make the folder: %w", dir, err)
	}
	job := export.NewJob(chart, arrange.Options{})
	for _, path := range paths {
		if err := job.Write(path); err != nil {
			return located(path, err)
		}
		fmt.Fprintln(cmd.OutOrStdout(), path)
	}
	return nil
}
