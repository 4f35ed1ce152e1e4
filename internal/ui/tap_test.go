package ui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"organbook/internal/arrange"
)

// TestShortTapsSound plays taps by a clock of its own and asks when the key went
// down and up.
func TestShortTapsSound(t *testing.T) {
	for _, tc := range []struct{ name, does, want string }{
		{"a long stroke", "+0 -200", "+0 -200"},
		{"a tap", "+0 -0", "+0 -80"},
		{"a tap of a tick", "+10 -43", "+10 -90"},
		{"two taps", "+0 -10 +200 -210", "+0 -80 +200 -280"},
		{"a tap and a stroke soon after", "+0 -10 +50 -300", "+0 -50 +50 -300"},
		{"two taps soon after each other", "+0 -10 +50 -60", "+0 -50 +50 -130"},
		{"a release of nothing", "-10", ""},
	} {
		start := time.Now()
		now, said := 0, []string{}
		type timer struct {
			at int
			do func()
		}
		var timers []timer
		taps := newTaps()
		taps.now = func() time.Time { return start.Add(time.Duration(now) * time.Millisecond) }
		taps.after = func(d time.Duration, do func()) { timers = append(timers, timer{now + int(d/time.Millisecond), do}) }
		strike := func(down bool) {
			said = append(said, fmt.Sprintf("%c%d", map[bool]byte{true: '+', false: '-'}[down], now))
		}
		key, moves := tapped{arrange.Upper, 60}, strings.Fields(tc.does)
		for ; now < 1000; now++ {
			for _, w := range timers {
				if w.at == now {
					w.do()
				}
			}
			for len(moves) > 0 && moves[0][1:] == fmt.Sprint(now) {
				if moves[0][0] == '+' {
					taps.press(key, strike)
				} else {
					taps.release(key, strike)
				}
				moves = moves[1:]
			}
		}
		if got := strings.Join(said, " "); got != tc.want {
			t.Errorf("%s: %q sounds %q, want %q", tc.name, tc.does, got, tc.want)
		}
		if len(taps.down) > 0 || len(taps.ends) > 0 && tc.want != "" {
			t.Errorf("%s: left over %v, %v", tc.name, taps.down, taps.ends)
		}
	}
}
