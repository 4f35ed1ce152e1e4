package session

import (
	"fmt"
	"math"
	"math/bits"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
)

// The range of the tempo scale and of the level in decibels.
const (
	minTempoScale, maxTempoScale = 0.4, 1.6
	minLevel, maxLevel           = -48.0, 0.0
	// safeLevel is where the level starts: well below full.
	safeLevel = -9.0
	// The metronome against its usual level, in decibels.
	minClick, maxClick = -24.0, 6.0
)

// transport is how the chart is played.
type transport struct {
	playing     bool
	performance *perform.Performance
	loop        [2]int // bars, end excluded; equal when off
	countIn     int    // bars of clicks before playing
	click       bool
	scale       float64
	level       float64
	clickLevel  float64 // in decibels, 0 the usual
	mute        perform.LayerSet
	beforeAlone perform.LayerSet // what was silent before one layer was heard alone
	compare     *comparison      // two takes in turn, nil when off
	ramp        Ramp
	pass        int           // of the ramp, from 0
	passed      int           // of those, how many the performance has played
	resume      project.Ticks // written position to go on from after an edit
	heard       float64       // what Cursor heard last, in seconds
	count       counting
}

func newTransport() transport { return transport{scale: 1, level: safeLevel, ramp: usualRamp} }

// Playing reports whether the transport runs.
func (s *Session) Playing() bool { return s.transport.playing }

// Loop returns the looped bars, end excluded, and whether a loop is set. Bars
// that an edit took away are not looped; undo brings them and their loop back.
func (s *Session) Loop() (from, to int, on bool) {
	from, to = s.transport.loop[0], min(s.transport.loop[1], len(s.Chart().Bars))
	return from, to, to > from
}

// CountIn is how many bars of clicks go before playing, 0 to MaxCountIn.
func (s *Session) CountIn() int { return s.transport.countIn }

// Click reports whether the metronome clicks while playing.
func (s *Session) Click() bool { return s.transport.click }

// TempoScale is the factor on every tempo, 1 as written.
func (s *Session) TempoScale() float64 { return s.transport.scale }

// Level is the loudness in decibels, 0 the full level.
func (s *Session) Level() float64 { return s.transport.level }

// Muted reports whether a layer is silent.
func (s *Session) Muted(l arrange.Layer) bool { return s.transport.mute.Has(l) }

// Peak returns the greatest amplitude since the last call, 0 to 1.
func (s *Session) Peak() float64 { return s.sound.Level() }

// SoundStatus is "" when sound works, or says why it does not.
func (s *Session) SoundStatus() string { return s.sound.Status() }

// TogglePlay plays from the caret, or stops.
func (s *Session) TogglePlay() error {
	if s.transport.playing {
		s.Stop()
		return nil
	}
	return s.playFrom(s.sel.Caret)
}

// PlayFromStart plays the whole chart.
func (s *Session) PlayFromStart() error { return s.playFrom(0) }

// PlayFromBar plays from a bar's start.
func (s *Session) PlayFromBar(bar int) error { return s.playFrom(s.Chart().BarStart(bar)) }

// Rewind puts the caret at the start; a running transport goes on from there.
func (s *Session) Rewind() {
	s.SetCaret(0)
	if s.transport.playing {
		_ = s.playFrom(0) // an error was already said
	}
}

func (s *Session) playFrom(t project.Ticks) error {
	s.finishRecording()
	s.transport.pass = 0
	return s.play(t, false)
}

func (s *Session) play(t project.Ticks, resume bool) error {
	from, to, loop := s.Loop()
	o := perform.Options{TempoScale: s.transport.scale, Mute: s.transport.mute}
	if loop {
		o.FromBar, o.ToBar = from, to
		o.Passes = s.passes()
	}
	p, err := perform.Perform(s.Sounding(), o)
	if err != nil {
		return s.fail(err)
	}
	start, ok := p.SecondsAt(t)
	if !ok {
		start = 0
	}
	countIn := s.transport.countIn
	if resume {
		countIn = 0
	}
	err = s.sound.Play(Playback{Performance: p, From: start, Loop: loop, LoopFrom: lastPass(p, o), Resume: resume, CountIn: countIn, Click: s.transport.click})
	if err != nil {
		return s.fail(err)
	}
	s.transport.playing, s.transport.performance, s.transport.resume = true, p, t
	s.transport.passed, s.ready = 0, nil
	s.beginCount(start, countIn)
	s.notify(TransportChanged)
	return nil
}

// Stop stops playing. The caret goes to where playing began, which is where it
// still is.
func (s *Session) Stop() {
	if s.transport.playing {
		seconds, _ := s.sound.Position()
		s.sound.Stop()
		s.transport.playing, s.transport.performance = false, nil
		s.endComparison()
		s.endRecording(seconds)
		s.notify(TransportChanged)
	}
}

// Cursor returns the written position that is audible now, in a count-in the one
// that playing begins at. It ends the transport when the sound has ended.
func (s *Session) Cursor() (t project.Ticks, playing bool) {
	if !s.transport.playing {
		return 0, false
	}
	seconds, running := s.sound.Position()
	if !running {
		if s.record != nil {
			s.record.reached = s.record.to
		}
		s.Stop()
		return 0, false
	}
	s.transport.heard = seconds
	if s.transport.count.runs(seconds) {
		s.transport.resume = s.transport.count.at
		return s.transport.resume, true
	}
	t, ok := s.transport.performance.WrittenAt(math.Max(seconds, 0))
	if ok {
		s.transport.resume = t
		if s.record != nil {
			s.record.reached = t
		}
		s.followRamp(seconds)
		s.takeTurns(t)
	}
	return s.transport.resume, true
}

