package musicxml

import (
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// score is a file as it stands, before any music is read out of it.
type score struct {
	head  []*node // what precedes the parts: titles, creators, credits
	parts []*part
	items int
	// broken is the line at which the file ends before its time, or 0.
	broken int
}

// part is one part's measures in order.
type part struct {
	id       string
	measures []measure
}

// measure is one measure of one part.
type measure struct {
	number   string // as printed
	implicit bool   // does not count
	items    []item
}

// item is one element inside a measure that matters here; exactly one field is
// set.
type item struct {
	note      *noteItem
	move      *fraction // backup (negative) or forward, in divisions
	attrs     *attributesItem
	harmony   *harmonyItem
	direction *directionItem
	barline   *barlineItem
}

// isScore reports whether a root element holds a score.
func isScore(root string) bool { return root == "score-partwise" || root == "score-timewise" }

// readScore finds the score in the file, whatever its wrapping.
func readScore(r io.ReaderAt, size int64, notes *notices) (*score, error) {
	head := make([]byte, min(size, 512))
	n, err := r.ReadAt(head, 0)
	if n == 0 && err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("cannot be read: %w", err)
	}
	head = head[:n]
	if err := sniff(head); err != nil {
		return nil, err
	}
	if hasPrefix(head, "PK\x03\x04") {
		rc, err := openArchive(r, size, notes)
		if err != nil {
			return nil, err
		}
		defer rc.Close()
		return readXML(rc, notes)
	}
	if size > 2*MaxSize+4 { // UTF-16 takes two bytes a letter
		return nil, fmt.Errorf("%w: the file has %d MB, a score at most %d", ErrTooLarge, size>>20, MaxSize>>20)
	}
	return readXML(io.NewSectionReader(r, 0, size), notes)
}

// sniff refuses files whose first bytes are neither XML nor an archive.
func sniff(head []byte) error {
	text := strings.TrimLeft(strings.NewReplacer("\xef\xbb\xbf", "", "\xff\xfe", "", "\xfe\xff", "").Replace(string(head)), "\x00 \t\r\n")
	switch {
	case len(head) == 0:
		return fmt.Errorf("%w: the file is empty; save the score again", ErrNotMusicXML)
	case strings.Trim(string(head), "\x00") == "":
		return fmt.Errorf("%w: it begins with zeros only; save or fetch the score again", ErrNotMusicXML)
	case hasPrefix(head, "PK\x05\x06"):
		return fmt.Errorf("%w: the archive is empty; save the score again", ErrNotMusicXML)
	case !hasPrefix(head, "PK\x03\x04") && text != "" && text[0] != '<':
		return fmt.Errorf("%w: it does not begin like XML or a compressed score; export the score as MusicXML", ErrNotMusicXML)
	}
	return nil
}

// readXML reads a score from the bytes of its XML.
func readXML(r io.Reader, notes *notices) (*score, error) {
	br := bufio.NewReaderSize(decodeText(r, notes), 8<<10)
	p, err := readProlog(br)
	if err != nil {
		return nil, err
	}
	if !isScore(p.root) {
		return nil, fmt.Errorf("%w: the file's outer element is <%s>, a score's is <score-partwise> or <score-timewise>; choose another file", ErrNotMusicXML, p.root)
	}
	sc := newScanner(br, p)
	s := &score{}
	err = s.read(sc)
	if err != nil && !errors.Is(err, errEnd) {
		return nil, err
	}
	if sc.broken != nil {
		line, _ := sc.d.InputPos()
		s.broken = line + p.lines
		notes.add("", "the file breaks off or is damaged at line %d; what stands before is imported", s.broken)
	}
	return s, nil
}

// read consumes the whole document.
func (s *score) read(sc *scanner) error {
	return sc.children(func(root xml.StartElement) error {
		if !isScore(root.Name.Local) {
			return sc.skip()
		}
		return sc.children(func(e xml.StartElement) error {
			switch e.Name.Local {
			case "part":
				return s.readPart(sc, e)
			case "measure":
				return s.readTimewise(sc, e)
			case "part-list", "defaults":
				return sc.skip()
			}
			n, err := sc.tree(e)
			if err == nil && len(s.head) < maxNodeAttrs {
				s.head = append(s.head, n)
			}
			return err
		})
	})
}

// readPart reads a <part> of <measure>s.
func (s *score) readPart(sc *scanner, e xml.StartElement) error {
	p, err := s.addPart(sc, attribute(e.Attr, "id"))
	if err != nil {
		return err
	}
	return sc.children(func(e xml.StartElement) error {
		if e.Name.Local != "measure" {
			return sc.skip()
		}
		return s.readMeasure(sc, p, newMeasure(e))
	})
}

// readTimewise reads a <measure> of <part>s and appends it to each part.
func (s *score) readTimewise(sc *scanner, e xml.StartElement) error {
	m := newMeasure(e)
	before := 0
	for _, p := range s.parts {
		before = max(before, len(p.measures))
	}
	return sc.children(func(e xml.StartElement) error {
		if e.Name.Local != "part" {
			return sc.skip()
		}
		p, err := s.partByID(sc, attribute(e.Attr, "id"))
		if err != nil {
			return err
		}
		for len(p.measures) < before { // the part was silent so far
			if err := s.count(sc); err != nil {
				return err
			}
			p.measures = append(p.measures, measure{})
		}
		return s.readMeasure(sc, p, m)
	})
}

func (s *score) addPart(sc *scanner, id string) (*part, error) {
	if len(s.parts) == maxParts {
		return nil, sc.tooLarge("more than %d parts", maxParts)
	}
	p := &part{id: id}
	s.parts = append(s.parts, p)
	return p, nil
}

func (s *score) partByID(sc *scanner, id string) (*part, error) {
	if i := slices.IndexFunc(s.parts, func(p *part) bool { return p.id == id }); i >= 0 {
		return s.parts[i], nil
	}
	return s.addPart(sc, id)
}

func newMeasure(e xml.StartElement) measure {
	return measure{number: attribute(e.Attr, "number"), implicit: attribute(e.Attr, "implicit") == "yes"}
}

// readMeasure reads what is inside a measure and appends it to the part, as
// far as it goes when the file breaks off.
func (s *score) readMeasure(sc *scanner, p *part, m measure) error {
	if err := s.count(sc); err != nil {
		return err
	}
	p.measures = append(p.measures, m)
	into := &p.measures[len(p.measures)-1]
	return sc.children(func(e xml.StartElement) error {
		if !isItem(e.Name.Local) {
			return sc.skip()
		}
		n, err := sc.tree(e)
		if err == nil {
			into.items = append(into.items, newItem(n))
			err = s.count(sc)
		}
		return err
	})
}

// count keeps the number of measures and items within bounds.
func (s *score) count(sc *scanner) error {
	if s.items++; s.items > maxItems {
		return sc.tooLarge("more than %d notes, signs and bars", maxItems)
	}
	return nil
}
