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
	"slices"

	"organbook/internal/synth"
)

const (
	headerSize     = 44
	bytesPerSample = 3
	fullScale      = 1<<23 - 1
	// maxData keeps the sizes of the header within their 32 bits.
	maxData = math.MaxUint32 - headerSize - 1
	// piece is how many bytes are handed to the system at a time: whole pages,
	// and many of them, take it less work than what comes of a block of sound.
	piece = 1 << 18
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
	buf            []byte // not written yet, less than a piece
}

// NewWriter begins a file at the current position of w, which must be its
// start. rate is in frames a second; samples are interleaved by channel.
func NewWriter(w io.WriteSeeker, rate, channels int) (*Writer, error) {
	if rate < 1 || rate > 1<<20 || channels < 1 || channels > 255 {
		return nil, fmt.Errorf("wav: %d channels at %d Hz cannot be written", channels, rate)
	}
	out := &Writer{w: w, rate: rate, channels: channels}
	out.buf = out.appendHeader(make([]byte, 0, 2*piece))
	return out, nil
}

// Write adds samples, -1 to 1; what lies beyond is clipped, and what is not a
// number is silence. The slice must hold whole frames. An error of the file may
// come as late as with Close.
func (w *Writer) Write(samples []float32) error {
	if len(samples)%w.channels != 0 {
		return fmt.Errorf("wav: %d samples are not whole frames of %d channels", len(samples), w.channels)
	}
	if w.data+int64(len(samples))*bytesPerSample > maxData {
		return ErrTooLong
	}
	w.data += int64(len(samples)) * bytesPerSample
	for len(samples) > 0 {
		n := min(len(samples), piece/bytesPerSample)
		w.buf = appendPCM(w.buf, samples[:n])
		samples = samples[n:]
		if len(w.buf) >= piece {
			if _, err := w.w.Write(w.buf[:piece]); err != nil {
				return err
			}
			w.buf = append(w.buf[:0], w.buf[piece:]...)
		}
	}
	return nil
}

// appendPCM appends samples as little-endian numbers of 24 bits.
func appendPCM(to []byte, samples []float32) []byte {
	at := len(to)
	const spare = 4 // bytes that Pack24 loses
	to = slices.Grow(to, len(samples)*bytesPerSample+spare)[:at+len(samples)*bytesPerSample+spare]
	out := to[at:]
	n := synth.Pack24(out, samples, fullScale)
	out, samples = out[n*bytesPerSample:], samples[n:]
	for _, s := range samples {
		// The fourth byte is that of the next sample, or cut off.
		binary.LittleEndian.PutUint32(out, uint32(Quantize(s)))
		out = out[bytesPerSample:]
	}
	return to[:len(to)-spare]
}

// Quantize returns the sample of 24 bits nearest to s: ±8388607 for ±1 and
// beyond, and 0 for what is not a number.
func Quantize(s float32) int32 {
	v := float64(s) * fullScale // exact, so that a half is a half
	switch {
	case v > -fullScale && v < fullScale:
		return int32(v + math.Copysign(0.5, v))
	case v != v:
		return 0
	case v > 0:
		return fullScale
	}
	return -fullScale
}

// Close completes the header. It does not close the underlying file.
func (w *Writer) Close() error {
	if w.data%2 != 0 { // chunks are padded to even sizes
		w.buf = append(w.buf, 0)
	}
	if _, err := w.w.Write(w.buf); err != nil {
		return err
	}
	w.buf = w.buf[:0]
	if _, err := w.w.Seek(0, io.SeekStart); err != nil {
		return err
	}
	if _, err := w.w.Write(w.appendHeader(nil)); err != nil {
		return err
	}
	_, err := w.w.Seek(0, io.SeekEnd)
	return err
}

func (w *Writer) appendHeader(h []byte) []byte {
	frame := w.channels * bytesPerSample
	le := binary.LittleEndian
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
	return le.AppendUint32(h, uint32(w.data))
}
