package flac

import (
	"bufio"
	"crypto/md5"
	"encoding/binary"
	"fmt"
	"hash"
	"io"

	"organbook/internal/exchange/wav"
)

const (
	depth     = 24
	blockSize = 4096
	// infoSize is the length of what stands before the frames.
	infoSize = 4 + 4 + 34
	// piece is how many bytes are handed to the system at a time.
	piece = 1 << 18
)

// Writer writes one file of two channels. Length, sizes and checksum are
// completed by Close, so the length need not be known before.
type Writer struct {
	w       io.WriteSeeker
	out     *bufio.Writer // to w
	rate    int
	pending []int32 // samples of a block not complete yet, interleaved
	frames  int64   // written
	blocks  uint64
	least   int // bytes of a block
	most    int
	sum     hash.Hash
	bits    bitWriter
	channel [4][]int64 // left, right, middle, difference
	sub     [4]subframe
	raw     []byte
}

// NewWriter begins a file at the current position of w, which must be its
// start. rate is in frames a second, 1 to 655350.
func NewWriter(w io.WriteSeeker, rate int) (*Writer, error) {
	if rate < 1 || rate > 655350 {
		return nil, fmt.Errorf("flac: sound at %d Hz cannot be written", rate)
	}
	out := &Writer{w: w, out: bufio.NewWriterSize(w, piece), rate: rate, sum: md5.New()}
	_, err := out.out.Write(out.info())
	return out, err
}

// Write adds samples, interleaved left and right, -1 to 1; what lies beyond is
// clipped, and what is not a number is silence. The slice must hold whole
// frames. An error of the file may come as late as with Close.
func (w *Writer) Write(samples []float32) error {
	if len(samples)%2 != 0 {
		return fmt.Errorf("flac: %d samples are not whole frames of two channels", len(samples))
	}
	for _, s := range samples {
		w.pending = append(w.pending, wav.Quantize(s))
	}
	for len(w.pending) >= 2*blockSize {
		if err := w.block(w.pending[:2*blockSize]); err != nil {
			return err
		}
		w.pending = append(w.pending[:0], w.pending[2*blockSize:]...)
	}
	return nil
}

// Close writes what is left and completes the head. It does not close the
// underlying file.
func (w *Writer) Close() error {
	if len(w.pending) > 0 {
		if err := w.block(w.pending); err != nil {
			return err
		}
	}
	if err := w.out.Flush(); err != nil {
		return err
	}
	if _, err := w.w.Seek(0, io.SeekStart); err != nil {
		return err
	}
	if _, err := w.w.Write(w.info()); err != nil {
		return err
	}
	_, err := w.w.Seek(0, io.SeekEnd)
	return err
}

// info is the mark of the format and the STREAMINFO block.
func (w *Writer) info() []byte {
	be := binary.BigEndian
	h := append(make([]byte, 0, infoSize), "fLaC"...)
	h = be.AppendUint32(h, 0x80<<24|34) // the last block before the frames
	h = be.AppendUint16(h, blockSize)
	h = be.AppendUint16(h, blockSize)
	h = append(h, byte(w.least>>16), byte(w.least>>8), byte(w.least), byte(w.most>>16), byte(w.most>>8), byte(w.most))
	h = be.AppendUint64(h, uint64(w.rate)<<44|1<<41|(depth-1)<<36|uint64(w.frames))
	sum := make([]byte, md5.Size) // all zero: not known yet
	if w.frames > 0 {
		sum = w.sum.Sum(nil)
	}
	return append(h, sum...)
}

// block writes one block of interleaved samples.
func (w *Writer) block(x []int32) error {
	n := len(x) / 2
	w.digest(x)
	w.split(x)
	pair := w.choose()
	b := &w.bits
	b.reset()
	b.put(0xfff8, 16) // blocks of a fixed size
	size := uint32(12)
	if n != blockSize {
		size = 7
	}
	b.put(size<<4, 8) // the sample rate as in the head
	b.put(uint32(pair.code)<<4|6<<1, 8)
	b.number(w.blocks)
	if n != blockSize {
		b.put(uint32(n-1), 16)
	}
	b.align()
	b.put(uint32(crc8(b.bytes)), 8)
	w.sub[pair.first].write(b)
	w.sub[pair.second].write(b)
	b.align()
	b.put(uint32(crc16(b.bytes)), 16)
	b.align()
	w.frames += int64(n)
	w.blocks++
	if w.least == 0 || len(b.bytes) < w.least {
		w.least = len(b.bytes)
	}
	w.most = max(w.most, len(b.bytes))
	_, err := w.out.Write(b.bytes)
	return err
}

// digest adds samples to the checksum, as little-endian numbers of 24 bits.
func (w *Writer) digest(x []int32) {
	w.raw = w.raw[:0]
	for _, v := range x {
		w.raw = append(w.raw, byte(v), byte(v>>8), byte(v>>16))
	}
	w.sum.Write(w.raw)
}

// split fills the channels: left, right, and their middle and difference.
func (w *Writer) split(x []int32) {
	for i := range w.channel {
		w.channel[i] = w.channel[i][:0]
	}
	for i := 0; i < len(x); i += 2 {
		l, r := int64(x[i]), int64(x[i+1])
		for c, v := range [4]int64{l, r, (l + r) >> 1, l - r} {
			w.channel[c] = append(w.channel[c], v)
		}
	}
}

// pairing is a way to write two channels: which two, and its code.
type pairing struct{ first, second, code int }

var pairings = [4]pairing{{0, 1, 1}, {0, 3, 8}, {3, 1, 9}, {2, 3, 10}}

// choose plans all channels and returns the pairing that takes the least room.
func (w *Writer) choose() (best pairing) {
	least := 1 << 62
	for c := range w.sub {
		bits := uint(depth)
		if c == 3 {
			bits++ // a difference may be twice as large
		}
		w.sub[c].plan(w.channel[c], bits)
	}
	for _, p := range pairings {
		if size := w.sub[p.first].bits + w.sub[p.second].bits; size < least {
			best, least = p, size
		}
	}
	return best
}
