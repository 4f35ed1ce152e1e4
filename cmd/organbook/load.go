package main

import (
	"fmt"
	"strings"

	"organbook/internal/exchange/chartfile"
	"organbook/internal/project"
)

// loadChart reads a chart or a MusicXML file, told apart by content. Warnings
// are one sentence each, the file in front.
func loadChart(path string) (*project.Chart, []string, error) {
	f, err := chartfile.Open(path)
	if err != nil {
		return nil, nil, err
	}
	warnings := make([]string, len(f.Warnings))
	for i, w := range f.Warnings {
		warnings[i] = path + ": " + w
	}
	return f.Chart, warnings, nil
}

// located puts the file's path in front of an error that lacks it.
func located(path string, err error) error {
	if err == nil || strings.HasPrefix(err.Error(), path) {
		return err
	}
	return fmt.Errorf("%s: %w", path, err)
}
