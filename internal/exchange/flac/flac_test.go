package flac

import (
	"bytes"
	"crypto/md5"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"organbook/internal/exchange/wav"
)

// memory is a file in memory.
type memory struct {
	data []byte
	at   int
}

func (m *memory) Write(p []byte) (int, error) {
	if need := m.at + len(p); need > len(m.data) {
		m.data = append(m.data, make([]byte, need-len(m.data))...)
	}
	m.at += copy(m.data[m.at:], p)
	return len(p), nil
}

func (m *memory) Seek(offset int64, whence int) (int64, error) {
	m.at = map[int]int{io.SeekStart: 0, io.SeekCurrent: m.at, io.SeekEnd: len(m.data)}[whence] + int(offset)
	return int64(m.at), nil
}

func encoded(t testing.TB, rate int, x []float32) []byte {
	t.Helper()
	var m memory
	w, err := NewWriter(&m, rate)
	if err != nil {
		t.Fatal(err)
	}
	for len(x) > 0 { // in pieces that fit no block
		n := min(len(x), 2*1237)
		if err := w.Write(x[:n]); err != nil {
			t.Fatal(err)
		}
		x = x[n:]
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return m.data
}

// sounds are samples of every kind that meets an encoder.
func sounds() map[string][]float32 {
	r := rand.New(rand.NewPCG(8, 8))
	fill := func(n int, f func(i int) (l, r float64)) []float32 {
		x := make([]float32, 2*n)
		for i := range n {
			a, b := f(i)
			x[2*i], x[2*i+1] = float32(a), float32(b)
		}
		return x
	}
	return map[string][]float32{
		"nothing":   nil,
		"one frame": {0.5, -0.25},
		"three":     {0.5, -0.25, 1, -1, 0, 0.1},
		"silence":   make([]float32, 2*10000),
		"chord": fill(30011, func(i int) (float64, float64) {
			s := 0.0
			for k, f := range []float64{98, 220, 277.18, 329.63, 1760} {
				s += 0.1 * math.Sin(2*math.Pi*f*float64(i)/48000+float64(k))
			}
			return s, 0.8*s + 0.01*math.Sin(float64(i)*0.3)
		}),
		"noise": fill(9001, func(int) (float64, float64) { return 2*r.Float64() - 1, 2*r.Float64() - 1 }),
		"opposed": fill(8192, func(i int) (float64, float64) { // a difference of 25 bits
			s := math.Copysign(1, math.Sin(float64(i)*0.01))
			return s, -s
		}),
		"clicks": fill(9000, func(i int) (float64, float64) {
			if i%1000 == 999 {
				return 1, 1
			}
			return 0, 0
		}),
		"too loud": fill(5000, func(i int) (float64, float64) { return 3 * math.Sin(float64(i)), math.NaN() }),
		"quiet":    fill(5000, func(i int) (float64, float64) { return 1e-7 * float64(i%5), -2e-7 }),
	}
}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	for name, x := range sounds() {
		for _, rate := range []int{48000, 44100, 655350} {
			data := encoded(t, rate, x)
			got, err := decode(data, rate)
			if err != nil {
				t.Errorf("%s at %d Hz: %v", name, rate, err)
				continue
			}
			if len(got) != len(x) {
				t.Fatalf("%s: %d samples, want %d", name, len(got), len(x))
			}
			for i := range x {
				if want := wav.Quantize(x[i]); got[i] != want {
					t.Fatalf("%s, sample %d: %d, want %d", name, i, got[i], want)
				}
			}
			if name == "chord" && len(data) > 6*len(x)/2*8/10 {
				t.Errorf("a chord takes %d bytes, as WAV %d", len(data), 3*len(x))
			}
		}
	}
}

