package export

import (
	"io"
	"path/filepath"
	"strings"

	"organbook/internal/exchange/atomicfile"
	"organbook/internal/exchange/flac"
	"organbook/internal/exchange/wav"
	"organbook/internal/perform"
	"organbook/internal/player"
)

// soundRate is the sample rate of sound files, the instrument's own.
const soundRate = 48000

// Stems says whether a sound file is one, or one a division or layer.
type Stems uint8

// The kinds of stems.
const (
	NoStems Stems = iota
	DivisionStems
	LayerStems
)

// sound is a file of either kind that is being written.
type sound interface {
	Write([]float32) error
	Close() error
}

// begin starts a sound file whose kind the name's ending tells.
func begin(path string, w io.WriteSeeker) (sound, error) {
	if strings.EqualFold(filepath.Ext(path), ".flac") {
		return flac.NewWriter(w, soundRate)
	}
	return wav.NewWriter(w, soundRate, 2)
}

func writeSound(j *Job, path string) error {
	played, err := perform.Perform(j.Realisation, perform.Options{})
	if err != nil {
		return err
	}
	return j.WriteSound(played, path)
}

// WriteSound renders a performance into a sound file, or into one for each
// stem if the job asks for stems.
func (j *Job) WriteSound(played *perform.Performance, path string) error {
	stems := j.stems(played)
	if stems == nil {
		return writeAll([]string{path}, nil, func(files []sound) error {
			return j.render(func(r player.Render) error {
				r.Performance, r.Write = played, files[0].Write
				return player.Offline(r)
			})
		})
	}
	return writeAll(stemPaths(path, stems), nil, func(files []sound) error {
		return j.render(func(r player.Render) error {
			r.Performance = played
			return player.OfflineStems(r, stems, func(i int, x []float32) error { return files[i].Write(x) })
		})
	})
}

func (j *Job) stems(played *perform.Performance) []player.Stem {
	switch j.Stems {
	case DivisionStems:
		return player.DivisionStems()
	case LayerStems:
		return player.LayerStems(played)
	}
	return nil
}

// Files are the files that Write makes for a path: the path itself, or those of
// the stems.
func (j *Job) Files(path string) []string {
	if j.Stems != NoStems && isSound(path) {
		if played, err := perform.Perform(j.Realisation, perform.Options{}); err == nil {
			return j.SoundFiles(played, path)
		}
	}
	return []string{path}
}

// SoundFiles are the files that WriteSound makes of a performance for a path.
func (j *Job) SoundFiles(played *perform.Performance, path string) []string {
	if stems := j.stems(played); stems != nil {
		return stemPaths(path, stems)
	}
	return []string{path}
}

func isSound(path string) bool {
	ending := strings.ToLower(filepath.Ext(path))
	return ending == ".wav" || ending == ".flac"
}

// stemPaths are the files of stems: "tune upper.wav" for "tune.wav".
func stemPaths(path string, stems []player.Stem) []string {
	ending := filepath.Ext(path)
	var paths []string
	for _, s := range stems {
		paths = append(paths, strings.TrimSuffix(path, ending)+" "+s.Name+ending)
	}
	return paths
}

// writeAll opens a file for each path, has them filled and closes them. They
// take their places only when all are complete.
func writeAll(paths []string, files []sound, fill func([]sound) error) error {
	if len(paths) == 0 {
		if err := fill(files); err != nil {
			return err
		}
		for _, f := range files {
			if err := f.Close(); err != nil {
				return err
			}
		}
		return nil
	}
	return atomicfile.WriteSeek(paths[0], func(w io.WriteSeeker) error {
		f, err := begin(paths[0], w)
		if err != nil {
			return err
		}
		return writeAll(paths[1:], append(files, f), fill)
	})
}

// render has a rendering tell the job's progress, and give up when that asks
// for it.
func (j *Job) render(do func(player.Render) error) error {
	var stopped error
	err := do(player.Render{
		SampleRate: soundRate,
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
