package main

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"net"
	"strings"
	"testing"
	"time"
)

// keyboard presses keys on a screen over a connection that stays open, by the
// XTEST extension of the X protocol: a new process for each press takes ten
// milliseconds and more to start, and a processor from whoever is measured.
type keyboard struct {
	t     testing.TB
	conn  net.Conn
	in    *bufio.Reader
	xtest byte
	codes map[uint32]byte // by the key's symbol
}

// Symbols of keys; those of letters are their characters.
const (
	symbolControl = 0xffe3
	symbolDown    = 0xff54
)

// Requests of the X protocol, and of XTEST.
const (
	getKeyboardMapping = 101
	queryExtension     = 98
	getInputFocus      = 43
	fakeInput          = 2
	keyPress           = 2
	keyRelease         = 3
)

// newKeyboard connects to the desk's screen.
func (d *desk) newKeyboard() *keyboard {
	d.t.Helper()
	display := ""
	for _, e := range d.env {
		if v, ok := strings.CutPrefix(e, "DISPLAY=:"); ok {
			display = v
		}
	}
	c, err := net.Dial("unix", "/tmp/.X11-unix/X"+display)
	if err != nil {
		d.t.Fatal(err)
	}
	d.t.Cleanup(func() { c.Close() })
	k := &keyboard{t: d.t, conn: c, in: bufio.NewReader(c), codes: map[uint32]byte{}}
	setup := k.setUp()
	k.learnCodes(setup[26], setup[27]) // the least and the greatest code
	name := "XTEST"
	k.send(append([]byte{queryExtension, 0, 4, 0, byte(len(name)), 0, 0, 0}, name+"\x00\x00\x00"...))
	r := k.reply()
	if r[8] == 0 {
		d.t.Fatal("the screen has no XTEST")
	}
	k.xtest = r[9]
	return k
}

// setUp greets the screen and returns what it says of itself.
func (k *keyboard) setUp() []byte {
	k.send([]byte{'l', 0, 11, 0, 0, 0, 0, 0, 0, 0, 0, 0})
	head := k.take(8)
	rest := k.take(4 * int(binary.LittleEndian.Uint16(head[6:])))
	if head[0] != 1 {
		k.t.Fatalf("the screen refuses: %q", rest)
	}
	return rest
}

func (k *keyboard) learnCodes(least, greatest byte) {
	k.send([]byte{getKeyboardMapping, 0, 2, 0, least, greatest - least + 1, 0, 0})
	r := k.reply()
	each := int(r[1])
	for at, code := 32, int(least); at < len(r); at, code = at+4*each, code+1 {
		symbol := binary.LittleEndian.Uint32(r[at:])
		if _, known := k.codes[symbol]; !known {
			k.codes[symbol] = byte(code)
		}
	}
}

// press presses or releases a key, and returns when it asked for that, once the
// screen has done so.
func (k *keyboard) press(symbol uint32, down bool) (asked time.Time) {
	k.t.Helper()
	code, ok := k.codes[symbol]
	if !ok {
		k.t.Fatalf("the screen's keyboard has no key %#x", symbol)
	}
	kind := byte(keyRelease)
	if down {
		kind = keyPress
	}
	b := make([]byte, 36, 40)
	b[0], b[1], b[2], b[4], b[5] = k.xtest, fakeInput, 9, kind, code
	asked = time.Now()
	k.send(append(b, getInputFocus, 0, 1, 0)) // which is answered after the press
	k.reply()
	return asked
}

func (k *keyboard) send(b []byte) {
	k.t.Helper()
	if _, err := k.conn.Write(b); err != nil {
		k.t.Fatal(err)
	}
}

// reply returns the answer to a request; events are left out.
func (k *keyboard) reply() []byte {
	k.t.Helper()
	for {
		b := k.take(32)
		switch b[0] {
		case 0:
			k.t.Fatalf("the screen refuses: error %d", b[1])
		case 1:
			return append(b, k.take(4*int(binary.LittleEndian.Uint32(b[4:])))...)
		}
	}
}

func (k *keyboard) take(n int) []byte {
	k.t.Helper()
	b := make([]byte, n)
	if _, err := io.ReadFull(k.in, b); err != nil {
		k.t.Fatal(fmt.Errorf("the screen's answer: %w", err))
	}
	return b
}
