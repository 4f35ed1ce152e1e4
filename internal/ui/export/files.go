package export

import (
	"image/png"
	"io"
	"path/filepath"
	"strings"

	"organbook/internal/exchange/atomicfile"
	"organbook/internal/exchange/midifile"
	"organbook/internal/exchange/musicxml"
	"organbook/internal/exchange/realjson"
	"organbook/internal/exchange/wav"
	"organbook/internal/perform"
	"organbook/internal/player"
	"organbook/internal/project"
	"organbook/internal/ui/paint"
)

// Pictures are pictureWidth logical units wide and drawn at pictureScale, so
// that a page of paper width prints at about 300 dots an inch.
const (
	pictureWidth = 1200
	pictureScale = 2
)

// soundRate is the sample rate of sound files, the instrument's own.
const soundRate = 48000

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
	picture := paint.GridPicture(j.Realisation, paint.Light(), pictureWidth, pictureScale)
	return atomicfile.Write(path, func(w io.Writer) error { return png.Encode(w, picture) })
}

func writeWAV(j *Job, path string) error {
	played, err := perform.Perform(j.Realisation, perform.Options{})
	if err != nil {
		return err
	}
	return atomicfile.WriteSeek(path, func(w io.WriteSeeker) error {
		file, err := wav.NewWriter(w, soundRate, 2)
		if err != nil {
			return err
		}
		if err := j.render(played, file.Write); err != nil {
			return err
		}
		return file.Close()
	})
}

// render plays the whole performance into write, telling the job's progress
// and giving up when that asks for it.
func (j *Job) render(played *perform.Performance, write func([]float32) error) error {
	var stopped error
	err := player.Offline(player.Render{
		Performance: played,
		SampleRate:  soundRate,
		Write:       write,
		Progress: func(done, total int64) {
			if stopped == nil {
				stopped = j.progress(float64(done) / float64(max(total, 1)))
			}
		},
		Cancelled: func() bool { return stopped != nil },
	})
	if stopped != nil {
		return stopped
	}
	return err
}