// TestOtherProgramsReadIt asks the format's own program, where it is
// installed.
func TestOtherProgramsReadIt(t *testing.T) {
	tool, err := exec.LookPath("flac")
	if err != nil {
		t.Skip("flac is not installed")
	}
	for name, x := range sounds() {
		path := filepath.Join(t.TempDir(), "x.flac")
		if err := os.WriteFile(path, encoded(t, 48000, x), 0o600); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command(tool, "-t", "-s", path).CombinedOutput(); err != nil && len(x) > 0 {
			t.Errorf("%s: %v: %s", name, err, out)
		}
	}
}

func TestRefusals(t *testing.T) {
	if _, err := NewWriter(&memory{}, 0); err == nil {
		t.Error("a rate of 0 is accepted")
	}
	w, err := NewWriter(&memory{}, 48000)
	if err != nil || w.Write(make([]float32, 3)) == nil {
		t.Errorf("one frame and a half: %v", err)
	}
}

func BenchmarkWrite(b *testing.B) {
	x := sounds()["chord"]
	b.ReportAllocs()
	for b.Loop() {
		encoded(b, 48000, x)
	}
	b.ReportMetric(float64(len(x)/2)/48000*float64(b.N)/b.Elapsed().Seconds(), "×realtime")
}

// decode reads a file as RFC 9639 describes it, as far as Writer uses that.
func decode(data []byte, rate int) ([]int32, error) {
	r := &bitReader{data: data}
	if string(data[:4]) != "fLaC" || len(data) < infoSize {
		return nil, fmt.Errorf("no mark at the start")
	}
	r.at = 32
	if last, kind, size := r.get(1), r.get(7), r.get(24); last != 1 || kind != 0 || size != 34 {
		return nil, fmt.Errorf("head %d %d %d", last, kind, size)
	}
	least, most := r.get(16), r.get(16)
	minBytes, maxBytes := int(r.get(24)), int(r.get(24))
	if got := r.get(20); int(got) != rate || r.get(3) != 1 || r.get(5) != depth-1 || least != blockSize || most != blockSize {
		return nil, fmt.Errorf("rate %d, blocks %d to %d", got, least, most)
	}
	total := r.get(36)
	sum := data[26:42]
	r.at = infoSize * 8
	var out []int32
	for block := uint64(0); r.at < 8*len(data); block++ {
		from := r.at / 8
		x, err := r.frame(block)
		if err != nil {
			return nil, fmt.Errorf("block %d: %w", block, err)
		}
		if size := r.at/8 - from; size < minBytes || size > maxBytes {
			return nil, fmt.Errorf("block %d has %d bytes, the head says %d to %d", block, size, minBytes, maxBytes)
		}
		out = append(out, x...)
	}
	if uint64(len(out)/2) != total {
		return nil, fmt.Errorf("%d frames, the head says %d", len(out)/2, total)
	}
	var raw []byte
	for _, v := range out {
		raw = append(raw, byte(v), byte(v>>8), byte(v>>16))
	}
	if want := md5.Sum(raw); total > 0 && !bytes.Equal(sum, want[:]) {
		return nil, fmt.Errorf("checksum %x, want %x", sum, want)
	}
	return out, nil
}

type bitReader struct {
	data []byte
	at   int // bits
}

func (r *bitReader) get(n int) (v uint64) {
	for range n {
		v = v<<1 | uint64(r.data[r.at/8]>>(7-r.at%8)&1)
		r.at++
	}
	return v
}

func (r *bitReader) signed(n int) int64 { return int64(r.get(n)<<(64-n)) >> (64 - n) }

