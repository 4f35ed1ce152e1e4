package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestWindowJourney goes the whole way with the keyboard alone: a tune of four
// bars with its changes, harmonised, other blocks chosen, another hand plan and
// registration, played, looped, everything undone and done again, saved, quit
// and opened again. Each step waits for what the window then shows.
func TestWindowJourney(t *testing.T) {
	d := newDesk(t, screenWidth, screenHeight)
	d.startSound()
	d.traceAnew()
	program := builtProgram(t)
	d.launch(program)
	d.press("ctrl+n", emptyChart...)
	d.shot("journey-1-empty")

	d.enterTune()
	d.waitFor("blocks=8", "pins=0") // harmonised
	d.shot("journey-2-entered")
	d.chooseBlocks()
	d.runCommand("Hand plan: two-hand block")
	d.waitFor("plan=two-hand-block", "dialogs=0")
	d.runCommand("Registration: reeds")
	d.waitFor(`registration="reeds"`, "dialogs=0")
	d.shot("journey-3-arranged")
	d.playAndLoop()
	d.undoAndRedo()

	saved := filepath.Join(d.dir, "journey.organbook")
	d.saveAs("ctrl+s", saved)
	d.waitFor("dirty=false", "dialogs=0", fmt.Sprintf("file=%q", saved))
	d.keys("ctrl+q")
	d.waitForEnd()
	chart := d.load(saved)
	checkJourney(t, chart)

	d.traceAnew()
	d.launch(program, saved)
	d.waitFor(append(finishedChart, "dirty=false", "undo=false")...)
	again := filepath.Join(d.dir, "again.organbook")
	d.saveAs("ctrl+shift+s", again)
	d.keys("ctrl+q")
	d.waitForEnd()
	if got := d.load(again); !got.Equal(chart) {
		t.Errorf("the reopened chart differs:\n%+v\n%+v", got, chart)
	}
}

// The window's states at both ends of the journey.
var (
	emptyChart    = []string{"notes=0", "changes=0", "blocks=0", "pins=0", "plan=shout", `registration="muted brass"`, "undo=false"}
	finishedChart = []string{"notes=8", "changes=4", "blocks=8", "pins=2", "plan=two-hand-block", `registration="reeds"`}
)

// enterTune types two half notes a bar and a change for each.
func (d *desk) enterTune() {
	d.keys("2")
	for i, letter := range strings.Split("g a b c d c a g", " ") {
		d.press(letter, fmt.Sprintf("notes=%d", i+1))
	}
	d.press("Home", "at=1.1")
	d.press("Return", "focus=*ui.chordEntry")
	for i, symbol := range []string{"G6", "Am7", "D7", "G6"} {
		d.text(symbol)
		d.press("Tab", fmt.Sprintf("changes=%d", i+1))
	}
	d.press("Escape", "focus=*ui.gridView")
}

// chooseBlocks walks the alternatives of two notes and pins them.
func (d *desk) chooseBlocks() {
	d.press("Home", "at=1.1")
	d.press("ctrl+3", "focus=*ui.benchView")
	d.keys("Down")
	d.press("Return", "pins=1")
	d.keys("Right", "Right", "Down", "Down")
	d.press("Return", "pins=2")
	d.press("ctrl+2", "focus=*ui.gridView")
}

// playAndLoop hears the tune from its start on, sees the position go on into the
// second bar, and then loops the first, from whose end it comes back to its start.
func (d *desk) playAndLoop() {
	d.t.Helper()
	stop := d.record()
	d.press("Home", "at=1.1")
	d.press("p", "playing=true")
	d.waitFor("shown=2.1")
	d.press("p", "playing=false")
	if firstSound(stop()) < 0 {
		d.t.Error("nothing was heard")
	}
	d.press("Home", "at=1.1")
	d.keys("shift+Right")
	d.press("l", "loop=true")
	d.press("p", "playing=true")
	for range 2 {
		d.waitFor("shown=1.4")
		d.waitFor("shown=1.1", "playing=true")
	}
	d.press("p", "playing=false")
	d.press("l", "loop=false")
}

// undoAndRedo goes back to the empty chart and forward to the finished one.
func (d *desk) undoAndRedo() {
	d.repeat("ctrl+z", "undo=false")
	d.waitFor(append(emptyChart, "redo=true")...)
	d.shot("journey-4-undone")
	d.repeat("ctrl+shift+z", "redo=false")
	d.waitFor(finishedChart...)
}

// checkJourney compares the saved chart with what was typed and chosen.
func checkJourney(t *testing.T, c *project.Chart) {
	t.Helper()
	p := c.Passages[0]
	if len(c.Melody) != 8 || len(c.Changes) != 4 || len(c.Pins) != 2 || p.Plan != project.TwoHandBlock || p.Registration.Name != "reeds" {
		t.Fatalf("%d notes, %d changes, %d pins, %v, %q", len(c.Melody), len(c.Changes), len(c.Pins), p.Plan, p.Registration.Name)
	}
	for i, want := range []string{"G", "A", "B", "C", "D", "C", "A", "G"} {
		if n := c.Melody[i]; n.Pitch.Name() != theory.MustParseName(want) || n.Start != project.Ticks(i)*project.Whole/2 || n.Duration != project.Whole/2 {
			t.Errorf("note %d is %v, want a half note %s", i+1, n, want)
		}
	}
	for i, want := range []string{"G6", "Am7", "D7", "G6"} {
		if ch := c.Changes[i]; ch.Chord.String() != want || c.BarAt(ch.Start) != i {
			t.Errorf("change %d is %v in bar %d", i+1, ch.Chord, c.BarAt(ch.Start)+1)
		}
	}
	free := *c
	free.Pins = nil
	chosen, usual := arrange.Realise(c, arrange.Options{}), arrange.Realise(&free, arrange.Options{})
	for i, n := range []int{0, 2} {
		if c.Pins[i].Start != c.Melody[n].Start || !chosen.Steps[n].Pinned || slices.Equal(chosen.Steps[n].Voices, usual.Steps[n].Voices) {
			t.Errorf("note %d has %v, which is not another block than %v", n+1, chosen.Steps[n].Voices, usual.Steps[n].Voices)
		}
	}
}

// press presses a key and waits until the window's state has all the words.
func (d *desk) press(key string, words ...string) {
	d.t.Helper()
	d.must("xdotool", "key", "--clearmodifiers", key)
	d.waitFor(words...)
}

// waitFor waits until the window's state has all the words.
func (d *desk) waitFor(words ...string) {
	d.t.Helper()
	d.eventually(fmt.Sprintf("the window shows %v; it shows %v", words, d.traced("state")), func() bool { return d.traceSays(words...) })
}

// repeat presses a key until the window's state has a word.
func (d *desk) repeat(key, word string) {
	d.t.Helper()
	for range 60 {
		if d.traceSays(word) {
			return
		}
		before := len(d.traced("state"))
		d.must("xdotool", "key", "--clearmodifiers", key)
		d.eventually(key+" does something", func() bool { return len(d.traced("state")) > before })
	}
	d.t.Fatalf("%s never leads to %s", key, word)
}

// runCommand finds a command in the list of all by its title and does it.
func (d *desk) runCommand(title string) {
	d.t.Helper()
	d.press("F2", "dialogs=1")
	d.text(title)
	d.must("xdotool", "key", "Return")
}
