package realjson

import (
	"bytes"
	"encoding/json"
	"io"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// Write writes the realisation to w as JSON, one bar, note or step a line.
func Write(w io.Writer, r *arrange.Realisation) error {
	var b bytes.Buffer
	d := newDocument(r)
	field := func(name string, value any) {
		b.WriteString(`"` + name + `":`)
		encode(&b, value)
	}
	b.WriteByte('{')
	field("format", d.Format)
	b.WriteByte(',')
	field("version", d.Version)
	b.WriteByte(',')
	field("ticksPerQuarter", d.TicksPerQuarter)
	b.WriteString(",\n")
	field("title", d.Title)
	b.WriteByte(',')
	field("key", d.Key)
	list(&b, "bars", d.Bars)
	list(&b, "melody", d.Melody)
	list(&b, "chords", d.Chords)
	list(&b, "steps", d.Steps)
	list(&b, "notes", d.Notes)
	list(&b, "cues", d.Cues)
	list(&b, "findings", d.Findings)
	b.WriteString("}\n")
	_, err := w.Write(b.Bytes())
	return err
}

// list writes a field that holds a list, an element a line.
func list[T any](b *bytes.Buffer, name string, values []T) {
	b.WriteString(",\n\"" + name + "\":[")
	for i, v := range values {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n ")
		encode(b, v)
	}
	b.WriteByte(']')
}

// encode appends one value without a line end. Nothing in the document can
// fail to encode: its types hold text, whole numbers and finite beats.
func encode(b *bytes.Buffer, value any) {
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	if err := e.Encode(value); err != nil {
		panic("realjson: " + err.Error())
	}
	b.Truncate(b.Len() - 1)
}

func newDocument(r *arrange.Realisation) document {
	c := r.Chart
	ruler := c.Ruler()
	d := document{
		Format: "organbook-realisation", Version: 1, TicksPerQuarter: int(project.Quarter),
		Title: c.Title, Key: c.Key.String(),
		Bars: bars(c, ruler), Melody: melody(r), Chords: chords(c),
	}
	for i := range r.Steps {
		d.Steps = append(d.Steps, newSteps(&r.Steps[i], ruler)...)
	}
	for i := range r.Notes {
		d.Notes = append(d.Notes, newNote(&r.Notes[i]))
	}
	for _, q := range r.Cues {
		d.Cues = append(d.Cues, cue{int64(q.Start), q.Kind.String(), q.Value})
	}
	for i := range r.Findings {
		d.Findings = append(d.Findings, newFinding(&r.Findings[i], ruler))
	}
	return d
}

func bars(c *project.Chart, ruler *project.Ruler) (out []bar) {
	for i := range c.Bars {
		out = append(out, bar{ruler.BarNumber(i), int64(ruler.BarStart(i)), int64(c.Bars[i].Length)})
	}
	return out
}

// melody returns the melody as it sounds: in the octave that its step plays.
func melody(r *arrange.Realisation) (out []sound) {
	steps := r.Steps
	for _, n := range r.Chart.Melody {
		for len(steps) > 0 && steps[0].Start < n.Start {
			steps = steps[1:]
		}
		key := n.Pitch.Key()
		if len(steps) > 0 && steps[0].Start == n.Start {
			key = steps[0].Lead.Key()
		}
		out = append(out, sound{int64(n.Start), int64(n.Duration), key})
	}
	return out
}

func chords(c *project.Chart) (out []chord) {
	for _, x := range c.Changes {
		out = append(out, chord{int64(x.Start), symbol(x.Chord)})
	}
	return out
}

// symbol returns the chord in print; none in force is written as N.C.
func symbol(c theory.Chord) string {
	if !c.IsValid() {
		c = theory.NoChord()
	}
	return c.String()
}

// newSteps returns the step of a melody attack and, where the inner voices move
// under the held note, one for each later block with the same melody.
func newSteps(s *arrange.Step, ruler *project.Ruler) []step {
	out := []step{newStep(s, s.Start, s.Length(), s.Chord, &s.Block, ruler)}
	for i := range s.Moves {
		m := &s.Moves[i]
		out = append(out, newStep(s, m.Start, m.Duration, m.Chord, &m.Block, ruler))
	}
	return out
}

// newStep returns one block of a step.
func newStep(s *arrange.Step, start, duration project.Ticks, c theory.Chord, b *arrange.Block, ruler *project.Ruler) step {
	out := step{
		Start: int64(start), Duration: int64(duration),
		Bar: ruler.BarNumber(ruler.BarAt(start)), Beat: ruler.Beat(start),
		Melody: s.Lead.Key(), Chord: symbol(c),
		Technique: b.Technique.String(), Voicing: b.Voicing.String(),
		Voices: make([]int, 0, len(b.Voices)), Spelled: make([]string, 0, len(b.Voices)),
		Name: b.Name, Reason: b.Reason.String(), Pinned: s.Pinned,
	}
	if b.Family.IsValid() {
		out.Family = &family{b.Family.Tonic().String(), b.Family.Sixth().String()}
	}
	for _, v := range b.Voices {
		out.Voices = append(out.Voices, v.Key())
		out.Spelled = append(out.Spelled, v.String())
	}
	return out
}

func newNote(n *arrange.Note) note {
	return note{
		int64(n.Start), int64(n.Duration), n.Key,
		n.Division.String(), n.Limb.String(), n.Layer.String(), n.Finger, n.Then, n.Glide,
		n.Part.String(), n.Cross.String(),
	}
}

func newFinding(f *arrange.Finding, ruler *project.Ruler) finding {
	out := finding{
		Bar: ruler.BarNumber(ruler.BarAt(f.Start)), Beat: ruler.Beat(f.Start),
		Limb: f.Limb.String(), Severity: f.Severity.String(), Text: f.Text.String(),
		Remedies: []string{},
	}
	for _, r := range f.Remedies {
		out.Remedies = append(out.Remedies, r.String())
	}
	return out
}
