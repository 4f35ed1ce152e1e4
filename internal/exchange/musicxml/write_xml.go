package musicxml

import (
	"bytes"
	"encoding/xml"
	"strconv"
	"strings"
)

// element writes XML elements, indented, in the order of the calls. It knows
// nothing of music; it only keeps the tags balanced and the text escaped.
type element struct {
	b     *bytes.Buffer
	depth int
}

// in writes an element with the elements that fill writes. Attributes are
// name and value in turn.
func (e element) in(name string, fill func(element), attributes ...string) {
	e.tag(name, attributes, ">\n")
	fill(element{e.b, e.depth + 1})
	e.indent()
	e.b.WriteString("</" + name + ">\n")
}

// text writes an element that holds text.
func (e element) text(name, text string, attributes ...string) {
	e.tag(name, attributes, ">")
	e.b.WriteString(escape(text))
	e.b.WriteString("</" + name + ">\n")
}

// number writes an element that holds a whole number.
func (e element) number(name string, n int64, attributes ...string) {
	e.text(name, strconv.FormatInt(n, 10), attributes...)
}

// empty writes an element without content.
func (e element) empty(name string, attributes ...string) {
	e.tag(name, attributes, "/>\n")
}

func (e element) tag(name string, attributes []string, end string) {
	e.indent()
	e.b.WriteString("<" + name)
	for i := 0; i < len(attributes); i += 2 {
		e.b.WriteString(" " + attributes[i] + `="` + escape(attributes[i+1]) + `"`)
	}
	e.b.WriteString(end)
}

func (e element) indent() { e.b.WriteString(strings.Repeat(" ", e.depth)) }

// escape replaces what XML reserves, and what it forbids, in text.
func escape(s string) string {
	if !strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r > '~' || strings.ContainsRune(`&<>"'`, r) }) {
		return s
	}
	var b strings.Builder
	// EscapeText fails only when the writer does, and a Builder never does.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}
