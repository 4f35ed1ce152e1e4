package flac

import "encoding/binary"

// bitWriter collects bits, the most significant first.
type bitWriter struct {
	bytes []byte
	word  uint64 // the last n bits, not in bytes yet
	n     uint   // below 32
}

func (w *bitWriter) reset() { w.bytes, w.word, w.n = w.bytes[:0], 0, 0 }

// put appends the low n bits of v, at most 32.
func (w *bitWriter) put(v uint32, n uint) {
	w.word = w.word<<n | uint64(v)&(1<<n-1)
	w.n += n
	if w.n >= 32 {
		w.n -= 32
		w.bytes = binary.BigEndian.AppendUint32(w.bytes, uint32(w.word>>w.n))
	}
}

// unary appends n zeros and a one.
func (w *bitWriter) unary(n uint32) {
	for ; n >= 32; n -= 32 {
		w.put(0, 32)
	}
	w.put(1, uint(n)+1)
}

// align fills the last byte with zeros and moves all bits to bytes.
func (w *bitWriter) align() {
	w.put(0, (8-w.n%8)%8)
	for w.n > 0 {
		w.n -= 8
		w.bytes = append(w.bytes, byte(w.word>>w.n))
	}
}

// number appends a frame number in the format's extension of UTF-8.
func (w *bitWriter) number(v uint64) {
	if v < 0x80 {
		w.put(uint32(v), 8)
		return
	}
	more := uint(1) // bytes that follow, of six bits each; the first has room for 6−more
	for more < 6 && v >= 1<<(6*more+6-more) {
		more++
	}
	lead := uint32(0xff00>>(more+1)) & 0xff
	w.put(lead|uint32(v>>(6*more)), 8)
	for more > 0 {
		more--
		w.put(0x80|uint32(v>>(6*more))&0x3f, 8)
	}
}

// crc8 and crc16 are the checks at the end of a frame's header and of a frame.
func crc8(b []byte) (crc uint8) {
	for _, x := range b {
		crc ^= x
		for range 8 {
			crc = crc<<1 ^ 0x07*(crc>>7)
		}
	}
	return crc
}

func crc16(b []byte) (crc uint16) {
	for _, x := range b {
		crc = crc<<8 ^ crc16Table[byte(crc>>8)^x]
	}
	return crc
}

var crc16Table = func() (t [256]uint16) {
	for i := range t {
		crc := uint16(i) << 8
		for range 8 {
			crc = crc<<1 ^ 0x8005*(crc>>15)
		}
		t[i] = crc
	}
	return t
}()
