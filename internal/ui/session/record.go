package session

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
)

// record is a recording that runs: the performance it is played to, where that
// starts and ends on the page, and what was played so far.
type record struct {
	performance *perform.Performance
	from, to    project.Ticks
	strokes     map[arrange.Division][]perform.Stroke
	open        map[PlayedKey]int // index of the stroke of a key that is held
	reached     project.Ticks
}

// recordedOver are the layers that are silent while a melody is recorded in
// their place.
var recordedOver = []arrange.Layer{arrange.LayerLead, arrange.LayerBlock, arrange.LayerDouble}

// Recording reports whether what is played is recorded.
func (s *Session) Recording() bool { return s.record != nil }

// Grid returns what a recording is rounded to.
func (s *Session) Grid() perform.Grid { return s.grid }

// SetGrid chooses what a recording is rounded to; note values other than those
// that can be played are refused. As long as a recording is the last thing that
// was done, it is written anew from what was played.
func (s *Session) SetGrid(g perform.Grid) error {
	if _, known := gridNames[g.Value]; !known || g.Triplets > perform.AllTriplets {
		return s.fail(fmt.Errorf("a recording cannot be rounded to 1/%d", g.Value))
	}
	s.grid = g
	s.notify(EntryChanged)
	s.Say("Recordings are rounded to " + GridName(g) + ".")
	s.writeAgain()
	return nil
}

// writeAgain writes the last recording in the grid that is chosen now, in the
// place of what it wrote before.
func (s *Session) writeAgain() {
	last := s.recording
	if last.record == nil || last.chart != s.Chart() {
		return
	}
	s.Undo()
	s.write(last.record, last.seconds)
}

// recording is the last recording: what was played, when it ended, and the chart
// it made.
type recording struct {
	record  *record
	seconds float64
	chart   *project.Chart
}

// GridValues are the shortest notes a recording can be rounded to.
var GridValues = []int{4, 8, 16, 32}

var gridNames = map[int]string{4: "quarters", 8: "eighths", 16: "sixteenths", 32: "thirty-seconds"}

// GridValueName names a shortest note: "eighths".
func GridValueName(value int) string { return gridNames[value] }

// TripletNames name the choices of triplets.
var TripletNames = [...]string{"without triplets", "with triplets where they fit", "in triplets only"}

// GridName tells a grid in words: "eighths with triplets where they fit".
func GridName(g perform.Grid) string { return gridNames[g.Value] + " " + TripletNames[g.Triplets] }

// Adds reports whether recordings leave the notes that they do not touch;
// otherwise a recording takes the place of all notes from its first bar to its
// last note.
func (s *Session) Adds() bool { return s.adds }

// SetAdds chooses whether recordings add to what is there. As long as a
// recording is the last thing that was done, it is written anew.
func (s *Session) SetAdds(on bool) {
	s.adds = on
	s.notify(EntryChanged)
	if on {
		s.Say("A recording leaves the notes that it does not touch.")
	} else {
		s.Say("A recording replaces the melody of its bars.")
	}
	s.writeAgain()
}

// Prefer takes up what was chosen in an earlier run: whether recordings add, and
// the loudness of the metronome in decibels. It says nothing.
func (s *Session) Prefer(adds bool, click float64) {
	s.adds = adds
	s.SetClickLevel(click)
}

// ToggleRecord records from the caret's bar after a count-in, or ends the
// recording and writes what was played. In a loop its bars are recorded. The
// bars are played once each, in the order of the page: what is recorded is
// written where it was played, so repeats, endings and jumps are not taken. The
// count-in is the transport's, but one bar at least: hands that were at the mouse
// need it.
func (s *Session) ToggleRecord() error {
	if s.record != nil {
		s.Stop()
		return nil
	}
	s.Stop()
	from, to, loop := s.Loop()
	if !loop {
		from, to = s.barAt(s.sel.Caret), len(s.Chart().Bars)
	}
	if s.sel.Caret >= s.Chart().Length() && !loop {
		return s.fail(errors.New("there is no bar to record into: add bars first, or go back"))
	}
	return s.recordBars(from, to)
}

