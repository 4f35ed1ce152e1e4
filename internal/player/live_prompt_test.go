package player

import (
	"testing"

	"organbook/internal/arrange"
)

// TestLiveKeysArePrompt counts the frames from a live key to its sound: our own
// share of the delay, beside that of the driver and the device. The key comes
// between two blocks of 128 frames.
func TestLiveKeysArePrompt(t *testing.T) {
	p, take := pulled(t)
	p.SetRegistration(&flute)
	take(second / 10)
	p.LiveKey(arrange.Upper, 72, true)
	const block, most = 128, second / 100
	for n := 0; n < most; n += block {
		for i, v := range take(block) {
			if v > 0.01 || v < -0.01 {
				t.Logf("heard after %.1f ms", 1000*float64(n+i/2)/second)
				return
			}
		}
	}
	t.Errorf("a live key is silent for %d ms", 1000*most/second)
}
