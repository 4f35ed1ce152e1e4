// Command organbook turns a lead sheet into an arrangement for two hands and
// two feet. Without a subcommand it opens the window; the subcommands do the
// same work headless.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
)

// Exit codes.
const (
	exitOK         = 0
	exitOutOfReach = 1 // check: something cannot be played
	exitUnusable   = 2
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the program with its arguments and streams; it returns the exit code.
func run(args []string, stdout, stderr io.Writer) int {
	root := newRootCommand()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.Execute()
	if err == nil {
		return exitOK
	}
	if errors.Is(err, errOutOfReach) {
		return exitOutOfReach
	}
	if !errors.Is(err, errReported) {
		fmt.Fprintln(stderr, sentence(err))
	}
	return exitUnusable
}

// errReported marks an error whose text the command has already printed.
var errReported = errors.New("already reported")

// errOutOfReach marks a check that found something unplayable, and reported it.
var errOutOfReach = errors.New("something is out of reach")

// sentence puts an error on one line behind the program's name.
func sentence(err error) string {
	text := strings.Join(strings.Fields(err.Error()), " ")
	return "organbook: " + strings.TrimPrefix(text, "organbook: ")
}
