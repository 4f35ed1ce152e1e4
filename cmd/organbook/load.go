package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"organbook/internal/exchange/musicxml"
	"organbook/internal/project"
)

// loadChart reads a chart or a MusicXML file, told apart by content. Warnings
// are one sentence each. Errors are one sentence that starts with the file.
func loadChart(path string) (*project.Chart, []string, error) {
	native, err := isNative(path)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	if native {
		c, err := project.Load(path)
		return c, nil, located(path, err)
	}
	c, notes, err := musicxml.ReadFile(path)
	if err != nil {
		return nil, nil, located(path, err)
	}
	var warnings []string
	for _, n := range notes {
		warnings = append(warnings, path+": "+n.String())
	}
	return c, warnings, nil
}

// located puts the file's path in front of an error that lacks it.
func located(path string, err error) error {
	if err == nil || strings.HasPrefix(err.Error(), path) {
		return err
	}
	return fmt.Errorf("%s: %w", path, err)
}

// isNative reports whether the file's first visible character opens a JSON
// object, as a chart does and no MusicXML file can.
func isNative(path string) (bool, error) {
	info, err := os.Stat(path)
	if err != nil {
		return false, errors.New(plainFileError(err))
	}
	if info.IsDir() {
		return false, errors.New("this is a folder; name a file in it")
	}
	f, err := os.Open(path)
	if err != nil {
		return false, errors.New(plainFileError(err))
	}
	defer f.Close()
	head := make([]byte, 512)
	n, err := io.ReadFull(f, head)
	if n == 0 {
		return false, errors.New("the file is empty")
	}
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return false, errors.New(plainFileError(err))
	}
	text := strings.TrimLeft(strings.TrimPrefix(string(head[:n]), "\ufeff"), " \t\r\n")
	return strings.HasPrefix(text, "{") || filepath.Ext(path) == ".organbook", nil
}

// plainFileError says in plain words why a file could not be opened.
func plainFileError(err error) string {
	switch {
	case errors.Is(err, os.ErrNotExist):
		return "there is no such file"
	case errors.Is(err, os.ErrPermission):
		return "permission to read it is missing"
	}
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}
