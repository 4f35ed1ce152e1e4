package musicxml

import (
	"bufio"
	"errors"
	"fmt"
	"html"
	"io"
	"regexp"
	"strings"
)

// maxProlog bounds what may stand before the root element: a declaration,
// comments and a document type.
const maxProlog = 256 << 10

// prolog is what precedes the root element of an XML file.
type prolog struct {
	// root is the local name of the root element, which is still unread.
	root string
	// lines counts the line ends before the root element.
	lines int
	// entities are the harmless ones the file declares: short plain texts.
	entities map[string]string
}

// prologReader consumes the prolog by hand, so that the XML decoder never sees
// a document type: external subsets are not fetched, and entities that refer
// to files or to other entities are refused.
type prologReader struct {
	br    *bufio.Reader
	used  int
	lines int
}

// readProlog reads up to the root element.
func readProlog(br *bufio.Reader) (prolog, error) {
	p := prologReader{br: br}
	entities := map[string]string{}
	for {
		next, err := p.skipToTag()
		switch {
		case err != nil:
			return prolog{}, err
		case strings.HasPrefix(next, "<?"):
			_, err = p.through("?>")
		case strings.HasPrefix(next, "<!--"):
			_, err = p.through("-->")
		case strings.HasPrefix(next, "<!"):
			err = p.doctype(entities)
		default:
			return prolog{p.rootName(), p.lines, entities}, nil
		}
		if err != nil {
			return prolog{}, err
		}
	}
}

// skipToTag skips blanks and returns the next few bytes, which start with "<".
func (p *prologReader) skipToTag() (string, error) {
	for {
		b, err := p.br.Peek(1)
		switch {
		case err != nil:
			return "", endsEarly(err)
		case b[0] == '<':
			head, _ := p.br.Peek(4)
			return string(head), nil
		case strings.IndexByte(" \t\r\n", b[0]) < 0:
			return "", fmt.Errorf("line %d: %w: text stands where the first element should; choose a MusicXML file", p.lines+1, ErrNotMusicXML)
		}
		if _, err := p.byte(); err != nil {
			return "", err
		}
	}
}

func (p *prologReader) byte() (byte, error) {
	if p.used++; p.used > maxProlog {
		return 0, fmt.Errorf("%w: no element in the first %d kB; choose a MusicXML file", ErrNotMusicXML, maxProlog>>10)
	}
	b, err := p.br.ReadByte()
	if b == '\n' {
		p.lines++
	}
	return b, endsEarly(err)
}

// endsEarly says in a sentence why there is no more text; nil stays nil.
func endsEarly(err error) error {
	switch {
	case err == nil || errors.Is(err, ErrTooLarge):
		return err
	case errors.Is(err, io.EOF):
		return fmt.Errorf("%w: it ends before any element; choose a file that holds a score", ErrNotMusicXML)
	}
	return fmt.Errorf("%w: its beginning cannot be read (%w); fetch or save the score again", ErrDamaged, err)
}

// through reads up to and including end.
func (p *prologReader) through(end string) (string, error) {
	var text strings.Builder
	for !strings.HasSuffix(text.String(), end) {
		b, err := p.byte()
		if err != nil {
			return "", err
		}
		text.WriteByte(b)
	}
	return text.String(), nil
}

// doctype reads a document type declaration with its internal subset.
func (p *prologReader) doctype(entities map[string]string) error {
	line := p.lines + 1
	var text strings.Builder
	depth, quote := 0, byte(0)
	for {
		b, err := p.byte()
		if err != nil {
			return err
		}
		text.WriteByte(b)
		switch {
		case quote != 0:
			if b == quote {
				quote = 0
			}
		case b == '"' || b == '\'':
			quote = b
		case b == '<':
			depth++
		case b == '-' && strings.HasSuffix(text.String(), "<!--"):
			if _, err := p.through("-->"); err != nil {
				return err
			}
			depth--
		case b == '>':
			if depth--; depth == 0 {
				return declareEntities(text.String(), line, entities)
			}
		}
	}
}

var entityPattern = regexp.MustCompile(`<!ENTITY\s+(%?)\s*([\w.:-]+)\s+("[^"]*"|'[^']*'|\S*)`)

// characterPattern finds references to single characters, except the one to
// the ampersand, which could smuggle in a reference to an entity.
var characterPattern = regexp.MustCompile(`&#(?:x0*[13-9a-fA-F][0-9a-fA-F]+|x0*2[0-57-9a-fA-F]|0*[124-9][0-9]+|0*3[0-79]);`)

// Entities are kept when they are few and short, so that text full of them
// cannot grow beyond a few times its size.
const (
	maxEntities   = 64
	maxEntityText = 48
)

// declareEntities takes over plain-text entities and refuses the others.
func declareEntities(doctype string, line int, entities map[string]string) error {
	unsafe := func(why string) error {
		return fmt.Errorf("line %d: %w: its document type declares %s; save the score again without that", line, ErrUnsafe, why)
	}
	found := entityPattern.FindAllStringSubmatch(doctype, -1)
	if len(found) != strings.Count(doctype, "<!ENTITY") || len(found) > maxEntities {
		return unsafe("entities that cannot be followed")
	}
	for _, m := range found {
		value := characterPattern.ReplaceAllStringFunc(m[3], html.UnescapeString)
		switch {
		case !strings.HasPrefix(value, `"`) && !strings.HasPrefix(value, `'`):
			return unsafe("an entity that is kept in another file")
		case strings.ContainsAny(value, "&<") || m[1] == "" && strings.Contains(value, "%"):
			return unsafe("an entity made of other entities")
		case len(value) > maxEntityText:
			return unsafe("an entity that is longer than a word")
		case m[1] == "":
			entities[m[2]] = value[1 : len(value)-1]
		}
	}
	return nil
}

var rootPattern = regexp.MustCompile(`^<(?:[\w.-]+:)?([\w.-]+)`)

// rootName looks at the root element without consuming it.
func (p *prologReader) rootName() string {
	head, _ := p.br.Peek(128)
	if m := rootPattern.FindSubmatch(head); m != nil {
		return string(m[1])
	}
	return ""
}
