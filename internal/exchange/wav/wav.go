// Package wav writes sound as RIFF WAVE files of linear PCM, 24 bits a sample.
//
// 24 bits put the rounding error 144 dB below full scale, under any noise a
// room or a converter adds, so samples are rounded to the nearest step without
// dither: silence stays digital silence and equal sound gives equal files.
package wav

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
)

const (
	headerSize     = 44
	bytesPerSample = 3
	fullScale      = 1<<23 - 1
	// maxData keeps the sizes of the header within their 32 bits.
	maxData = math.MaxUint32 - headerSize - 1
)

// ErrTooLong says that the sound does not fit into a WAVE file, whose sizes
// are 32-bit numbers of bytes: about four hours of stereo at 48 kHz.
var ErrTooLong = errors.New("the sound is too long for a WAV file; write fewer bars")

// Writer writes one file. The sizes in the header are completed by Close, so
// the length need not be known before.
type Writer struct {
	w              io.WriteSeeker
	rate, channels int
	data           int64
	buf            []byte
}

// NewWriter begins a file at the current position of w, which must be its
// start. rate is in frames a second; samples are interleaved by channel.
func NewWriter(w io.WriteSeeker, rate, channels int) (*Writer, error) {
	if rate < 1 || rate > 1<<20 || channels < 1 || channels > 255 {
		return nil, fmt.Errorf("wav: %d channels at %d Hz cannot be written", channels, rate)
	}
	out := &Writer{w: w, rate: rate, channels: channels}
	return out, out.writeHeader()
}

// Write adds samples, -1 to 1; what lies beyond is clipped, and what is not a
// number is silence. The slice must hold whole frames.
func (w *Writer) Write(samples []float32) error {
	if len(samples)%w.channels != 0 {
		return fmt.Errorf("wav: %d samples are not whole frames of %d channels", len(samples), w.channels)
	}
	if w.data+int64(len(samples))*bytesPerSample > maxData {
		return ErrTooLong
	}
	w.buf = w.buf[:0]
	for _, s := range samples {
		v := quantize(s)
		w.buf = append(w.buf, byte(v), byte(v>>8), byte(v>>16))
	}
	n, err := w.w.Write(w.buf)
	w.data += int64(n)
	return err
}

func quantize(s float32) int32 {
	switch {
	case s != s:
		return 0
	case s >= 1:
		return fullScale
	case s <= -1:
		return -fullScale
	}
	return int32(math.Round(float64(s) * fullScale))
}

// Close completes the header. It does not close the underlying file.
func (w *Writer) Close() error {
	if w.data%2 != 0 { // chunks are padded to even sizes
		if _, err := w.w.Write([]byte{0}); err != nil {
			return err
		}
	}
	if _, err := w.w.Seek(0, io.SeekStart); err != nil {
		return err
	}
	if err := w.writeHeader(); err != nil {
		return err
	}
	_, err := w.w.Seek(0, io.SeekEnd)
	return err
}

func (w *Writer) writeHeader() error {
	frame := w.channels * bytesPerSample
	le := binary.LittleEndian
	h := make([]byte, 0, headerSize)
	h = append(h, "RIFF"...)
	h = le.AppendUint32(h, uint32(headerSize-8+w.data+w.data%2))
	h = append(h, "WAVEfmt "...)
	h = le.AppendUint32(h, 16)
	h = le.AppendUint16(h, 1) // linear PCM
	h = le.AppendUint16(h, uint16(w.channels))
	h = le.AppendUint32(h, uint32(w.rate))
	h = le.AppendUint32(h, uint32(w.rate*frame))
	h = le.AppendUint16(h, uint16(frame))
	h = le.AppendUint16(h, 8*bytesPerSample)
	h = append(h, "data"...)
	h = le.AppendUint32(h, uint32(w.data))
	_, err := w.w.Write(h)
	return err
}
