// Package fonts embeds the program's own type: Organbook Sans in two weights
// and Noto Music for the signs of notation. All are under the SIL Open Font
// License 1.1 (OFL.txt); make.py beside this file builds them.
package fonts

import _ "embed" // for the go:embed lines below

// Regular is Organbook Sans Regular: Latin letters with tabular figures and
// the accidentals of print.
//
//go:embed OrganbookSans-Regular.ttf
var Regular []byte

// SemiBold is Organbook Sans SemiBold, with the same characters as Regular.
//
//go:embed OrganbookSans-SemiBold.ttf
var SemiBold []byte

// Music is Noto Music: clefs, note heads, rests and accidentals at the size
// of a staff, four spaces to the em.
//
//go:embed NotoMusic-Regular.ttf
var Music []byte

// Licence is the text of the SIL Open Font License with the copyright lines.
//
//go:embed OFL.txt
var Licence string
