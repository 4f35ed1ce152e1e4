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
	return &cobra.Command{
		Use:   "demo DIR",
		Short: "Write the built-in demo chart in every format",
		Args:  between(1, 1, "name the folder to write to: organbook demo DIR"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return writeDemo(cmd, args[0])
		},
	}
}

// demoName is the demo files' name without its ending.
const demoName = "ferry-at-seven"

func writeDemo(cmd *cobra.Command, dir string) error {
	chart, err := assets.Demo()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("%s: cannot make the folder: %w", dir, err)
	}
	job := export.NewJob(chart, arrange.Options{})
	for _, f := range export.Formats() {
		path := filepath.Join(dir, demoName+f.Ending)
		if err := job.Write(path); err != nil {
			return located(path, err)
		}
		fmt.Fprintln(cmd.OutOrStdout(), path)
	}
	return nil
}
