package ui

import (
	"math"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// auditionTime is how long a block sounds when it is walked to: long enough to
// judge it, short enough to walk on.
const auditionTime = 900 * time.Millisecond

// heard is the session's ear on a real player.
type heard struct {
	p      *player.Player
	taps   *taps
	struck func()
}

var _ session.Sound = heard{}

// NewSound returns a session's sound on a player. It tells what was struck by hand, a
// key or a block, as soon as the player knows of it.
func NewSound(p *player.Player, struck func()) session.Sound {
	return heard{p, newTaps(), struck}
}

func (h heard) Play(b session.Playback) error {
	if b.Resume && h.p.Playing() {
		h.p.Replace(b.Performance, b.From)
		h.p.SetLoop(b.LoopFrom, b.Performance.Duration, b.Loop)
		return nil
	}
	h.p.Load(b.Performance)
	h.p.SetLoop(b.LoopFrom, b.Performance.Duration, b.Loop)
	h.p.SetMetronome(b.Click)
	h.p.SetCountIn(b.CountIn)
	h.p.Play(b.From)
	return nil
}

func (h heard) Stop() { h.p.Panic() }

func (h heard) Position() (float64, bool) {
	seconds, _ := h.p.Position()
	return seconds, h.p.Playing()
}

func (h heard) Audition(d arrange.Division, keys []int, r project.Registration) error {
	list := make([]player.Key, len(keys))
	for i, k := range keys {
		list[i] = player.Key{Division: d, Key: k}
	}
	h.p.Audition(list, &r, auditionTime)
	h.struck()
	return nil
}

func (h heard) Hold(d arrange.Division, key int, down bool) {
	strike := func(down bool) {
		if down {
			h.p.KeyDown(d, key)
			h.struck()
		} else {
			h.p.KeyUp(d, key)
		}
	}
	if k := (tapped{d, key}); down {
		h.taps.press(k, strike)
	} else {
		h.taps.release(k, strike)
	}
}

func (h heard) Set(r project.Registration) { h.p.SetRegistration(&r) }

func (h heard) SetTone(t project.Tone) { h.p.SetTone(t) }

func (h heard) SetClick(on bool) { h.p.SetMetronome(on) }

func (h heard) SetClickLevel(db float64) { h.p.SetMetronomeLevel(math.Pow(10, db/20)) }

func (h heard) SetLevel(db float64) { h.p.SetMaster(math.Pow(10, db/20)) }

func (h heard) Level() float64 { return h.p.Level() }

func (h heard) Status() string { return h.p.Status().Err }

func (h heard) Close() { h.p.Close() }
