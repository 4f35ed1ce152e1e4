package project

import "slices"

// sameEnding reports whether two neighbouring bars belong to endings with the
// same numbers.
func sameEnding(a, b Bar) bool {
	return len(a.Ending) > 0 && slices.Equal(a.Ending, b.Ending)
}

// mendEndings sets the start marks that a change of bars made necessary and
// clears those that lost their ending. The bars must be the caller's own.
func mendEndings(bars []Bar) {
	for i := range bars {
		switch {
		case len(bars[i].Ending) == 0:
			bars[i].EndingStart = false
		case i == 0 || !sameEnding(bars[i-1], bars[i]):
			bars[i].EndingStart = true
		}
	}
}
