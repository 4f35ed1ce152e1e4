package wav

import (
	"encoding/binary"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// written returns the file that holds the given blocks of samples.
func written(t *testing.T, rate, channels int, blocks ...[]float32) []byte {
	t.Helper()
	f, err := os.Create(filepath.Join(t.TempDir(), "x.wav"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	w, err := NewWriter(f, rate, channels)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range blocks {
		if err := w.Write(b); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(f.Name())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// samplesOf reads the samples of a 24-bit file as whole numbers.
func samplesOf(file []byte) (out []int32) {
	data := file[headerSize:]
	data = data[:binary.LittleEndian.Uint32(file[40:])]
	for ; len(data) > 0; data = data[3:] {
		out = append(out, int32(uint32(data[0])<<8|uint32(data[1])<<16|uint32(data[2])<<24)>>8)
	}
	return out
}

func TestFile(t *testing.T) {
	got := written(t, 48000, 2, []float32{0, 1}, []float32{-1, 0.5})
	want := []byte("RIFF\x30\x00\x00\x00WAVEfmt \x10\x00\x00\x00\x01\x00\x02\x00" +
		"\x80\xbb\x00\x00\x00\x65\x04\x00\x06\x00\x18\x00data\x0c\x00\x00\x00" +
		"\x00\x00\x00\xff\xff\x7f\x01\x00\x80\x00\x00\x40")
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

func TestOddDataIsPadded(t *testing.T) {
	got := written(t, 8000, 1, []float32{1})
	if len(got) != headerSize+4 || binary.LittleEndian.Uint32(got[4:]) != 40 || binary.LittleEndian.Uint32(got[40:]) != 3 {
		t.Errorf("got %q", got)
	}
}

func TestQuantize(t *testing.T) {
	tests := []struct {
		in   float32
		want int32
	}{
		{0, 0}, {1, fullScale}, {-1, -fullScale}, {2, fullScale}, {-2, -fullScale},
		{float32(math.NaN()), 0}, {float32(math.Inf(1)), fullScale}, {float32(math.Inf(-1)), -fullScale},
		{1.0 / fullScale, 1}, {0.4 / fullScale, 0}, {-0.6 / fullScale, -1},
	}
	for _, tt := range tests {
		if got := Quantize(tt.in); got != tt.want {
			t.Errorf("%v is written as %d, want %d", tt.in, got, tt.want)
		}
	}
}

func TestSamplesSurviveWithinHalfAStep(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		in := rapid.SliceOf(rapid.Float32Range(-1, 1)).Draw(rt, "samples")
		out := samplesOf(written(t, 44100, 1, in))
		if len(out) != len(in) {
			rt.Fatalf("%d samples became %d", len(in), len(out))
		}
		for i := range in {
			if d := math.Abs(float64(in[i])*fullScale - float64(out[i])); d > 0.5 {
				rt.Fatalf("sample %v is off by %v steps", in[i], d)
			}
		}
	})
}

// TestEverySampleIsQuantized writes any bits there are, and those that lie
// between two steps, in numbers that fill a kernel and leave some over.
func TestEverySampleIsQuantized(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		between := rapid.Custom(func(rt *rapid.T) float32 {
			return float32((float64(rapid.IntRange(-fullScale, fullScale).Draw(rt, "step")) + 0.5) / fullScale)
		})
		special := rapid.SampledFrom([]float32{0, float32(math.Copysign(0, -1)), 1, -1, float32(math.NaN()), float32(math.Inf(1)), float32(math.Inf(-1)), 1e-30})
		bits := rapid.Map(rapid.Uint32(), math.Float32frombits)
		in := rapid.SliceOfN(rapid.OneOf(bits, between, special), 1, 40).Draw(rt, "samples")
		out := samplesOf(written(t, 44100, 1, in))
		for i := range in {
			if want := Quantize(in[i]); out[i] != want {
				rt.Fatalf("sample %d of %d, %v, became %d, not %d", i, len(in), in[i], out[i], want)
			}
		}
	})
}

// TestLongSoundIsWhole writes more than is handed to the system at once, in
// blocks that do not fit it.
func TestLongSoundIsWhole(t *testing.T) {
	var blocks [][]float32
	var want []int32
	for n := 2; n < 3*piece; n = n*3 + 2 {
		b := make([]float32, n&^1)
		for i := range b {
			b[i] = float32(math.Sin(float64(n + i)))
			want = append(want, Quantize(b[i]))
		}
		blocks = append(blocks, b)
	}
	file := written(t, 48000, 2, blocks...)
	if got := samplesOf(file); len(want)*bytesPerSample < 4*piece || !slices.Equal(got, want) {
		t.Errorf("%d samples became %d, or others", len(want), len(got))
	}
	if size := binary.LittleEndian.Uint32(file[4:]); int(size) != len(file)-8 {
		t.Errorf("the head says %d bytes of %d", size, len(file)-8)
	}
}

func TestRefusals(t *testing.T) {
	for _, bad := range [][2]int{{0, 2}, {48000, 0}, {48000, 256}, {-1, 1}} {
		if _, err := NewWriter(nil, bad[0], bad[1]); err == nil {
			t.Errorf("%d Hz, %d channels: no error", bad[0], bad[1])
		}
	}
	w, err := NewWriter(&void{}, 48000, 2)
	if err != nil {
		t.Fatal(err)
	}
	if w.Write(make([]float32, 3)) == nil {
		t.Error("half a frame is taken")
	}
	w.data = maxData - 5
	if err := w.Write(make([]float32, 2)); !errors.Is(err, ErrTooLong) {
		t.Errorf("beyond the end: %v", err)
	}
	w.w = &void{broken: true}
	if w.Close() == nil {
		t.Error("a failing disk goes unnoticed")
	}
}

// void is a file that keeps nothing.
type void struct{ broken bool }

func (v *void) Write(p []byte) (int, error) {
	if v.broken {
		return 0, io.ErrShortWrite
	}
	return len(p), nil
}

func (v *void) Seek(int64, int) (int64, error) { return 0, nil }

func BenchmarkWrite(b *testing.B) {
	w, _ := NewWriter(&void{}, 48000, 2)
	block := make([]float32, 8192)
	for i := range block {
		block[i] = float32(math.Sin(float64(i)))
	}
	b.SetBytes(int64(len(block) * bytesPerSample))
	for b.Loop() {
		w.data = 0
		if err := w.Write(block); err != nil {
			b.Fatal(err)
		}
	}
}
