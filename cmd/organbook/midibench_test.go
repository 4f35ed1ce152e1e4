package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"gitlab.com/gomidi/midi/v2"
	"gitlab.com/gomidi/midi/v2/smf"
)

// offlineRendererEnv holds the command of any other program that renders a
// MIDI file to a sound file without playing it, with {mid} and {wav} in the
// place of their names; quotation marks are not understood. With it
// BenchmarkMIDIToWAV times the two in turn.
const offlineRendererEnv = "ORGANBOOK_OFFLINE_RENDERER"

// BenchmarkMIDIToWAV times the whole process that turns a MIDI file of three
// minutes into sound, with the kernels and, built with the tag purego, in
// plain Go.
func BenchmarkMIDIToWAV(b *testing.B) {
	in := filepath.Join(b.TempDir(), "three-minutes.mid")
	if err := threeMinutes().WriteFile(in); err != nil {
		b.Fatal(err)
	}
	other := strings.Fields(os.Getenv(offlineRendererEnv))
	for _, build := range []struct{ name, tags string }{{"kernels", ""}, {"plain", "purego"}} {
		program := filepath.Join(b.TempDir(), "organbook-"+build.name)
		if out, err := exec.Command("go", "build", "-tags", build.tags, "-o", program, ".").CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		b.Run(build.name, func(b *testing.B) { pairMIDI(b, program, in, other) })
	}
}

// pairMIDI runs our program and, if there is one, the other, in turn, and
// reports medians.
func pairMIDI(b *testing.B, program, in string, other []string) {
	var ours, theirs, busy, busyTheirs []float64
	wav := filepath.Join(b.TempDir(), "out.wav")
	for b.Loop() {
		os.Remove(wav) // each writes a new file
		wall, cpu := timed(b, program, "convert", in, wav)
		ours, busy = append(ours, wall), append(busy, cpu)
		if len(other) > 0 {
			command := slices.Clone(other)
			for i := range command {
				command[i] = strings.NewReplacer("{mid}", in, "{wav}", wav).Replace(command[i])
			}
			os.Remove(wav)
			wall, cpu := timed(b, command[0], command[1:]...)
			theirs, busyTheirs = append(theirs, wall), append(busyTheirs, cpu)
		}
	}
	b.ReportMetric(middle(ours), "s")
	b.ReportMetric(middle(busy), "s-cpu")
	b.ReportMetric(180/middle(ours), "×realtime")
	if len(theirs) > 0 {
		b.ReportMetric(middle(theirs), "s-other")
		b.ReportMetric(middle(busyTheirs), "s-cpu-other")
		b.ReportMetric(middle(theirs)/middle(ours), "×faster")
		b.ReportMetric(middle(busyTheirs)/middle(busy), "×less-cpu")
	}
}

func middle(x []float64) float64 {
	slices.Sort(x)
	return x[len(x)/2]
}

// timed runs a command and returns its time and that of the processor, in
// seconds.
func timed(b *testing.B, name string, args ...string) (wall, cpu float64) {
	b.Helper()
	began := time.Now()
	c := exec.Command(name, args...)
	if out, err := c.CombinedOutput(); err != nil {
		b.Fatalf("%s: %v\n%s", name, err, out)
	}
	return time.Since(began).Seconds(), (c.ProcessState.UserTime() + c.ProcessState.SystemTime()).Seconds()
}

// threeMinutes is a file of four-part blocks over three-part comping and a
// walking bass, 360 beats at 120 a minute, with the swell on the move.
func threeMinutes() *smf.SMF {
	const beat, beats = 480, 360
	file := smf.NewSMF1()
	file.TimeFormat = smf.MetricTicks(beat)
	var first smf.Track
	first.Add(0, smf.MetaTempo(120))
	first.Close(0)
	file.Add(first)
	chords := [][]uint8{{67, 70, 74, 76}, {66, 69, 72, 75}, {65, 68, 70, 74}, {64, 67, 70, 73}}
	comp := [][]uint8{{53, 58, 62}, {54, 60, 63}, {53, 56, 62}, {52, 58, 61}}
	bass := []uint8{43, 46, 48, 50, 45, 48, 51, 54}
	for channel := range uint8(3) {
		var t smf.Track
		for i := range beats {
			keys := [][]uint8{chords[i/2%4], comp[i/4%4], bass[i%8 : i%8+1]}[channel]
			shift := uint8(i / 32 % 5)
			t.Add(0, midi.ControlChange(channel, 11, uint8(70+i%50)))
			for _, k := range keys {
				t.Add(0, midi.NoteOn(channel, k+shift, 96))
			}
			for j, k := range keys {
				wait := uint32(0)
				if j == 0 {
					wait = beat - 40
				}
				t.Add(wait, midi.NoteOff(channel, k+shift))
			}
			t.Add(40, midi.ControlChange(channel, 11, uint8(71+i%50)))
		}
		t.Close(0)
		file.Add(t)
	}
	return file
}

// TestConvertMIDI plays a MIDI file into sound and refuses to make anything
// else of it.
func TestConvertMIDI(t *testing.T) {
	dir := t.TempDir()
	in, wav, flac := filepath.Join(dir, "x.mid"), filepath.Join(dir, "x.wav"), filepath.Join(dir, "x.flac")
	file := smf.New()
	var track smf.Track
	track.Add(0, midi.NoteOn(0, 60, 90))
	track.Add(960, midi.NoteOff(0, 60))
	track.Close(0)
	file.Add(track)
	if err := file.WriteFile(in); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if code := run([]string{"convert", in, wav, flac}, &out, &errs); code != exitOK {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	for path, least := range map[string]int64{wav: 48000 * 6, flac: 20000} {
		if info, err := os.Stat(path); err != nil || info.Size() < least {
			t.Errorf("%s: %v, %v", path, info, err)
		}
	}
	if text := refused(t, "convert", in, filepath.Join(dir, "x.json")); !strings.Contains(text, "only sound can be made") {
		t.Errorf("to JSON: %s", text)
	}
	if err := os.WriteFile(in, []byte("MThd and nothing more"), 0o600); err != nil {
		t.Fatal(err)
	}
	if text := refused(t, "convert", in, wav); !strings.Contains(text, "damaged") {
		t.Errorf("damaged: %s", text)
	}
}
