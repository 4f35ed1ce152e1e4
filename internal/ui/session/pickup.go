package session

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"organbook/internal/project"
)

// Pickup writes the length of the pickup in beats of its meter, "0" for none.
func (s *Session) Pickup() string {
	c := s.Chart()
	return strconv.FormatFloat(float64(c.Pickup())/float64(c.Bars[0].Meter.Beat()), 'g', 4, 64)
}

// SetPickup gives the chart a pickup of so many beats of its first meter, as in
// "1" or "1.5", and puts the caret there; "0" takes it away.
func (s *Session) SetPickup(text string) error {
	beats, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(text), ",", "."), 64)
	if err != nil || math.IsNaN(beats) || math.Abs(beats) > project.MaxTimes {
		return s.fail(fmt.Errorf("pick-up %q: write a number of beats such as 1 or 1.5", text))
	}
	length := project.Ticks(math.Round(beats * float64(s.Chart().Bars[0].Meter.Beat())))
	if length == s.Chart().Pickup() {
		return nil
	}
	return s.doThen(project.SetPickup{Length: length}, func() { s.sel = Selection{} })
}
