package project

import (
	"fmt"
	"strconv"
	"strings"
)

// ParseMeter reads a time signature such as "6/8", or "2+3/4", whose beats stand
// together in groups.
func ParseMeter(s string) (Meter, error) {
	beats, unit, ok := strings.Cut(strings.TrimSpace(s), "/")
	if ok {
		m := Meter{}
		m.Unit, _ = strconv.Atoi(unit) // 0 is not valid
		if strings.Contains(beats, "+") {
			m.Groups = beats
			for rest := beats; rest != ""; {
				n, after := nextGroup(rest)
				m.Beats, rest = m.Beats+n, after
			}
		} else {
			m.Beats, _ = strconv.Atoi(beats)
		}
		if m.IsValid() {
			return m, nil
		}
	}
	return Meter{}, fmt.Errorf("meter %q: expected 1 to 64 beats over 1, 2, 4 … 128, such as 4/4 or 2+3/4", s)
}
