package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/theory"
)

// A page of the handbook is Markdown, with pictures the program draws itself in
// the colours in force. A line of its own names one: "picture:" and its name,
// or "block:" and a family and a melody note, which can be heard as well.

// handbookPart is a stretch of text, or a picture with a caption.
type handbookPart struct {
	text            string
	caption, target string
}

// handbookParts cuts a page where its pictures are.
func handbookParts(page string) []handbookPart {
	var parts []handbookPart
	var text strings.Builder
	flush := func() {
		if strings.TrimSpace(text.String()) != "" {
			parts = append(parts, handbookPart{text: text.String()})
		}
		text.Reset()
	}
	for line := range strings.Lines(page) {
		caption, target, ok := pictureLine(strings.TrimSpace(line))
		if !ok {
			text.WriteString(line)
			continue
		}
		flush()
		parts = append(parts, handbookPart{caption: caption, target: target})
	}
	flush()
	return parts
}

// pictureLine reads "![caption](target)".
func pictureLine(line string) (caption, target string, ok bool) {
	rest, ok := strings.CutPrefix(line, "![")
	if !ok {
		return "", "", false
	}
	caption, rest, ok = strings.Cut(rest, "](")
	target, end := strings.CutSuffix(rest, ")")
	return caption, target, ok && end
}

// handbookPage shows a page that scrolls.
func (w *Window) handbookPage(page string) (*container.Scroll, error) {
	box := container.NewVBox()
	for _, part := range handbookParts(page) {
		if part.target == "" {
			text := widget.NewRichTextFromMarkdown(part.text)
			text.Wrapping = fyne.TextWrapWord
			box.Add(text)
			continue
		}
		picture, err := w.handbookPicture(part)
		if err != nil {
			return nil, err
		}
		box.Add(picture)
	}
	return container.NewVScroll(container.NewPadded(box)), nil
}

// handbookPicture draws what a page asks for, with its caption under it or, for
// a block, beside it.
func (w *Window) handbookPicture(part handbookPart) (fyne.CanvasObject, error) {
	kind, what, _ := strings.Cut(part.target, ":")
	if kind == "block" {
		return w.handbookBlock(part.caption, what)
	}
	sketch, ok := sketches[what]
	if kind != "picture" || !ok {
		return nil, fmt.Errorf("handbook: there is no picture %q", part.target)
	}
	p := newPainted(func(c *paintCanvas) { sketch.paint(w, c) })
	return container.NewVBox(container.NewGridWrap(sketch.size, p.raster), captionLabel(part.caption)), nil
}

// handbookBlock shows the block of a family under a melody note on staff and
// keys, with a button to hear it.
func (w *Window) handbookBlock(caption, what string) (fyne.CanvasObject, error) {
	family, lead, err := readFamilyNote(what)
	if err != nil {
		return nil, err
	}
	voices, technique, ok := family.Block(lead)
	if !ok {
		return nil, fmt.Errorf("handbook: %s is no note of %s", lead, family)
	}
	p := newPainted(func(c *paintCanvas) { paintHandbookBlock(w, c, voices) })
	hear := widget.NewButton("Hear", func() { w.session.HearVoices(voices) })
	chord := family.HomeChord()
	if technique == theory.Away {
		chord = family.AwayChord()
	}
	name := fmt.Sprintf("%s on top: %s (%s)", lead.Name().Pretty(), technique, chord.Pretty())
	words := container.NewVBox(layout.NewSpacer(), widget.NewLabelWithStyle(name, fyne.TextAlignLeading, fyne.TextStyle{Bold: true}), captionLabel(caption), layout.NewSpacer())
	return container.NewBorder(nil, nil, container.NewGridWrap(fyne.NewSize(330, 84), p.raster), container.NewCenter(hear), words), nil
}

// readFamilyNote reads "C dominant flat five/Gb4".
func readFamilyNote(s string) (theory.Family, theory.Pitch, error) {
	words, note, _ := strings.Cut(s, "/")
	tonic, sixth, _ := strings.Cut(words, " ")
	name, err := theory.ParseName(tonic)
	if err != nil {
		return theory.Family{}, theory.Pitch{}, err
	}
	kind, err := theory.ParseSixth(sixth)
	if err != nil {
		return theory.Family{}, theory.Pitch{}, err
	}
	lead, err := theory.ParsePitch(note)
	return theory.NewFamily(name, kind), lead, err
}

func captionLabel(s string) *widget.Label {
	l := widget.NewLabel(s)
	l.SizeName = captionSize
	return l
}
