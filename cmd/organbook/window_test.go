package main

import (
	"math"
	"path/filepath"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// The window at 1440×900 as the end-to-end test sees it, in pixels at scale 1.
const (
	screenWidth, screenHeight = 1440, 900
	playX, playY              = 511, 30  // the play button
	thirdBarX, rowY           = 562, 190 // an empty row early in bar 3
)

// TestWindowEndToEnd uses the program as a person does: a tune and its changes
// from an empty chart by keyboard and mouse, undo, play, save, quit, reopen.
func TestWindowEndToEnd(t *testing.T) {
	d := newDesk(t, screenWidth, screenHeight)
	d.startSound()
	program := builtProgram(t)
	d.launch(program)
	d.shot("1-demo")

	d.keys("ctrl+n")
	d.keys("1", "g", "c") // two whole notes, in bars 1 and 2
	d.keys("Home", "Return")
	d.text("G6")
	d.keys("Tab") // on to the next bar
	d.text("Cm6")
	d.keys("Return", "Escape", "2")
	d.click(thirdBarX, rowY) // a half note by mouse
	d.keys("ctrl+z", "ctrl+shift+z")
	d.shot("2-entered")

	d.keys("ctrl+4", "r", "r", "ctrl+2") // from the slow rotary speaker on to the fast and the stopped one

	heard := d.play()
	saved := filepath.Join(d.dir, "first.organbook")
	d.saveAs("ctrl+s", saved)
	d.shot("3-saved")
	d.keys("ctrl+q")
	d.waitForEnd()

	chart := d.load(saved)
	checkEntered(t, chart)
	checkHeard(t, chart, heard)

	d.launch(program, saved)
	again := filepath.Join(d.dir, "second.organbook")
	d.saveAs("ctrl+shift+s", again)
	d.keys("ctrl+q")
	d.waitForEnd()
	if reopened := d.load(again); !reopened.Equal(chart) {
		t.Errorf("the reopened chart differs:\n%+v\n%+v", reopened, chart)
	}
}

// play presses the play button, listens for five seconds and stops.
func (d *desk) play() []float32 {
	d.t.Helper()
	d.keys("Home")
	time.Sleep(4 * time.Second) // the rotary speaker comes to rest
	stop := d.record()
	d.click(playX, playY)
	time.Sleep(5 * time.Second)
	d.shot("playing")
	heard := stop()
	d.click(playX, playY)
	return heard
}

// saveAs answers the question for a path.
func (d *desk) saveAs(key, path string) {
	d.t.Helper()
	d.keys(key)
	time.Sleep(400 * time.Millisecond)
	d.keys("ctrl+a")
	d.text(path)
	d.keys("Return")
	d.eventually("the chart is saved", func() bool {
		_, err := project.Load(path)
		return err == nil
	})
	time.Sleep(300 * time.Millisecond)
}

func (d *desk) load(path string) *project.Chart {
	d.t.Helper()
	c, err := project.Load(path)
	if err != nil {
		d.t.Fatal(err)
	}
	return c
}

// checkEntered compares the chart with what was typed and clicked.
func checkEntered(t *testing.T, c *project.Chart) {
	t.Helper()
	if len(c.Melody) != 3 || len(c.Changes) != 2 {
		t.Fatalf("the chart has %d notes and %d changes, want 3 and 2: %v %v", len(c.Melody), len(c.Changes), c.Melody, c.Changes)
	}
	for i, want := range []struct {
		name     string
		duration project.Ticks
	}{{"G", project.Whole}, {"C", project.Whole}} {
		n := c.Melody[i]
		if n.Pitch.Name() != theory.MustParseName(want.name) || n.Duration != want.duration || n.Start != project.Ticks(i)*project.Whole {
			t.Errorf("note %d is %v", i+1, n)
		}
	}
	if n := c.Melody[2]; c.BarAt(n.Start) != 2 || n.Duration != project.Whole/2 {
		t.Errorf("the clicked note is %v, want a half note in bar 3", n)
	}
	for i, want := range []string{"G6", "Cm6"} {
		if ch := c.Changes[i]; ch.Chord != theory.MustParseChord(want) || ch.Start != project.Ticks(i)*project.Whole {
			t.Errorf("change %d is %v at %d, want %s", i+1, ch.Chord, ch.Start, want)
		}
	}
}

// checkHeard looks for the fundamental of every key that the arrangement holds
// in the first two bars, and for silence on keys that nobody plays.
func checkHeard(t *testing.T, c *project.Chart, heard []float32) {
	t.Helper()
	played, err := perform.Perform(arrange.Realise(c, arrange.Options{}), perform.Options{})
	if err != nil {
		t.Fatal(err)
	}
	onset := firstSound(heard)
	if onset < 0 {
		t.Fatal("nothing was heard")
	}
	for bar := range 2 {
		seconds := float64(bar)*2 + 0.6 // 120 quarters a minute: two seconds a bar
		from := onset + int(seconds*48000)
		if from+48000 > len(heard) {
			t.Fatalf("the recording ends after %d samples", len(heard))
		}
		x := heard[from : from+48000]
		down := keysDown(played, seconds+0.5)
		if len(down) < 4 {
			t.Fatalf("bar %d: only %d keys are down", bar+1, len(down))
		}
		for key := range down {
			if got := nearby(x, frequency(key)); got < 0.002 {
				t.Errorf("bar %d: key %d at %.1f Hz has amplitude %.5f", bar+1, key, frequency(key), got)
			}
		}
		// A quarter tone beside the lead there is nothing.
		lead := c.Melody[bar].Pitch.Key()
		off := strength(x, frequency(lead)*math.Pow(2, 1.0/24))
		if on := nearby(x, frequency(lead)); off > on/8 {
			t.Errorf("bar %d: beside the lead %.5f, on it %.5f", bar+1, off, on)
		}
	}
}

// keysDown lists the manual keys held at a time; pedals sound other octaves.
func keysDown(p *perform.Performance, seconds float64) map[int]bool {
	down := map[int]bool{}
	for _, e := range p.Events {
		if e.Seconds > seconds {
			break
		}
		if e.Division == arrange.Pedal {
			continue
		}
		switch e.Kind {
		case perform.KeyDown:
			down[e.Key] = true
		case perform.KeyUp:
			delete(down, e.Key)
		}
	}
	return down
}

func firstSound(x []float32) int {
	for i, v := range x {
		if math.Abs(float64(v)) > 0.005 {
			return i
		}
	}
	return -1
}

func frequency(key int) float64 { return 440 * math.Pow(2, float64(key-69)/12) }

// nearby is the greatest strength within 1.2 % of a frequency.
func nearby(x []float32, hz float64) float64 {
	best := 0.0
	for cents := -20.0; cents <= 20; cents += 2 {
		best = max(best, strength(x, hz*math.Pow(2, cents/1200)))
	}
	return best
}