func (r *bitReader) frame(number uint64) ([]int32, error) {
	from := r.at / 8
	if r.get(16) != 0xfff8 {
		return nil, fmt.Errorf("no start of a frame")
	}
	size, rate := r.get(4), r.get(4)
	channels, bits := r.get(4), r.get(3)
	if rate != 0 || bits != 6 || r.get(1) != 0 {
		return nil, fmt.Errorf("rate %d, bits %d", rate, bits)
	}
	if got := r.utf8(); got != number {
		return nil, fmt.Errorf("number %d", got)
	}
	n := blockSize
	switch size {
	case 7:
		n = int(r.get(16)) + 1
	case 12:
	default:
		return nil, fmt.Errorf("size %d", size)
	}
	if want := crc8(r.data[from : r.at/8]); uint8(r.get(8)) != want {
		return nil, fmt.Errorf("check of the head")
	}
	depths := map[uint64][2]int{1: {24, 24}, 8: {24, 25}, 9: {25, 24}, 10: {24, 25}}[channels]
	var x [2][]int64
	for c := range x {
		var err error
		if x[c], err = r.channel(n, depths[c]); err != nil {
			return nil, err
		}
	}
	r.at = (r.at + 7) / 8 * 8
	if want := crc16(r.data[from : r.at/8]); uint16(r.get(16)) != want {
		return nil, fmt.Errorf("check of the frame")
	}
	out := make([]int32, 0, 2*n)
	for i := range n {
		a, b := x[0][i], x[1][i]
		switch channels {
		case 8:
			b = a - b
		case 9:
			a += b
		case 10:
			m := a<<1 | b&1
			a, b = (m+b)>>1, (m-b)>>1
		}
		out = append(out, int32(a), int32(b))
	}
	return out, nil
}

func (r *bitReader) utf8() uint64 {
	first := r.get(8)
	more := 0
	for mask := uint64(0x80); first&mask != 0; mask >>= 1 {
		first &^= mask
		more++
	}
	for more > 1 {
		first = first<<6 | r.get(8)&0x3f
		more--
	}
	return first
}

func (r *bitReader) channel(n, depth int) ([]int64, error) {
	if r.get(1) != 0 {
		return nil, fmt.Errorf("padding of a channel")
	}
	kind := int(r.get(6))
	if r.get(1) != 0 {
		return nil, fmt.Errorf("wasted bits")
	}
	x := make([]int64, n)
	if kind == 0 {
		v := r.signed(depth)
		for i := range x {
			x[i] = v
		}
		return x, nil
	}
	order := kind - 8
	if order < 0 || order > 4 {
		return nil, fmt.Errorf("kind of channel %d", kind)
	}
	for i := range order {
		x[i] = r.signed(depth)
	}
	if r.get(2) != 1 {
		return nil, fmt.Errorf("kind of residual")
	}
	parts := int(r.get(4))
	for p := range 1 << parts {
		k := int(r.get(5))
		for i := max(p*n>>parts, order); i < (p+1)*n>>parts; i++ {
			q := uint64(0)
			for r.get(1) == 0 {
				q++
			}
			u := q<<k | r.get(k)
			x[i] = int64(u>>1) ^ -int64(u&1)
		}
	}
	for i := order; i < n; i++ {
		switch order {
		case 1:
			x[i] += x[i-1]
		case 2:
			x[i] += 2*x[i-1] - x[i-2]
		case 3:
			x[i] += 3*x[i-1] - 3*x[i-2] + x[i-3]
		case 4:
			x[i] += 4*x[i-1] - 6*x[i-2] + 4*x[i-3] - x[i-4]
		}
	}
	return x, nil
}

// TestChecks pins both checks by the values of their published catalogue for
// the digits one to nine.
func TestChecks(t *testing.T) {
	if got := crc8([]byte("123456789")); got != 0xf4 {
		t.Errorf("CRC-8 %#x, want 0xf4", got)
	}
	if got := crc16([]byte("123456789")); got != 0xfee8 {
		t.Errorf("CRC-16 %#x, want 0xfee8", got)
	}
}

// TestFrameNumbers writes numbers of every length.
func TestFrameNumbers(t *testing.T) {
	for _, v := range []uint64{0, 127, 128, 2047, 2048, 65535, 65536, 1<<21 - 1, 1 << 21, 1<<26 - 1, 1 << 26, 1<<31 - 1, 1 << 31, 1<<36 - 1} {
		var w bitWriter
		w.number(v)
		w.align()
		r := bitReader{data: w.bytes}
		if got := r.utf8(); got != v || r.at != 8*len(w.bytes) {
			t.Errorf("%d reads %d from %x", v, got, w.bytes)
		}
	}
}
