package ui

import (
	"strings"

	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// marked sets bold and in colour, in text of several styles, every place that holds
// a word, in small letters; "" marks nothing. A heading is marked as a whole.
func marked(segments []widget.RichTextSegment, word string) (out []widget.RichTextSegment) {
	if word == "" {
		return segments
	}
	for _, s := range segments {
		switch s := s.(type) {
		case *widget.ParagraphSegment:
			s.Texts = marked(s.Texts, word)
		case *widget.ListSegment:
			for i, item := range s.Items {
				if one := marked([]widget.RichTextSegment{item}, word); len(one) == 1 {
					s.Items[i] = one[0]
				} else {
					s.Items[i] = &widget.ParagraphSegment{Texts: one}
				}
			}
		case *widget.TextSegment:
			out = append(out, markedText(s, word)...)
			continue
		}
		out = append(out, s)
	}
	return out
}

// markedText cuts a text at the places that hold the word.
func markedText(s *widget.TextSegment, word string) (out []widget.RichTextSegment) {
	lower := strings.ToLower(s.Text)
	if len(lower) != len(s.Text) || !strings.Contains(lower, word) {
		return []widget.RichTextSegment{s} // letters whose small form is longer are not cut
	}
	piece := func(text string, mark bool) {
		if text == "" {
			return
		}
		p := *s
		p.Text = text
		if mark {
			p.Style.ColorName = theme.ColorNamePrimary
			p.Style.TextStyle.Bold = true
		}
		out = append(out, &p)
	}
	if !s.Inline() {
		piece(s.Text, true)
		return out
	}
	rest := s.Text
	for at := strings.Index(lower, word); at >= 0; at = strings.Index(lower, word) {
		piece(rest[:at], false)
		piece(rest[at:at+len(word)], true)
		rest, lower = rest[at+len(word):], lower[at+len(word):]
	}
	piece(rest, false)
	return out
}
