package project

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"organbook/internal/theory"
)

// Write writes the chart in the native format; see wire.go. It fails, before
// anything is written, when the chart does not pass Check.
func Write(w io.Writer, c *Chart) error {
	data, err := encode(c)
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

func encode(c *Chart) ([]byte, error) {
	if err := c.Check(); err != nil {
		return nil, fmt.Errorf("the chart cannot be written: %w", err)
	}
	var e encoder
	e.chart(c)
	return e.out.Bytes(), e.err
}

// encoder lays the object out: a field a line, an element a line.
type encoder struct {
	out bytes.Buffer
	err error
}

func (e *encoder) chart(c *Chart) {
	e.out.WriteString("{\n")
	e.field("format", chartFormat)
	e.field("version", chartVersion)
	e.field("title", c.Title)
	e.field("composer", c.Composer)
	e.field("key", c.Key.String())
	e.field("tempo", c.Tempo)
	e.field("swing", c.Swing)
	e.field("console", c.Console)
	if c.Player != nil {
		e.field("player", wirePlayerOf(c.Player))
	}
	if c.Tone != nil {
		e.field("tone", wireToneOf(*c.Tone))
	}
	list(e, "bars", wireBars(c.Bars), ",")
	list(e, "changes", mapped(c.Changes, wireChangeOf), ",")
	list(e, "melody", mapped(c.Melody, wireNoteOf), ",")
	list(e, "passages", mapped(c.Passages, wirePassageOf), ",")
	if len(c.Fingerings) > 0 {
		list(e, "fingerings", mapped(c.Fingerings, wireFingeringOf), ",")
	}
	if len(c.Shelved) == 0 {
		list(e, "pins", mapped(c.Pins, wirePinOf), "")
	} else {
		list(e, "pins", mapped(c.Pins, wirePinOf), ",")
		list(e, "shelvedPins", mapped(c.Shelved, wireShelvedPinOf), "")
	}
	e.out.WriteString("}\n")
}

func (e *encoder) field(name string, value any) {
	fmt.Fprintf(&e.out, " %q: ", name)
	e.value(value)
	e.out.WriteString(",\n")
}

func (e *encoder) value(v any) {
	var line bytes.Buffer
	enc := json.NewEncoder(&line)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil && e.err == nil {
		e.err = err
	}
	e.out.Write(bytes.TrimRight(line.Bytes(), "\n"))
}

// list writes a field whose elements stand on lines of their own.
func list[T any](e *encoder, name string, items []T, after string) {
	fmt.Fprintf(&e.out, " %q: [", name)
	for i, item := range items {
		if i > 0 {
			e.out.WriteByte(',')
		}
		e.out.WriteString("\n  ")
		e.value(item)
	}
	if len(items) > 0 {
		e.out.WriteString("\n ")
	}
	e.out.WriteString("]" + after + "\n")
}

func mapped[S, T any](items []S, f func(S) T) []T {
	out := make([]T, len(items))
	for i, item := range items {
		out[i] = f(item)
	}
	return out
}

// wireBars leaves out what follows from the bar before and from the meter.
func wireBars(bars []Bar) []wireBar {
	var meter Meter
	return mapped(bars, func(b Bar) wireBar {
		w := wireBarOf(b)
		if b.Meter != meter {
			w.Meter = b.Meter.String()
		}
		if b.Length != b.Meter.Length() {
			w.Length = b.Length
		}
		meter = b.Meter
		return w
	})
}

// wireBarOf converts all but meter and length.
func wireBarOf(b Bar) wireBar {
	return wireBar{
		Unnumbered: b.Unnumbered, Key: b.Key.String(), Tempo: b.Tempo, Section: b.Section,
		RepeatStart: b.RepeatStart, RepeatEnd: b.RepeatEnd, Times: b.Times,
		Ending: b.Ending, EndingStart: b.EndingStart,
		Segno: b.Segno, Coda: b.Coda, Fine: b.Fine, ToCoda: b.ToCoda, Jump: b.Jump.String(),
	}
}

func wireChangeOf(x Change) wireChange { return wireChange{x.Start, x.Chord.String()} }

func wireNoteOf(n Note) wireNote { return wireNote{n.Start, n.Duration, n.Pitch.String()} }

func wirePassageOf(p Passage) wirePassage {
	return wirePassage{
		Name: p.Name, FirstBar: p.First,
		wireArrangement: wireArrangementOf(p.Treatment, p.Plan, p.Bass, p.Registration),
		Takes:           wireTakesOf(p), Take: p.Take,
	}
}

func wireRegistrationOf(r Registration) wireRegistration {
	return wireRegistration{
		Name: r.Name, Upper: bars(r.Upper[:]), Lower: bars(r.Lower[:]), Pedal: bars(r.Pedal[:]),
		Rotary: r.Rotary.String(), Swell: r.Swell, Glide: r.Glide, wireEffects: wireEffectsOf(r.Effects),
	}
}

// bars widens drawbar settings: a list of bytes would be written as text.
func bars(settings []uint8) []int {
	return mapped(settings, func(d uint8) int { return int(d) })
}

func wirePinOf(p Pin) wirePin {
	return wirePin{
		Start: p.Start, Strength: unlessFirst(p.Strength), Voicing: p.Voicing.String(),
		Technique: unlessFirst(p.Technique), Voices: mapped(p.Voices, theory.Pitch.String),
	}
}
