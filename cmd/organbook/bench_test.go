package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// BenchmarkConvert times the whole process: a 32-bar lead sheet to JSON.
func BenchmarkConvert(b *testing.B) {
	program := builtProgram(b)
	in, out := filepath.Join(b.TempDir(), "tune.musicxml"), filepath.Join(b.TempDir(), "tune.json")
	if err := os.WriteFile(in, []byte(leadSheet(32)), 0o600); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if text, err := exec.Command(program, "convert", in, out).CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, text)
		}
	}
}

// BenchmarkWindowOpens times from starting the process until its window is on
// the screen, with the demo chart, under Xvfb and software GL.
func BenchmarkWindowOpens(b *testing.B) {
	d := newDesk(b, screenWidth, screenHeight)
	program := builtProgram(b)
	for b.Loop() {
		c := exec.Command(program)
		c.Env = d.env
		if err := c.Start(); err != nil {
			b.Fatal(err)
		}
		d.must("xdotool", "search", "--sync", "--onlyvisible", "--name", "Organbook")
		c.Process.Kill()
		c.Wait()
	}
}

// leadSheet writes a score of eighth notes with a change every two beats.
func leadSheet(bars int) string {
	roots := []string{"C", "A", "D", "G"}
	kinds := []string{"major-sixth", "dominant", "minor-seventh", "dominant"}
	steps := strings.Fields("E G A G F A G E")
	var s strings.Builder
	s.WriteString(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Lead</part-name></score-part></part-list><part id="P1">`)
	for bar := range bars {
		fmt.Fprintf(&s, `<measure number="%d">`, bar+1)
		if bar == 0 {
			s.WriteString(`<attributes><divisions>2</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`)
		}
		for i, step := range steps {
			if i%4 == 0 {
				chord := (2*bar + i/4) % 4
				fmt.Fprintf(&s, `<harmony><root><root-step>%s</root-step></root><kind>%s</kind></harmony>`, roots[chord], kinds[chord])
			}
			fmt.Fprintf(&s, `<note><pitch><step>%s</step><octave>4</octave></pitch><duration>1</duration><type>eighth</type></note>`, step)
		}
		s.WriteString(`</measure>`)
	}
	s.WriteString(`</part></score-partwise>`)
	return s.String()
}
