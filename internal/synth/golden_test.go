package synth

import (
	"encoding/binary"
	"math"
	"os"
	"testing"
)

const goldenFile = "testdata/golden.s16"

// goldenTolerance is what differs at most between builds that fuse
// multiplications with additions and builds that do not; the file itself is
// rounded to 16 bits.
const goldenTolerance = 3e-4

// goldenSound is a chord struck and let go, with every stage on.
func goldenSound(t *testing.T) []float32 {
	events := append(everything(), draw(0, Upper, 8, 6, 8, 4, 0, 2, 0, 0, 3), draw(0, Pedal, 8, 5),
		Event{Kind: SetRotary, Rotary: Fast}, Event{Kind: SetSwell, Value: 0.9},
		down(0, Pedal, 41), down(480, Upper, 57), down(480, Upper, 60), down(960, Upper, 65),
		up(7200, Upper, 57), up(7200, Upper, 60), up(7300, Upper, 65), up(8000, Pedal, 41))
	return play(t, DefaultConfig(), 0.25, events...)
}

// TestGolden compares the instrument with how it sounded when the file was
// made, by
//
//	UPDATE_GOLDEN=1 go test -run Golden ./internal/synth
func TestGolden(t *testing.T) {
	got := goldenSound(t)
	if os.Getenv("UPDATE_GOLDEN") == "1" {
		writeGolden(t, got)
	}
	raw, err := os.ReadFile(goldenFile)
	if err != nil {
		t.Fatal(err)
	}
	if len(raw) != 2*len(got) {
		t.Fatalf("%d samples, the file has %d", len(got), len(raw)/2)
	}
	compareGolden(t, got, raw)
	defer func(v bool) { vectors = v }(vectors)
	vectors = false
	compareGolden(t, goldenSound(t), raw)
}

func compareGolden(t *testing.T, got []float32, raw []byte) {
	t.Helper()
	for i, v := range got {
		want := float64(int16(binary.LittleEndian.Uint16(raw[2*i:]))) / math.MaxInt16
		if math.Abs(float64(v)-want) > goldenTolerance {
			t.Fatalf("frame %d: %g, it was %g", i/2, v, want)
		}
	}
}

func writeGolden(t *testing.T, x []float32) {
	t.Helper()
	var raw []byte
	for _, v := range x {
		raw = binary.LittleEndian.AppendUint16(raw, uint16(int16(math.Round(float64(v)*math.MaxInt16))))
	}
	if err := os.MkdirAll("testdata", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(goldenFile, raw, 0o644); err != nil {
		t.Fatal(err)
	}
}
