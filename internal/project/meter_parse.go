package project

import (
	"fmt"
	"strconv"
	"strings"
)

// ParseMeter reads a time signature such as "6/8".
func ParseMeter(s string) (Meter, error) {
	beats, unit, ok := strings.Cut(strings.TrimSpace(s), "/")
	if ok {
		b, errB := strconv.Atoi(beats)
		u, errU := strconv.Atoi(unit)
		if m := (Meter{b, u}); errB == nil && errU == nil && m.IsValid() {
			return m, nil
		}
	}
	return Meter{}, fmt.Errorf("meter %q: expected 1 to 64 beats over 1, 2, 4 … 128, such as 4/4", s)
}
