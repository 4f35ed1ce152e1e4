package midi_test

import (
	"slices"
	"sync"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/player/midi"
	"organbook/internal/player/midi/miditest"
)

// A key that stays down on an organ outside cannot be let go of from here any
// more: each test is one way in which that could happen.

// organist opens a hub with a keyboard that plays the upper manual, which sounds
// on the first channel of an organ.
func organist(t *testing.T) (*miditest.Desk, *midi.Hub, *recorder) {
	t.Helper()
	d := &miditest.Desk{}
	d.Plug("keys", "organ")
	h, r := at(t, d, midi.DefaultSetup().WithOutlet(arrange.Upper, midi.Outlet{Port: "organ", Channel: 1}))
	until(t, "the keys open", open(h, "keys"))
	until(t, "the organ opens", open(h, "organ"))
	return d, h, r
}

func down(d *miditest.Desk, n int) func() bool {
	return func() bool { return len(sentKeys(d.Sent("organ"))) == n }
}

// TestAnOrganPulledOutUnderAKey gets the release when it is plugged in again, and
// keys that are pressed by then keep sounding.
func TestAnOrganPulledOutUnderAKey(t *testing.T) {
	d, h, _ := organist(t)
	d.Play("keys", 0x90, 60, 90)
	d.Play("keys", 0x90, 62, 90)
	until(t, "the keys go out", down(d, 2))
	d.Unplug("organ")
	h.Look()
	until(t, "the organ is gone", func() bool { return !open(h, "organ")() })
	d.Play("keys", 0x80, 60, 0)
	d.Plug("", "organ")
	h.Look()
	until(t, "the organ is back", open(h, "organ"))
	until(t, "and silent", down(d, 0))
	d.Play("keys", 0x90, 64, 90)
	until(t, "it can be played", down(d, 1))
	h.Look()
	d.Play("keys", 0x80, 64, 0)
	until(t, "and is silent again", down(d, 0))
}

// TestAnOrganThatComesAndGoesUnnoticed loses the release of a key in between.
func TestAnOrganThatComesAndGoesUnnoticed(t *testing.T) {
	d, _, _ := organist(t)
	d.Play("keys", 0x90, 60, 90)
	until(t, "the key goes out", down(d, 1))
	d.Unplug("organ")
	d.Play("keys", 0x80, 60, 0)
	time.Sleep(time.Millisecond)
	d.Plug("", "organ")
	until(t, "the key is let go", down(d, 0))
}

// TestClosingLetsGoFirst: the program may end as soon as Close returns, and what
// has not been sent by then never is.
func TestClosingLetsGoFirst(t *testing.T) {
	d, h, _ := organist(t)
	for key := range byte(4) {
		d.Play("keys", 0x90, 60+key, 90)
	}
	until(t, "the keys go out", down(d, 4))
	d.Slow(time.Millisecond)
	h.Close()
	if left := sentKeys(d.Sent("organ")); len(left) > 0 {
		t.Errorf("down on the organ after Close: %v", left)
	}
}

// meddler is an instrument on which something happens between the moment in
// which a key is pressed and the one in which it is sent on.
type meddler struct {
	*recorder
	once sync.Once
	then func()
}

func (m *meddler) LiveKey(d arrange.Division, key int, down bool) {
	m.recorder.LiveKey(d, key, down)
	if m.then != nil {
		m.once.Do(m.then)
	}
}

func (m *meddler) TakeOutside(into []player.Outside) int {
	n := m.recorder.TakeOutside(into)
	if n > 0 && m.then != nil {
		m.once.Do(m.then)
	}
	return n
}

// TestAnotherChannelWhileAKeyGoesOut, chosen in the moment after the key has been
// looked up: the old channel was released before the key came.
func TestAnotherChannelWhileAKeyGoesOut(t *testing.T) {
	for name, press := range map[string]func(*miditest.Desk, *recorder){
		"keyboard": func(d *miditest.Desk, _ *recorder) { d.Play("keys", 0x90, 60, 90) },
		"score": func(_ *miditest.Desk, r *recorder) {
			r.play(player.Outside{Kind: player.OutsideDown, Division: arrange.Upper, Key: 60})
		},
	} {
		t.Run(name, func(t *testing.T) {
			d := &miditest.Desk{}
			d.Plug("keys", "organ")
			m := &meddler{recorder: &recorder{}}
			setup := midi.DefaultSetup().WithOutlet(arrange.Upper, midi.Outlet{Port: "organ", Channel: 1})
			h := midi.New(d, m, setup)
			defer h.Close()
			until(t, "the keys open", open(h, "keys"))
			until(t, "the organ opens", open(h, "organ"))
			released := func() bool {
				return slices.ContainsFunc(d.Sent("organ"), func(b []byte) bool { return b[0] == 0xB0 && b[1] == 123 })
			}
			m.then = func() {
				h.SetSetup(setup.WithOutlet(arrange.Upper, midi.Outlet{Port: "organ", Channel: 2}))
				until(t, "the old channel is released", released)
			}
			press(d, m.recorder)
			until(t, "the key goes out", func() bool {
				return slices.ContainsFunc(d.Sent("organ"), func(b []byte) bool { return b[0] == 0x90 })
			})
			until(t, "and is let go of", down(d, 0))
		})
	}
}
