package session

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// fresh is a session on an empty chart in a key.
func fresh(t *testing.T, key string) (*Session, *ear) {
	t.Helper()
	e := &ear{}
	s := New(project.New(), e)
	now := time.Now()
	s.SetClock(func() time.Time { return now }) // a busy machine must not be heard in a recording
	if err := s.SetKey(theory.MustParseKey(key)); err != nil {
		t.Fatal(err)
	}
	return s, e
}

// write types letters, with "#", "-", "_" and " " as on the keyboard.
func write(t *testing.T, s *Session, keys string) {
	t.Helper()
	for _, r := range keys {
		var err error
		switch r {
		case ' ':
			s.Rest()
		case '#':
			err = s.Alter(1)
		case '-':
			err = s.Alter(-1)
		case '_':
			err = s.HoldOn()
		case '.':
			err = s.ToggleDot()
		case 't':
			err = s.ToggleTriplet()
		case '1', '2', '4', '8':
			err = s.SetValue(int(r - '0'))
		case '6':
			err = s.SetValue(16)
		default:
			err = s.PlaceLetter(theory.Letter((r - 'c' + 7) % 7))
		}
		if err != nil {
			t.Fatalf("key %q of %q: %v", r, keys, err)
		}
	}
}

// tune is the melody as "9.3 B♭4 1/4" lines, lengths in quarters.
func tune(s *Session) string {
	var lines []string
	for _, n := range s.Chart().Melody {
		lines = append(lines, s.Chart().PositionText(n.Start)+" "+n.Pitch.String()+" "+quarters(n.Duration))
	}
	return strings.Join(lines, ", ")
}

func quarters(t project.Ticks) string {
	switch t {
	case project.Whole:
		return "4"
	case project.Whole / 2:
		return "2"
	case project.Quarter * 3 / 2:
		return "1.5"
	case project.Quarter:
		return "1"
	case project.Quarter / 2:
		return "0.5"
	case project.Quarter / 3:
		return "1/3"
	case project.Quarter * 2 / 3:
		return "2/3"
	}
	return "?"
}

func TestKeyboardEntryOfAFourBarTune(t *testing.T) {
	s, _ := fresh(t, "G minor")
	write(t, s, "4gab8cd 4d.e8d 4c2b 4f#_")
	want := "1.1 G4 1, 1.2 A4 1, 1.3 Bb4 1, 1.4 C5 0.5, 1.4½ D5 0.5, " +
		"2.1½ D5 1, 2.2½ Eb5 1.5, 2.4 D5 0.5, 3.1 C5 1, 3.2 Bb4 2, 4.2 F#4 2"
	if got := tune(s); got != want {
		t.Errorf("tune\n got %s\nwant %s", got, want)
	}
	for s.CanUndo() {
		s.Undo()
		if err := s.Chart().Check(); err != nil {
			t.Fatal(err)
		}
	}
	if !s.Chart().Equal(project.New()) {
		t.Error("undoing everything does not give the first chart back")
	}
	for s.CanRedo() {
		s.Redo()
	}
	if got := tune(s); got != want {
		t.Errorf("after redo\n got %s\nwant %s", got, want)
	}
}

func TestTripletsAndRetypingLengths(t *testing.T) {
	s, _ := fresh(t, "C major")
	write(t, s, "8tgfe")
	if got, want := tune(s), "1.1 G4 1/3, 1.1⅓ F4 1/3, 1.1⅔ E4 1/3"; got != want {
		t.Errorf("triplet: got %s, want %s", got, want)
	}
	s.SelectNote(2, false)
	write(t, s, "t4")
	if got := s.Chart().Melody[2].Duration; got != project.Quarter {
		t.Errorf("a digit retypes the selected note: %d ticks", got)
	}
}

func TestLettersFollowTheKeyAndTheNoteBefore(t *testing.T) {
	for _, tc := range []struct{ key, keys, want string }{
		{"C major", "c", "1.1 C5 1"},
		{"C major", "gc", "1.1 G4 1, 1.2 C5 1"},
		{"F major", "ab", "1.1 A4 1, 1.2 Bb4 1"},
		{"D major", "ef", "1.1 E5 1, 1.2 F#5 1"},
		{"Db major", "gc", "1.1 Gb4 1, 1.2 C4 1"},
		{"C# minor", "b", "1.1 B4 1"},
	} {
		s, _ := fresh(t, tc.key)
		write(t, s, tc.keys)
		if got := tune(s); got != tc.want {
			t.Errorf("%s %s: got %s, want %s", tc.key, tc.keys, got, tc.want)
		}
	}
}

