package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"organbook/internal/exchange/midifile"
	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/ui/export"
)

// isMIDI reports whether a file is a Standard MIDI File by its content.
func isMIDI(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 4)
	n, _ := f.Read(head)
	return bytes.Equal(head[:n], []byte("MThd"))
}

// isSound reports whether a file to write holds sound, by its ending.
func isSound(path string) bool {
	e := strings.ToLower(filepath.Ext(path))
	return e == ".wav" || e == ".flac"
}

// midiRegistration is what a MIDI file is played on, for it knows no drawbars.
const midiRegistration = "full section"

// renderMIDI plays a MIDI file into sound files as it is, without arranging
// it.
func renderMIDI(in string, outs []string, stems export.Stems, onlyNew bool) error {
	for _, out := range outs {
		if !isSound(out) {
			return fmt.Errorf("%s: from a MIDI file only sound can be made, .wav or .flac", out)
		}
	}
	played, err := readMIDI(in)
	if err != nil {
		return located(in, err)
	}
	job := export.Job{Stems: stems}
	if onlyNew {
		files := func(out string) []string { return job.SoundFiles(played, out) }
		if err := refuseExisting(outs, files); err != nil {
			return err
		}
	}
	for _, out := range outs {
		if err := job.WriteSound(played, out); err != nil {
			return located(out, err)
		}
	}
	return nil
}

func readMIDI(path string) (*perform.Performance, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r, _ := project.RegistrationByName(midiRegistration)
	return midifile.Read(f, r)
}
