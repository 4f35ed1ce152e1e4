// Package assets holds what is built into the program besides code.
package assets

import (
	"bytes"
	_ "embed"

	"organbook/internal/project"
)

//go:embed demo.organbook
var demo []byte

// Demo returns the built-in chart: an eight-bar opening, thirty-two bars of
// song and a four-bar ending, composed for the program.
func Demo() (*project.Chart, error) { return project.Read(bytes.NewReader(demo)) }
