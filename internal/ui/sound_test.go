package ui

import (
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/project"
)

// TestWhatIsStruckByHandIsTold plays on a real player, whether there is a device or
// not, and counts what is told at once.
func TestWhatIsStruckByHandIsTold(t *testing.T) {
	p := player.New(player.Options{})
	told := 0
	s := NewSound(p, func() { told++ })
	t.Cleanup(s.Close)
	for _, tc := range []struct {
		what string
		do   func()
		want int
	}{
		{"a block", func() { s.Audition(arrange.Upper, []int{60, 64}, project.Registration{}) }, 1},
		{"a key", func() { s.Hold(arrange.Upper, 60, true) }, 2},
		{"its release", func() { s.Hold(arrange.Upper, 60, false) }, 2},
		{"a registration", func() { s.Set(project.Registration{}) }, 2},
		{"a stop", s.Stop, 2},
	} {
		if tc.do(); told != tc.want {
			t.Errorf("after %s, %d are told, want %d", tc.what, told, tc.want)
		}
	}
}
