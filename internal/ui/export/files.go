package export

import (
	"cmp"
	"image/png"
	"io"
	"path/filepath"
	"strings"

	"organbook/internal/exchange/atomicfile"
	"organbook/internal/exchange/midifile"
	"organbook/internal/exchange/musicxml"
	"organbook/internal/exchange/realjson"
	"organbook/internal/project"
	"organbook/internal/ui/paint"
)

// Pictures are pictureWidth logical units wide and drawn at pictureScale, so
// that a page of paper width prints at about 300 dots an inch.
const (
	pictureWidth = 1200
	pictureScale = 2
)

func writeChart(j *Job, path string) error { return project.Save(path, j.Chart) }

func writeJSON(j *Job, path string) error {
	return atomicfile.Write(path, func(w io.Writer) error { return realjson.Write(w, j.Realisation) })
}

func writeMIDI(j *Job, path string) error {
	return atomicfile.Write(path, func(w io.Writer) error { return midifile.Write(w, j.Realisation) })
}

func writeMusicXML(j *Job, path string) error {
	write := musicxml.Write
	if strings.EqualFold(filepath.Ext(path), ".mxl") {
		write = musicxml.WriteCompressed
	}
	return atomicfile.Write(path, func(w io.Writer) error { return write(w, j.Realisation) })
}

func writePNG(j *Job, path string) error {
	heading := cmp.Or(j.Chart.Title, project.NameOfFile(path))
	picture := paint.GridPicture(j.Realisation, heading, paint.Light(), pictureWidth, pictureScale)
	return atomicfile.Write(path, func(w io.Writer) error { return png.Encode(w, picture) })
}
