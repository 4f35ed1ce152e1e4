package ui

import (
	"regexp"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// escaped is a sign of Markdown that a page means as itself.
var escaped = regexp.MustCompile("\\\\([*_#`])")

// mended is what the toolkit reads from Markdown without what it leaves or puts in: the
// stroke before a sign that is meant as itself, a blank behind a bracket that opens
// right before a change of style, and a list against what follows it.
func mended(segments []widget.RichTextSegment) (out []widget.RichTextSegment) {
	for i, s := range segments {
		out = append(out, s)
		switch s := s.(type) {
		case *widget.ParagraphSegment:
			s.Texts = mended(s.Texts)
		case *widget.ListSegment:
			s.Items = mended(s.Items)
			if i+1 < len(segments) {
				out = append(out, &widget.TextSegment{Style: widget.RichTextStyle{SizeName: captionSize}})
			}
		case *widget.TextSegment:
			s.Text = escaped.ReplaceAllString(s.Text, "$1")
			for _, bracket := range []string{"(", "„"} {
				s.Text = strings.ReplaceAll(s.Text, bracket+" ", bracket)
			}
		}
	}
	return out
}

// brokenLines puts line breaks into text of several styles so that it fits a width.
// The toolkit breaks text itself, but within words where a change of style stands
// near the end of a line.
func brokenLines(segments []widget.RichTextSegment, width float32) []widget.RichTextSegment {
	const margin, bullet float32 = 12, 34 // bullet is what a list takes at the left
	l := &textLines{width: width - margin}
	for _, s := range segments {
		switch s := s.(type) {
		case *widget.ParagraphSegment:
			s.Texts = brokenLines(s.Texts, width)
			l.out, l.x = append(l.out, s), 0
		case *widget.ListSegment:
			for i, item := range s.Items {
				s.Items[i] = brokenLines([]widget.RichTextSegment{item}, width-bullet)[0]
			}
			l.out, l.x = append(l.out, s), 0
		case *widget.HyperlinkSegment:
			l.begin(fyne.MeasureText(s.Text, theme.TextSize(), fyne.TextStyle{}).Width)
			l.blank = false
			l.out = append(l.out, s)
		case *widget.TextSegment:
			if s.Inline() || l.x > 0 { // else a line of one style, which the toolkit breaks well
				l.text(s)
			}
			l.out = append(l.out, s)
			if !s.Inline() {
				l.x = 0
			}
		default:
			l.out = append(l.out, s)
		}
	}
	return l.out
}

// textLines is what was broken so far, and how far the last line has come.
type textLines struct {
	width, x float32
	blank    bool // the line ends with a blank so far, where it can be broken
	out      []widget.RichTextSegment
}

// begin puts the first word of a segment on the line, or a break before it.
func (l *textLines) begin(wide float32) {
	if l.blank && l.x+wide > l.width {
		l.lineBreak()
	}
	l.x += wide
}

func (l *textLines) lineBreak() {
	l.out, l.x = append(l.out, &widget.TextSegment{Style: widget.RichTextStyleInline, Text: "\n"}), 0
}

// text breaks a segment at its blanks. A break at its very start becomes a segment
// of its own, before it.
func (l *textLines) text(s *widget.TextSegment) {
	measure := func(word string) float32 { return fyne.MeasureText(word, theme.TextSize(), s.Style.TextStyle).Width }
	words := strings.Split(s.Text, " ")
	s.Text = words[0]
	l.begin(measure(words[0]))
	l.blank = strings.HasSuffix(strings.Join(words, " "), " ")
	for i, word := range words[1:] {
		wide := measure(" " + word)
		switch {
		case l.x+wide <= l.width:
			s.Text += " " + word
			l.x += wide
			continue
		case i == 0 && s.Text == "":
			l.lineBreak()
			s.Text = word
		default:
			s.Text += "\n" + word
		}
		l.x = measure(word)
	}
}