func TestTypingBeyondTheEndAddsBars(t *testing.T) {
	s, _ := fresh(t, "C major")
	bars := len(s.Chart().Bars)
	s.MoveToEdge(true, false)
	write(t, s, "1c")
	if got := len(s.Chart().Bars); got != bars+1 {
		t.Fatalf("%d bars, want %d", got, bars+1)
	}
	s.Undo()
	if got := len(s.Chart().Bars); got != bars {
		t.Errorf("one undo takes note and bar back together: %d bars", got)
	}
}

func TestMouseEntryKeepsTheNextNote(t *testing.T) {
	s, e := fresh(t, "C major")
	write(t, s, "2  c") // a half note at bar 2
	s.SetValue(1)
	if err := s.PlaceAt(project.Quarter*2+17, 65); err != nil {
		t.Fatal(err)
	}
	m := s.Chart().Melody
	if len(m) != 2 || m[0].Start != 2*project.Quarter || m[0].Duration != 2*project.Quarter {
		t.Errorf("a click before a note must stop at it: %+v", m)
	}
	if m[0].Pitch.String() != "F4" || len(e.heard) == 0 {
		t.Errorf("placed %s, heard %v", m[0].Pitch, e.heard)
	}
	if sel := s.Selection(); len(sel.Notes) != 1 || sel.Notes[0] != m[0].Start {
		t.Errorf("the placed note is selected: %+v", sel)
	}
}

func TestSpellingFollowsChordThenKey(t *testing.T) {
	s, _ := fresh(t, "F major")
	if err := s.SetChordText(0, "D7b9"); err != nil {
		t.Fatal(err)
	}
	if got := s.SpellAt(0, 66).String(); got != "F#4" {
		t.Errorf("over D7♭9 key 66 is %s", got)
	}
	if got := s.SpellAt(0, 70).String(); got != "Bb4" {
		t.Errorf("outside the chord the key spells: %s", got)
	}
}

func TestChordTyping(t *testing.T) {
	s, _ := fresh(t, "C major")
	for _, tc := range []struct {
		text, message string
		at            int
	}{
		{"Gm6", "", 0}, {"D7b9", "", 0}, {"N.C.", "", 0}, {"H7", "H", 0}, {"D7b9x", "", 4},
	} {
		r := ReadChord(tc.text)
		err := s.SetChordText(0, tc.text)
		if wantError := tc.text == "H7" || tc.text == "D7b9x"; wantError != (err != nil) || wantError != (r.Error != "") {
			t.Errorf("%s: error %v, reading %+v", tc.text, err, r)
		}
		if r.Error != "" && r.At != tc.at {
			t.Errorf("%s: the error is at %d, want %d", tc.text, r.At, tc.at)
		}
	}
	if got := s.ChordText(0); got != "N.C." {
		t.Errorf("a refused symbol leaves the last one: %q", got)
	}
	if err := s.SetChordText(0, "  "); err != nil || s.ChordText(0) != "" {
		t.Errorf("blank takes the symbol away: %v, %q", err, s.ChordText(0))
	}
	if r := ReadChord("Gm6"); !strings.Contains(r.Means, "G B♭ D E") || !strings.Contains(r.Means, "G minor") {
		t.Errorf("meaning %q", r.Means)
	}
}

func TestChordPlaces(t *testing.T) {
	s, _ := fresh(t, "C major")
	s.SetChordText(2*project.Quarter, "F")
	for _, tc := range []struct {
		at             project.Ticks
		byBar, forward bool
		want           project.Ticks
	}{
		{0, true, true, 2 * project.Quarter},
		{2 * project.Quarter, true, true, project.Whole},
		{0, false, true, project.Quarter},
		{project.Whole, true, false, 2 * project.Quarter},
		{project.Whole, false, false, 3 * project.Quarter},
	} {
		if got, ok := s.NextChordPlace(tc.at, tc.byBar, tc.forward); !ok || got != tc.want {
			t.Errorf("from %d byBar %v forward %v: got %d %v, want %d", tc.at, tc.byBar, tc.forward, got, ok, tc.want)
		}
	}
	if _, ok := s.NextChordPlace(0, true, false); ok {
		t.Error("there is nothing before the start")
	}
	if _, ok := s.NextChordPlace(s.Chart().Length()-project.Quarter, true, true); ok {
		t.Error("there is nothing behind the last bar")
	}
}

