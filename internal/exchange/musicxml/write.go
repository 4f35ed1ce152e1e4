package musicxml

import (
	"archive/zip"
	"bytes"
	"io"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// staffCount is the number of staves of the organ part: upper manual, lower
// manual, pedal.
const staffCount = 3

// Write writes the realisation as an uncompressed MusicXML 4.0 score: one
// organ part of three staves, with the chord symbols over the upper one.
//
// Everything is written in ticks of 10080 a quarter, so positions are exact.
// The first voice is the lead with the chord under it. Repeats, endings and
// jumps are written as in the chart.
func Write(w io.Writer, r *arrange.Realisation) error {
	_, err := w.Write(scoreText(r))
	return err
}

// WriteCompressed writes the same score as a compressed one (.mxl): a zip
// archive whose container names the score in it.
func WriteCompressed(w io.Writer, r *arrange.Realisation) error {
	z := zip.NewWriter(w)
	for _, f := range []struct {
		name string
		data []byte
	}{
		{"META-INF/container.xml", []byte(containerText)},
		{scoreName, scoreText(r)},
	} {
		entry, err := z.Create(f.name)
		if err != nil {
			return err
		}
		if _, err := entry.Write(f.data); err != nil {
			return err
		}
	}
	return z.Close()
}

const (
	scoreName     = "score.musicxml"
	header        = `<?xml version="1.0" encoding="UTF-8" standalone="no"?>` + "\n"
	containerText = header + `<container><rootfiles><rootfile full-path="` + scoreName + `"/></rootfiles></container>` + "\n"
)

func scoreText(r *arrange.Realisation) []byte {
	var b bytes.Buffer
	b.WriteString(header)
	element{b: &b}.in("score-partwise", func(e element) {
		writeHead(e, r.Chart)
		e.in("part", func(e element) {
			s := newScribe(r)
			for i := range r.Chart.Bars {
				s.measure(e, i)
			}
		}, "id", "P1")
	}, "version", "4.0")
	return b.Bytes()
}

func writeHead(e element, c *project.Chart) {
	if c.Title != "" {
		e.in("work", func(e element) { e.text("work-title", c.Title) })
	}
	e.in("identification", func(e element) {
		if c.Composer != "" {
			e.text("creator", c.Composer, "type", "composer")
		}
		e.in("encoding", func(e element) { e.text("software", "Organbook") })
	})
	e.in("part-list", func(e element) {
		e.in("score-part", func(e element) {
			e.text("part-name", "Organ")
			e.in("score-instrument", func(e element) {
				e.text("instrument-name", "Organ")
				e.text("instrument-sound", "keyboard.organ")
			}, "id", "P1-I1")
			e.in("midi-instrument", func(e element) {
				e.number("midi-channel", 1)
				e.number("midi-program", 17) // drawbar organ, counted from 1
			}, "id", "P1-I1")
		}, "id", "P1")
	})
}
