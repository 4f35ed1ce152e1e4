// Package export writes a chart to any of the files Organbook hands on, chosen
// by the ending. It stands under ui because pictures and sound are drawn and
// rendered there and in player, but it knows no window: the command line uses
// it as it is.
package export

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// Job is one chart on its way to one or several files. The realisation is
// made once and shared by all of them.
type Job struct {
	Chart       *project.Chart
	Realisation *arrange.Realisation
	// Stems asks for sound in several files, named after the given one.
	Stems Stems
	// Progress, when set, is told the finished part (0 to 1) of long work; an
	// error it returns cancels the work and is handed back.
	Progress func(done float64) error
}

// NewJob realises the chart.
func NewJob(c *project.Chart, o arrange.Options) *Job {
	return &Job{Chart: c, Realisation: arrange.Realise(c, o)}
}

// Format is one kind of file.
type Format struct {
	// Ending is the file name's ending, dot included, in lower case.
	Ending string
	// Title names the kind in menus and help.
	Title string
	write func(j *Job, path string) error
}

// Formats lists every kind in menu order.
func Formats() []Format { return slices.Clone(formats) }

var formats = []Format{
	{".organbook", "Chart", writeChart},
	{".musicxml", "MusicXML score", writeMusicXML},
	{".mxl", "MusicXML score, compressed", writeMusicXML},
	{".mid", "Standard MIDI File", writeMIDI},
	{".wav", "Sound, WAV", writeSound},
	{".flac", "Sound, FLAC", writeSound},
	{".png", "Picture of the grid", writePNG},
	{".json", "Realisation, JSON", writeJSON},
}

// Check reports what is wrong with a file name as a target, or nil.
func Check(path string) error {
	_, err := find(path)
	return err
}

// Write writes the job to path. The file appears whole or not at all.
func (j *Job) Write(path string) error {
	f, err := find(path)
	if err != nil {
		return err
	}
	return f.write(j, path)
}

func find(path string) (Format, error) {
	ending := strings.ToLower(filepath.Ext(path))
	for _, f := range formats {
		if f.Ending == ending {
			return f, nil
		}
	}
	var known []string
	for _, f := range formats {
		known = append(known, f.Ending)
	}
	return Format{}, fmt.Errorf("%s: cannot tell the kind of file from the ending %q; known are %s", path, ending, strings.Join(known, " "))
}

func (j *Job) progress(done float64) error {
	if j.Progress == nil {
		return nil
	}
	return j.Progress(done)
}
