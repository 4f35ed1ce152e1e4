package ui

import (
	"fmt"
	"image"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"organbook/assets"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// A page of the handbook is Markdown, with pictures the program draws itself in
// the colours in force. A line of its own names one: "picture:" and its name,
// "view:" and a part of the window, or "block:" and a family and a melody note,
// which can be heard as well.

// handbookPart is a stretch of text, or a picture with a caption.
type handbookPart struct {
	text            string
	caption, target string
}

// handbookParts cuts a page at its headings and where its pictures are.
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
		if strings.HasPrefix(line, "## ") {
			flush()
		}
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

// handbookPage makes what a page shows in a width, a section for each part, with
// the places marked that were searched for; "" marks none.
func (w *Window) handbookPage(page string, width float32, searched string) (guidePage, error) {
	var out guidePage
	for _, part := range handbookParts(page) {
		var o fyne.CanvasObject
		if part.target == "" {
			text := widget.NewRichTextFromMarkdown(part.text)
			text.Wrapping = fyne.TextWrapWord
			segments := mended(text.Segments)
			w.linkCommands(segments)
			text.Segments = brokenLines(marked(segments, searched), width)
			o = text
		} else {
			picture, err := w.handbookPicture(part, width)
			if err != nil {
				return out, err
			}
			o = picture
		}
		out.sections = append(out.sections, o)
	}
	out.body = container.New(pageColumn{}, out.sections...)
	return out, nil
}

// linkCommands makes links of the keys that stand in bold in a text: a click does
// what the key does, and the keys are called what the user's keyboard calls them.
// Keys without Ctrl or Alt are left, but for F1 and so on: what they do depends on
// the panel.
func (w *Window) linkCommands(segments []widget.RichTextSegment) {
	for i, s := range segments {
		switch s := s.(type) {
		case *widget.ParagraphSegment:
			w.linkCommands(s.Texts)
		case *widget.ListSegment:
			w.linkCommands(s.Items)
		case *widget.TextSegment:
			if !s.Style.TextStyle.Bold || !s.Inline() {
				continue
			}
			c := w.commandOfLabel(s.Text)
			if s.Text = keyAsWritten(s.Text); c != nil {
				segments[i] = &widget.HyperlinkSegment{Text: s.Text, OnTapped: func() { w.do(c) }}
			}
		}
	}
}

// commandOfLabel returns the command that a key written as in the handbook means
// in the grid; nil for none.
func (w *Window) commandOfLabel(label string) *command.Command {
	if !strings.HasPrefix(label, "Ctrl ") && !strings.HasPrefix(label, "Alt ") && (len(label) < 2 || label[0] != 'F' || label[1] < '1' || label[1] > '9') {
		return nil
	}
	for _, c := range w.commands.All() {
		for _, k := range c.Keys {
			if (c.In == command.Anywhere || c.In == command.Grid) && k.Label() == label {
				return c
			}
		}
	}
	return nil
}

// scaled shows a picture of a size, smaller where there is less width, with the
// margins that text has.
func scaled(img image.Image, size fyne.Size, width float32) fyne.CanvasObject {
	margin := theme.InnerPadding()
	if width -= 2 * margin; size.Width > width {
		size = fyne.NewSize(width, size.Height*width/size.Width)
	}
	o := canvas.NewImageFromImage(img)
	o.FillMode, o.ScaleMode = canvas.ImageFillContain, canvas.ImageScaleSmooth
	return container.New(layout.NewCustomPaddedLayout(0, 0, margin, margin), container.NewGridWrap(size, o))
}

// handbookPicture draws what a page asks for, with its caption under it or, for
// a block, beside it.
func (w *Window) handbookPicture(part handbookPart, width float32) (fyne.CanvasObject, error) {
	kind, what, _ := strings.Cut(part.target, ":")
	if kind == "block" {
		return w.handbookBlock(part.caption, what, width)
	}
	if kind == "view" {
		return w.handbookView(part.caption, what, width)
	}
	sketch, ok := sketches[what]
	if kind != "picture" || !ok {
		return nil, fmt.Errorf("handbook: there is no picture %q", part.target)
	}
	img := image.NewRGBA(image.Rect(0, 0, int(sketch.size.Width)*handbookScale, int(sketch.size.Height)*handbookScale))
	sketch.paint(w, paint.NewCanvas(img, handbookScale, 0, 0))
	return container.NewVBox(scaled(img, sketch.size, width), captionLabel(part.caption)), nil
}

// handbookScale is how many pixels of a kept picture a unit of the window has.
const handbookScale = 2

// handbookView shows a picture of a part of the window that comes with the
// program, in the colours in force.
func (w *Window) handbookView(caption, what string, width float32) (fyne.CanvasObject, error) {
	name := what + "-light"
	if w.look.dark() {
		name = what + "-dark"
	}
	img, err := assets.Picture(name, language())
	if err != nil {
		return nil, fmt.Errorf("handbook: there is no picture of %q: %w", what, err)
	}
	size := fyne.NewSize(float32(img.Bounds().Dx())/handbookScale, float32(img.Bounds().Dy())/handbookScale)
	return container.NewVBox(scaled(img, size, width), captionLabel(caption)), nil
}

// handbookBlock shows the block of a family under a melody note on staff and
// keys, with a button to hear it.
func (w *Window) handbookBlock(caption, what string, width float32) (fyne.CanvasObject, error) {
	family, lead, err := readFamilyNote(what)
	if err != nil {
		return nil, err
	}
	voices, technique, ok := family.Block(lead)
	if !ok {
		return nil, fmt.Errorf("handbook: %s is no note of %s", lead, family)
	}
	size := fyne.NewSize(330, 84)
	img := image.NewRGBA(image.Rect(0, 0, int(size.Width)*handbookScale, int(size.Height)*handbookScale))
	paintHandbookBlock(w, paint.NewCanvas(img, handbookScale, 0, 0), voices)
	hear := newEscButton("Hear", func() { w.session.HearVoices(voices) }, w.closeGuide)
	chord := family.HomeChord()
	if technique == theory.Away {
		chord = family.AwayChord()
	}
	name := tr(fmt.Sprintf("%s on top: %s (%s)", lead.Name().Pretty(), technique, chord.Pretty()))
	title := widget.NewLabelWithStyle(name, fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	title.Wrapping = fyne.TextWrapWord
	button := container.New(layout.NewCustomPaddedLayout(0, 0, 0, theme.InnerPadding()), hear)
	picture := scaled(img, size, width-button.MinSize().Width-theme.Padding())
	return container.NewVBox(title, container.NewBorder(nil, nil, nil, container.NewCenter(button), picture), captionLabel(caption)), nil
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
	l.SizeName, l.Wrapping = captionSize, fyne.TextWrapWord
	return l
}
