package musicxml

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// node is one element with everything inside it. Only small pieces of a score
// are ever held as nodes: a note, a direction, the head.
type node struct {
	name  string
	attrs []xml.Attr
	text  string // character data directly inside, not trimmed
	kids  []*node
}

// attr returns an attribute's trimmed value, "" when absent.
func (n *node) attr(name string) string { return attribute(n.attrs, name) }

func attribute(attrs []xml.Attr, name string) string {
	for _, a := range attrs {
		if a.Name.Local == name {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

// kid returns the first child of that name, or nil.
func (n *node) kid(name string) *node {
	for _, k := range n.kids {
		if k.name == name {
			return k
		}
	}
	return nil
}

// has reports whether there is a child of that name.
func (n *node) has(name string) bool { return n.kid(name) != nil }

// value returns the trimmed text of the first child of that name.
func (n *node) value(name string) string {
	if k := n.kid(name); k != nil {
		return strings.TrimSpace(k.text)
	}
	return ""
}

// each calls f for every descendant of that name, in document order.
func (n *node) each(name string, f func(*node)) {
	for _, k := range n.kids {
		if k.name == name {
			f(k)
		}
		k.each(name, f)
	}
}

// Limits inside one score. They are far above real scores and keep a hostile
// one within a small multiple of its size.
const (
	maxDepth     = 64
	maxNodes     = 100_000 // elements inside one note, direction or head
	maxItems     = 500_000 // notes and other elements of all bars
	maxParts     = 1000
	maxNodeAttrs = 200
	maxNodeText  = 4096 // bytes of text in one element
)

// scanner reads elements of an XML document that may break its rules: end tags
// without a start are ignored, missing ones are supplied, and what follows a
// break in the middle of the file is given up.
type scanner struct {
	d     *xml.Decoder
	stack []string
	// closing holds end tags that a sloppy file omitted, innermost first.
	closing int
	// broken is why reading stopped before the end of the document.
	broken error
}

func newScanner(r io.Reader, p prolog) *scanner {
	d := xml.NewDecoder(r)
	d.Strict = false
	d.CharsetReader = sameText
	d.Entity = entityTable(p.entities)
	return &scanner{d: d}
}

func entityTable(own map[string]string) map[string]string {
	if len(own) == 0 {
		return xml.HTMLEntity
	}
	table := make(map[string]string, len(xml.HTMLEntity)+len(own))
	for name, text := range xml.HTMLEntity {
		table[name] = text
	}
	for name, text := range own {
		table[name] = text
	}
	return table
}

// errEnd marks the end of the document, regular or not; see scanner.broken.
var errEnd = errors.New("end of document")

// piece is what next found: the start of an element, text, or (neither) the
// end of the innermost element.
type piece struct {
	start  *xml.StartElement
	text   []byte // valid until the following call
	isText bool
}

func (s *scanner) next() (piece, error) {
	for s.closing == 0 {
		token, err := s.d.RawToken()
		if err != nil {
			return piece{}, s.end(err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			if len(s.stack) == maxDepth || len(t.Attr) > maxNodeAttrs {
				return piece{}, s.tooLarge("elements nested deeper than %d or with more than %d attributes", maxDepth, maxNodeAttrs)
			}
			s.stack = append(s.stack, t.Name.Local)
			return piece{start: &t}, nil
		case xml.EndElement:
			s.closing = s.opened(t.Name.Local)
		case xml.CharData:
			return piece{text: t, isText: true}, nil
		}
	}
	s.closing--
	s.stack = s.stack[:len(s.stack)-1]
	return piece{}, nil
}

// opened counts the elements that an end tag closes, 0 when it matches none.
func (s *scanner) opened(name string) int {
	for i := len(s.stack) - 1; i >= 0; i-- {
		if s.stack[i] == name {
			return len(s.stack) - i
		}
	}
	return 0
}

func (s *scanner) tooLarge(format string, args ...any) error {
	line, _ := s.d.InputPos()
	return fmt.Errorf("line %d: %w: %s; no score needs that", line, ErrTooLarge, fmt.Sprintf(format, args...))
}

// end turns the decoder's error into errEnd, keeping why, or passes on that
// the text is too large.
func (s *scanner) end(err error) error {
	switch {
	case errors.Is(err, ErrTooLarge):
		return err
	case err != io.EOF:
		s.broken = err
	case len(s.stack) > 0:
		s.broken = io.ErrUnexpectedEOF
	}
	return errEnd
}

// children calls f with each child of the element just entered, until its end.
// f must consume the child: by children, by tree or by skip.
func (s *scanner) children(f func(xml.StartElement) error) error {
	for {
		p, err := s.next()
		switch {
		case err != nil:
			return err
		case p.start != nil:
			if err := f(*p.start); err != nil {
				return err
			}
		case !p.isText:
			return nil
		}
	}
}

// skip consumes the element just entered.
func (s *scanner) skip() error {
	return s.children(func(xml.StartElement) error { return s.skip() })
}

// tree consumes the element just entered and returns it whole.
func (s *scanner) tree(start xml.StartElement) (*node, error) {
	budget := maxNodes
	return s.subtree(start, &budget)
}

func (s *scanner) subtree(start xml.StartElement, budget *int) (*node, error) {
	if *budget--; *budget < 0 {
		return nil, s.tooLarge("more than %d elements inside one", maxNodes)
	}
	n := &node{name: start.Name.Local, attrs: start.Attr}
	for {
		p, err := s.next()
		switch {
		case err != nil:
			return nil, err
		case p.start != nil:
			k, err := s.subtree(*p.start, budget)
			if err != nil {
				return nil, err
			}
			n.kids = append(n.kids, k)
		case p.isText:
			n.addText(p.text)
		default:
			return n, nil
		}
	}
}

// addText keeps text that is not only layout, up to maxNodeText.
func (n *node) addText(text []byte) {
	if len(n.text) < maxNodeText && len(bytes.TrimSpace(text)) > 0 {
		n.text += string(text[:min(len(text), maxNodeText)])
	}
}