func (s *Session) recordBars(from, to int) error {
	mute := s.transport.mute
	for _, l := range recordedOver {
		mute = mute.With(l, true)
	}
	p, err := perform.Perform(s.Sounding(), perform.Options{FromBar: from, ToBar: to, TempoScale: s.transport.scale, Mute: mute})
	if err != nil {
		return s.fail(err)
	}
	countIn := max(s.transport.countIn, 1)
	if err := s.sound.Play(Playback{Performance: p, CountIn: countIn, Click: true}); err != nil {
		return s.fail(err)
	}
	c := s.Chart()
	start := c.BarStart(from)
	s.record = &record{performance: p, from: start, to: c.BarStart(to-1) + c.Bars[to-1].Length, reached: start,
		strokes: map[arrange.Division][]perform.Stroke{}, open: map[PlayedKey]int{}}
	s.transport.playing, s.transport.performance, s.transport.resume = true, p, start
	s.beginCount(0, countIn)
	s.notify(TransportChanged)
	s.Say(fmt.Sprintf("Recording from bar %d in %s: play after the count-in.", c.BarNumber(from), GridName(s.grid)))
	return nil
}

// DiscardRecording ends a recording that runs and writes nothing.
func (s *Session) DiscardRecording() {
	if s.record != nil {
		s.record = nil
		s.Stop()
		s.Say("The recording was given up; nothing has changed.")
	}
}

// finishRecording ends a recording that runs: what was played is written
// before anything else is changed.
func (s *Session) finishRecording() {
	if s.record != nil {
		s.Stop()
	}
}

// key takes down a key at a second of the performance.
func (r *record) key(k PlayedKey, down bool, seconds float64) {
	list := r.strokes[k.Division]
	if down {
		r.open[k] = len(list)
		r.strokes[k.Division] = append(list, perform.Stroke{Key: k.Key, Down: seconds, Up: math.Inf(1)})
		return
	}
	if i, held := r.open[k]; held {
		list[i].Up = max(seconds, list[i].Down)
		delete(r.open, k)
	}
}

// melody returns what was played of the melody: on the upper manual, or, when
// nothing was, on the lower.
func (r *record) melody(end float64) []perform.Stroke {
	list := r.strokes[arrange.Upper]
	if len(list) == 0 {
		list = r.strokes[arrange.Lower]
	}
	return upTo(slices.Clone(list), end)
}

// Recorded returns what was played so far as the recording would write it, for
// the eye; nil when nothing is recorded.
func (s *Session) Recorded() []project.Note {
	if s.record == nil {
		return nil
	}
	now, _ := s.sound.Position()
	return s.record.performance.Transcribe(s.record.melody(now), s.grid)
}

// upTo lets every stroke end at a second at the latest.
func upTo(list []perform.Stroke, end float64) []perform.Stroke {
	for i := range list {
		list[i].Up = min(list[i].Up, max(end, list[i].Down))
	}
	return list
}

// endRecording writes what was played up to a second of the performance, as
// one edit.
func (s *Session) endRecording(seconds float64) {
	r := s.record
	if r == nil {
		return
	}
	s.record = nil
	s.write(r, seconds)
}

// write writes what was played up to a second of the performance.
func (s *Session) write(r *record, seconds float64) {
	notes := r.performance.Transcribe(r.melody(seconds), s.grid)
	if len(notes) == 0 {
		s.Say("Nothing was played, and nothing has changed.")
		return
	}
	// Nobody stops on the beat: what is replaced ends with the last note, unless
	// the recording ran to its end.
	to := r.to
	if r.reached < r.to {
		to = min(notes[len(notes)-1].End(), r.to)
	}
	sel := Selection{Caret: notes[0].Start, Anchor: notes[0].Start}
	for _, n := range notes {
		sel.Notes = append(sel.Notes, n.Start)
	}
	if s.doThen(project.Record{From: r.from, To: to, Notes: notes, Add: s.adds}, func() { s.sel = sel }) == nil {
		s.recording = recording{r, seconds, s.Chart()}
		s.Say(fmt.Sprintf("%d notes recorded in %s.", len(notes), GridName(s.grid)))
	}
}
