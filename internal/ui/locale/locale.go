// Package locale keeps the window toolkit quiet about locales it cannot read.
//
// The toolkit reads the locale while the program is being initialised, and
// prints three lines for one like C.UTF-8, which is what bare systems set. A
// command that promises one clear sentence cannot have that. This package
// imports os alone, so that the language's rule for the order of package
// initialisation (ready packages first, by import path) puts it before the
// toolkit's language package, which needs os/exec.
package locale

import (
	"os"
	"strings"
)

func init() {
	for _, name := range variables {
		if neutral(os.Getenv(name)) {
			// "C" is a locale the toolkit accepts silently as English.
			os.Setenv(name, "C")
		}
	}
}

// variables are what a locale is read from.
var variables = []string{"LC_ALL", "LC_MESSAGES", "LANG"}

// neutral reports whether a locale names no language but is written in a way
// that the toolkit does not understand, such as "C.UTF-8".
func neutral(locale string) bool {
	base, encoding, _ := strings.Cut(locale, ".")
	return (base == "C" || base == "POSIX") && encoding != ""
}
