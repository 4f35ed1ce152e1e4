package musicxml

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// maxStretch is the longest run of text without a "<" or ">": it bounds what
// the XML decoder keeps at once for one tag, comment or text.
const maxStretch = 1 << 20

// textReader turns the bytes of an XML file into UTF-8 that the decoder
// accepts, whatever the file claims: bytes that are not valid UTF-8 are read
// as Windows-1252, and control characters become blanks. It stops with
// ErrTooLarge at MaxSize bytes or maxStretch without markup.
type textReader struct {
	next    func() (rune, error)
	total   int
	stretch int
	pending []byte // encoded runes that have not been handed out
	err     error
}

// decodeText returns the text of an XML file from its bytes.
func decodeText(r io.Reader, notes *notices) io.Reader {
	br := bufio.NewReaderSize(r, 64<<10)
	head, _ := br.Peek(64 << 10)
	return &textReader{next: runesOf(br, head, notes)}
}

// runesOf chooses the decoding by byte order mark, by the zero bytes between
// the first letters, or by the declaration, in this order. Files that declare
// UTF-16 in single bytes are common; the bytes win.
func runesOf(br *bufio.Reader, head []byte, notes *notices) func() (rune, error) {
	declared := declaredEncoding(head)
	switch {
	case hasPrefix(head, "\xff\xfe"), hasPrefix(head, "<\x00"):
		return utf16Runes(br, binary.LittleEndian)
	case hasPrefix(head, "\xfe\xff"), hasPrefix(head, "\x00<"):
		return utf16Runes(br, binary.BigEndian)
	case declared == "", strings.HasPrefix(declared, "utf"), declared == "us-ascii", looksUTF8(head):
		return utf8Runes(br)
	}
	table := singleByteTable(declared)
	if table == nil {
		notes.add("", "the text encoding %q is not known here, so letters in the title may be wrong", declared)
		table = charmap.Windows1252
	}
	return func() (rune, error) {
		b, err := br.ReadByte()
		return table.DecodeByte(b), err
	}
}

func hasPrefix(b []byte, prefix string) bool {
	return strings.HasPrefix(string(b[:min(len(b), 8)]), prefix)
}

var encodingPattern = regexp.MustCompile(`^\s*<\?xml[^>]*?encoding\s*=\s*["']([\w.:-]+)`)

// declaredEncoding returns the declared encoding in lower case, or "".
func declaredEncoding(head []byte) string {
	head = head[:min(len(head), 256)]
	if m := encodingPattern.FindSubmatch(head); m != nil {
		return strings.ToLower(string(m[1]))
	}
	return ""
}

// singleByteTable finds the table for a declared name. ISO 8859-1 is read as
// Windows-1252, which adds letters where ISO 8859-1 has control characters.
func singleByteTable(declared string) *charmap.Charmap {
	plain := strings.NewReplacer("-", "", "_", "", ":", "").Replace
	declared = plain(declared)
	switch declared {
	case "iso88591", "latin1", "l1", "cp1252", "ansi":
		return charmap.Windows1252
	case "macroman", "xmacroman", "mac":
		return charmap.Macintosh
	}
	declared = strings.Replace(declared, "cp125", "windows125", 1)
	for _, enc := range charmap.All {
		table, ok := enc.(*charmap.Charmap)
		if ok && plain(strings.ToLower(strings.ReplaceAll(table.String(), " ", ""))) == declared {
			return table
		}
	}
	return nil
}

// looksUTF8 reports whether the text has letters beyond ASCII and all of them
// are valid UTF-8, which no text in another encoding is by chance.
func looksUTF8(head []byte) bool {
	beyond := false
	for len(head) > utf8.UTFMax {
		r, n := utf8.DecodeRune(head)
		if r == utf8.RuneError && n == 1 {
			return false
		}
		beyond = beyond || n > 1
		head = head[n:]
	}
	return beyond
}

func utf8Runes(br *bufio.Reader) func() (rune, error) {
	return func() (rune, error) {
		r, n, err := br.ReadRune()
		if r == utf8.RuneError && n == 1 {
			if err := br.UnreadRune(); err != nil {
				return 0, err
			}
			b, err := br.ReadByte()
			return charmap.Windows1252.DecodeByte(b), err
		}
		return r, err
	}
}

// utf16Runes decodes pairs of bytes in the given order.
func utf16Runes(br *bufio.Reader, order binary.ByteOrder) func() (rune, error) {
	unit := func() (rune, error) {
		var b [2]byte
		_, err := io.ReadFull(br, b[:])
		if errors.Is(err, io.ErrUnexpectedEOF) {
			err = io.EOF // half a unit at the end
		}
		return rune(order.Uint16(b[:])), err
	}
	return func() (rune, error) {
		r, err := unit()
		if err != nil || !utf16.IsSurrogate(r) {
			return r, err
		}
		low, err := unit()
		return utf16.DecodeRune(r, low), err
	}
}

// Read implements io.Reader.
func (t *textReader) Read(p []byte) (int, error) {
	n := 0
	for {
		k := copy(p[n:], t.pending)
		n, t.pending = n+k, t.pending[k:]
		if n == len(p) {
			return n, nil
		}
		if t.err != nil {
			return n, t.errUnless(n)
		}
		t.fill()
	}
}

// errUnless holds the error back while bytes are handed out.
func (t *textReader) errUnless(n int) error {
	if n > 0 {
		return nil
	}
	return t.err
}

// fill decodes the next few hundred runes into pending.
func (t *textReader) fill() {
	buf := t.pending[:0]
	for len(buf) < 4096 && t.err == nil {
		r, err := t.next()
		if err != nil {
			t.err = err
			break
		}
		before := len(buf)
		buf = appendClean(buf, r)
		t.count(r, len(buf)-before)
	}
	t.pending = buf
}

func (t *textReader) count(r rune, bytes int) {
	t.total += bytes
	t.stretch += bytes
	if r == '<' || r == '>' {
		t.stretch = 0
	}
	switch {
	case t.total > MaxSize:
		t.err = fmt.Errorf("%w: it holds more than %d MB of text; a score that long cannot be arranged at once", ErrTooLarge, MaxSize>>20)
	case t.stretch > maxStretch:
		t.err = fmt.Errorf("%w: it has %d MB of text without a tag, which no score has", ErrTooLarge, maxStretch>>20)
	}
}

// appendClean appends r, or a blank in place of what XML forbids; byte order
// marks vanish.
func appendClean(buf []byte, r rune) []byte {
	switch {
	case r == 0xFEFF:
		return buf
	case r < ' ' && r != '\t' && r != '\n' && r != '\r', r == 0xFFFE, r == 0xFFFF:
		return append(buf, ' ')
	}
	return utf8.AppendRune(buf, r)
}