func TestClipboard(t *testing.T) {
	s, _ := fresh(t, "C major")
	write(t, s, "cdef")
	s.SelectSpan(0, 2*project.Quarter, 0, 127)
	s.Copy()
	s.SetCaret(project.Whole)
	if err := s.Paste(); err != nil {
		t.Fatal(err)
	}
	want := "1.1 C5 1, 1.2 D5 1, 1.3 E5 1, 1.4 F5 1, 2.1 C5 1, 2.2 D5 1"
	if got := tune(s); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if err := s.Duplicate(); err != nil {
		t.Fatal(err)
	}
	if got := tune(s); got != want+", 2.3 C5 1, 2.4 D5 1" {
		t.Errorf("duplicate: %s", got)
	}
	if err := s.Cut(); err != nil || len(s.Chart().Melody) != 6 {
		t.Errorf("cut: %v, %s", err, tune(s))
	}
	s.MoveToEdge(true, false)
	bars := len(s.Chart().Bars)
	if err := s.Paste(); err != nil || len(s.Chart().Bars) != bars+1 {
		t.Errorf("pasting at the end adds a bar: %v", err)
	}
}

func TestMovingNotes(t *testing.T) {
	s, _ := fresh(t, "C major")
	write(t, s, "cd")
	s.SelectNote(0, false)
	s.SelectNote(1, true)
	if err := s.StepPitch(1); err != nil {
		t.Fatal(err)
	}
	if err := s.Nudge(1); err != nil {
		t.Fatal(err)
	}
	if got, want := tune(s), "1.2 D5 1, 1.3 E5 1"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if len(s.Selection().Notes) != 2 {
		t.Errorf("moved notes stay selected: %+v", s.Selection())
	}
	s.Octave(-1)
	s.Semitone(1)
	if got, want := tune(s), "1.2 Eb4 1, 1.3 F4 1"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if err := s.Lengthen(-1); err == nil {
		t.Error("a note cannot lose its whole length")
	}
	s.SelectNote(1, false)
	if err := s.Lengthen(1); err != nil || s.Chart().Melody[1].Duration != 2*project.Quarter {
		t.Errorf("lengthen: %v, %s", err, tune(s))
	}
	if err := s.SplitNotes(); err != nil || len(s.Chart().Melody) != 3 {
		t.Errorf("split: %v, %s", err, tune(s))
	}
	if got := len(s.Selection().Notes); got != 2 {
		t.Errorf("%d notes are selected after a note was split, not both halves", got)
	}
	if err := s.JoinNotes(); err != nil || len(s.Chart().Melody) != 2 {
		t.Errorf("join: %v, %s", err, tune(s))
	}
}

// TestNudgingIsTakenBack nudges notes to and fro among others: as they come back to
// where they were, the melody is what it was, and in between each is there.
func TestNudgingIsTakenBack(t *testing.T) {
	s, _ := fresh(t, "C major")
	write(t, s, "cdefg")
	s.SetValue(8)
	s.SelectNote(2, false)
	before := tune(s)
	if err := s.Nudge(1); err != nil {
		t.Fatal(err)
	}
	if got, want := tune(s), strings.Replace(before, "1.3 E5 1", "1.3½ E5 0.5", 1); got != want {
		t.Errorf("later: %s, want %s", got, want)
	}
	if err := s.Nudge(1); err == nil || s.Message() != "1.4: F5 is in the way; select it, too, to move both." || len(s.Chart().Melody) != 5 {
		t.Errorf("onto the next: %v, %q, %s", err, s.Message(), tune(s))
	}
	for range 2 {
		if err := s.Nudge(-1); err != nil {
			t.Fatal(err)
		}
	}
	s.Undo()
	if got := tune(s); got != before {
		t.Errorf("there and back: %s, was %s", got, before)
	}
	s.SelectNote(3, false)
	if err := s.Nudge(-1); err != nil {
		t.Fatal(err)
	}
	s.SetValue(16) // that resizes, and what is nudged then is another melody
	cut := tune(s)
	s.Nudge(1)
	if s.Nudge(-1); tune(s) != cut {
		t.Errorf("the second run leads to %s, it began at %s", tune(s), cut)
	}
}

