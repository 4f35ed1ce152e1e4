package arrange

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// Line explains one melody note.
type Line struct {
	Start project.Ticks
	// BarIndex is the index of the written bar, Bar its printed number.
	BarIndex, Bar int
	// Beat counts from 1 in units of the meter's lower number, and Position
	// writes bar and beat together ("9.2½").
	Beat     float64
	Position string
	// Melody is the lead as played.
	Melody theory.Pitch
	// Chord is the symbol the note takes ("N.C." or empty without one),
	// Function its label and Target the chord it leads to, empty where it leads
	// nowhere.
	Chord, Function, Target string
	Technique               theory.Technique
	Voicing                 theory.Voicing
	// Block is the voices from the lead down.
	Block []theory.Pitch
	// Name reads the block as a chord.
	Name, Reason        string
	Pinned, Anticipates bool
	// Moves are the later blocks under a held note.
	Moves []MoveLine
}

// MoveLine explains a change of the inner voices under a held note.
type MoveLine struct {
	Start project.Ticks
	// Position writes bar and beat together.
	Position                string
	Chord, Function, Target string
	Technique               theory.Technique
	Block                   []theory.Pitch
	Name, Reason            string
}

// Explain returns a line for every step of a realisation, in order.
func Explain(r *Realisation) []Line {
	rule := r.Chart.Ruler()
	out := make([]Line, len(r.Steps))
	for i := range r.Steps {
		st := &r.Steps[i]
		out[i] = Line{
			Start: st.Start, BarIndex: st.Bar, Bar: rule.BarNumber(st.Bar),
			Beat: rule.Beat(st.Start), Position: rule.PositionText(st.Start),
			Melody: st.Lead, Technique: st.Technique, Voicing: st.Voicing,
			Block: st.Voices, Name: st.Name, Reason: st.Reason.String(),
			Pinned: st.Pinned, Anticipates: st.Anticipates,
		}
		if st.Chord.IsValid() {
			out[i].Chord = st.Chord.String()
		}
		if st.Span < len(r.Spans) {
			out[i].Function, out[i].Target = r.Spans[st.Span].Function.String(), r.Spans[st.Span].target()
		}
		for k := range st.Moves {
			out[i].Moves = append(out[i].Moves, moveLine(r, rule, &st.Moves[k]))
		}
	}
	return out
}

func moveLine(r *Realisation, rule *project.Ruler, m *Move) MoveLine {
	l := MoveLine{
		Start: m.Start, Position: rule.PositionText(m.Start), Technique: m.Technique,
		Block: m.Voices, Name: m.Name, Reason: m.Reason.String(), Chord: m.Chord.String(),
	}
	if m.Span < len(r.Spans) {
		l.Function, l.Target = r.Spans[m.Span].Function.String(), r.Spans[m.Span].target()
	}
	return l
}

// target writes the chord a span leads to, "" for none.
func (sp *Span) target() string {
	if !playable(sp.Target) {
		return ""
	}
	return sp.Target.String()
}

// functionText writes a label with the chord it leads to: "V of i, to Gm6".
func functionText(function, target string) string {
	if target == "" || function == "" {
		return function
	}
	return function + ", to " + target
}

// cells returns the texts of a move in the order of columns; the lead is held.
func (l *MoveLine) cells() []string {
	return []string{l.Position, "held", l.Chord, functionText(l.Function, l.Target), l.Technique.String(), pitchList(l.Block), l.Name}
}

// columns are the headings of the text and the least width of each column.
var columns = []struct {
	heading string
	width   int
}{
	{"at", 6}, {"lead", 4}, {"chord", 8}, {"function", 12}, {"technique", 9}, {"block", 18}, {"sounds as", 9},
}

// cells returns the texts of a line in the order of columns.
func (l *Line) cells() []string {
	return []string{
		l.Position, l.Melody.String(), l.Chord, functionText(l.Function, l.Target),
		l.Technique.String(), pitchList(l.Block), l.Name,
	}
}

func pitchList(voices []theory.Pitch) string {
	names := make([]string, len(voices))
	for i, v := range voices {
		names[i] = v.String()
	}
	return strings.Join(names, " ")
}

// WriteLines prints the lines in aligned columns, each followed by its reason
// wrapped to width characters and set in by a few.
func WriteLines(w io.Writer, lines []Line, width int) error {
	widths := make([]int, len(columns))
	for c := range columns {
		widths[c] = columns[c].width
		for i := range lines {
			widths[c] = max(widths[c], utf8.RuneCountInString(lines[i].cells()[c]))
			for k := range lines[i].Moves {
				widths[c] = max(widths[c], utf8.RuneCountInString(lines[i].Moves[k].cells()[c]))
			}
		}
	}
	var b strings.Builder
	headings := make([]string, len(columns))
	for c := range columns {
		headings[c] = columns[c].heading
	}
	writeRow(&b, headings, widths)
	for i := range lines {
		writeRow(&b, lines[i].cells(), widths)
		writeReason(&b, lines[i].Reason, width)
		for k := range lines[i].Moves {
			writeRow(&b, lines[i].Moves[k].cells(), widths)
			writeReason(&b, lines[i].Moves[k].Reason, width)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// reasonIndent is how far reasons are set in.
const reasonIndent = 8

func writeReason(b *strings.Builder, reason string, width int) {
	for _, line := range wrap(reason, max(20, width-reasonIndent)) {
		fmt.Fprintf(b, "%*s%s\n", reasonIndent, "", line)
	}
}

// writeRow writes the cells padded to their columns, two spaces between, with
// nothing after the last.
func writeRow(b *strings.Builder, cells []string, widths []int) {
	var row strings.Builder
	for c, text := range cells {
		row.WriteString(text)
		row.WriteString(strings.Repeat(" ", 2+widths[c]-utf8.RuneCountInString(text)))
	}
	b.WriteString(strings.TrimRight(row.String(), " "))
	b.WriteByte('\n')
}

// wrap breaks text at spaces into lines of at most width characters; a longer
// word gets a line of its own.
func wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
