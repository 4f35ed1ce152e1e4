package playertest

import (
	"bytes"
	"encoding/binary"
	"math"
	"testing"
	"time"
)

// TestOnsets hears two sounds, one of them with a short pause inside.
func TestOnsets(t *testing.T) {
	var raw bytes.Buffer
	for _, part := range []struct {
		frames int
		level  float32
	}{{3000, 0.001}, {500, 0.3}, {1000, 0}, {500, -0.3}, {3000, 0}, {10, 0.02}} {
		for range part.frames {
			binary.Write(&raw, binary.LittleEndian, math.Float32bits(part.level))
		}
	}
	began := time.Now()
	l := &Listener{}
	l.hear(&raw)
	if len(l.onsets) != 2 {
		t.Fatalf("%d sounds heard, want 2", len(l.onsets))
	}
	presses := []time.Time{began.Add(-time.Second), began.Add(-time.Minute), began.Add(time.Hour)}
	if ms := l.Delays(presses, 10*time.Second); len(ms) != 1 || ms[0] < 1000 || ms[0] > 9000 {
		t.Errorf("delays %v", ms)
	}
}