// TestNudgesKeepEveryNote nudges whatever is selected in all steps.
func TestNudgesKeepEveryNote(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, _ := fresh(t, "C major")
		write(t, s, rapid.StringMatching("[a-g]{2}[a-g ]{0,12}").Draw(rt, "melody"))
		pitches := func() (list []theory.Pitch) {
			for _, n := range s.Chart().Melody {
				list = append(list, n.Pitch)
			}
			return list
		}
		all := pitches()
		for range rapid.IntRange(1, 20).Draw(rt, "steps") {
			switch rapid.IntRange(0, 5).Draw(rt, "what") {
			case 0:
				s.SelectNote(rapid.IntRange(0, len(all)-1).Draw(rt, "note"), rapid.Bool().Draw(rt, "extend"))
			case 1:
				s.SelectNothing()
				s.SetValue(rapid.SampledFrom([]int{4, 8, 16}).Draw(rt, "value"))
			default:
				s.Nudge(rapid.SampledFrom([]int{-1, 1}).Draw(rt, "by"))
			}
			if got := pitches(); !slices.Equal(got, all) {
				rt.Fatalf("the notes are %v, were %v", got, all)
			}
		}
	})
}

func TestCaretStepsOverNotesAndGaps(t *testing.T) {
	s, _ := fresh(t, "C major")
	write(t, s, "c  d")
	s.SetCaret(0)
	var got []project.Ticks
	for range 6 {
		got = append(got, s.Selection().Caret/project.Quarter)
		s.MoveCaret(true, false)
	}
	for i, want := range []project.Ticks{0, 1, 2, 3, 4, 5} {
		if got[i] != want {
			t.Fatalf("carets at quarters %v", got)
		}
	}
	s.SetCaret(3 * project.Quarter)
	s.MoveCaret(false, true)
	s.MoveCaret(false, true)
	s.MoveCaret(false, true)
	if n := len(s.Selection().Notes); n != 2 {
		t.Errorf("extending backward over the first note selects it beside the one it began at: %d", n)
	}
}

func TestFileLifeCycle(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tune.organbook")
	s, _ := fresh(t, "C major")
	s.KeepJournal(project.NewJournal(filepath.Join(dir, "journal")))
	write(t, s, "cde")
	if !s.Dirty() {
		t.Error("typing leaves unsaved work")
	}
	if r, err := project.RecoverJournal(filepath.Join(dir, "journal")); err != nil || !r.Chart.Equal(s.Chart()) {
		t.Errorf("journal: %v", err)
	}
	if err := s.Save(path); err != nil || s.Dirty() || s.Path() != path {
		t.Fatalf("save: %v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "journal")); err == nil {
		t.Error("saving forgets the journal")
	}
	c, err := project.Load(path)
	if err != nil || !c.Equal(s.Chart()) {
		t.Errorf("reopened chart differs: %v", err)
	}
	if err := s.Save(filepath.Join(dir, "none", "x.organbook")); err == nil || s.Path() != path {
		t.Error("a failed save keeps the old path")
	}
}

func TestListenersHearOfChanges(t *testing.T) {
	s, _ := fresh(t, "C major")
	var got Change
	s.OnChange(func(c Change) { got |= c })
	write(t, s, "c")
	if !got.Has(ChartChanged | SelectionChanged) {
		t.Errorf("heard %b", got)
	}
	got = 0
	s.SelectAll()
	if !got.Has(SelectionChanged) || got.Has(ChartChanged) {
		t.Errorf("heard %b", got)
	}
}

func TestALoopEndsWithTheChart(t *testing.T) {
	s := New(project.New(), nil)
	if err := s.SetLoop(4, 8); err != nil {
		t.Fatal(err)
	}
	s.SelectBars(6, 7)
	if err := s.RemoveBars(); err != nil {
		t.Fatal(err)
	}
	if from, to, on := s.Loop(); !on || from != 4 || to != 6 {
		t.Errorf("after two of its bars are gone the loop is %d to %d, %t", from, to, on)
	}
	s.SelectBars(2, 5)
	if err := s.RemoveBars(); err != nil {
		t.Fatal(err)
	}
	if _, _, on := s.Loop(); on {
		t.Error("a loop of bars that are gone is still on")
	}
	s.Undo()
	s.Undo()
	if from, to, on := s.Loop(); !on || from != 4 || to != 8 {
		t.Errorf("undo brings back %d to %d, %t", from, to, on)
	}
}