// refreshSound goes on playing after an edit, from where the sound was.
func (s *Session) refreshSound() {
	if s.transport.playing {
		t, ok := s.Cursor()
		if ok {
			_ = s.again(t)
		}
	}
}

// again goes on at t with what was changed while playing.
func (s *Session) again(t project.Ticks) error {
	if s.record != nil {
		return nil // what is recorded to stays as it is
	}
	return s.play(min(t, s.Chart().Length()), true)
}

// transportChanged tells listeners and lets a running transport take the change up.
func (s *Session) transportChanged() error {
	s.notify(TransportChanged)
	if !s.transport.playing {
		return nil
	}
	t, _ := s.Cursor()
	return s.again(t)
}

// ToggleLoop loops the bars of the selection, or ends the loop.
func (s *Session) ToggleLoop() error {
	if _, _, on := s.Loop(); on {
		return s.SetLoop(0, 0)
	}
	return s.SetLoop(s.BarSpan())
}

// LoopPassage loops the current passage.
func (s *Session) LoopPassage() error { return s.SetLoop(s.Chart().PassageBars(s.CurrentPassage())) }

// SetLoop loops bars, end excluded; equal numbers end the loop.
func (s *Session) SetLoop(from, to int) error {
	s.transport.loop = [2]int{max(from, 0), min(to, len(s.Chart().Bars))}
	return s.transportChanged()
}

// MaxCountIn is the longest count-in, in bars.
const MaxCountIn = 2

// ChangeCountIn goes from no count-in to one bar, to two, and to none again.
func (s *Session) ChangeCountIn() { s.SetCountIn((s.transport.countIn + 1) % (MaxCountIn + 1)) }

// SetCountIn chooses how many bars are counted before playing, held to 0 to
// MaxCountIn.
func (s *Session) SetCountIn(bars int) {
	s.transport.countIn = min(max(bars, 0), MaxCountIn)
	s.notify(TransportChanged)
}

// ToggleClick switches the metronome.
func (s *Session) ToggleClick() {
	s.transport.click = !s.transport.click
	s.sound.SetClick(s.transport.click)
	s.notify(TransportChanged)
}

// ChangeTempoScale changes the tempo scale by a part.
func (s *Session) ChangeTempoScale(by float64) error { return s.SetTempoScale(s.transport.scale + by) }

// SetTempoScale sets the factor on every tempo, held to 40 to 160 %.
func (s *Session) SetTempoScale(v float64) error {
	s.transport.scale = min(max(math.Round(v*100)/100, minTempoScale), maxTempoScale)
	return s.transportChanged()
}

// ChangeLevel changes the loudness by decibels.
func (s *Session) ChangeLevel(by float64) { s.SetLevel(s.transport.level + by) }

// SetLevel sets the loudness in decibels.
func (s *Session) SetLevel(db float64) {
	s.transport.level = min(max(db, minLevel), maxLevel)
	s.sound.SetLevel(s.transport.level)
	s.notify(TransportChanged)
}

// ClickLevel is the loudness of the metronome in decibels, 0 the usual one.
func (s *Session) ClickLevel() float64 { return s.transport.clickLevel }

// ChangeClickLevel changes the loudness of the metronome by decibels.
func (s *Session) ChangeClickLevel(by float64) {
	s.SetClickLevel(s.transport.clickLevel + by)
	s.Say(fmt.Sprintf("The click is at %+.0f dB.", s.transport.clickLevel))
}

// SetClickLevel sets the loudness of the metronome in decibels.
func (s *Session) SetClickLevel(db float64) {
	s.transport.clickLevel = min(max(db, minClick), maxClick)
	s.sound.SetClickLevel(s.transport.clickLevel)
	s.notify(TransportChanged)
}

// ToggleMute silences a layer or lets it sound again.
func (s *Session) ToggleMute(l arrange.Layer) error {
	s.transport.mute = s.transport.mute.With(l, !s.transport.mute.Has(l))
	return s.transportChanged()
}

// HearAlone silences every layer but one; the second time those sound again that
// did before.
func (s *Session) HearAlone(l arrange.Layer) error {
	t := &s.transport
	others := perform.LayerSet(math.MaxUint8).With(l, false)
	switch heard := bits.OnesCount8(uint8(^t.mute)); {
	case t.mute == others:
		t.mute = t.beforeAlone
		return s.transportChanged()
	case heard != 1:
		t.beforeAlone = t.mute
	}
	t.mute = others
	return s.transportChanged()
}

// MuteNone lets every layer sound.
func (s *Session) MuteNone() error {
	s.transport.mute = 0
	return s.transportChanged()
}

// Hold presses or releases a key of the drawn keyboards.
func (s *Session) Hold(d arrange.Division, key int, down bool) {
	s.ReadyStops()
	s.sound.Hold(d, key, down)
	if err := s.KeyPlayed(d, key, down, s.Now()); err != nil {
		s.Say(Sentence(err))
	}
}
