package midi_test

import (
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/player/midi"
	"organbook/internal/player/midi/miditest"
)

// What holds whatever the driver, the player and the user do.

// TestADriverThatHangs holds up nobody: every call returns, and what other
// ports play is heard.
func TestADriverThatHangs(t *testing.T) {
	d := &miditest.Desk{}
	d.Plug("keys", "organ")
	h, r := at(t, d, midi.DefaultSetup().WithOutlet(arrange.Upper, midi.Outlet{Port: "organ", Channel: 1}))
	until(t, "the keys open", open(h, "keys"))
	until(t, "the organ opens", open(h, "organ"))
	free := d.Hang()
	defer free()
	done := make(chan struct{})
	go func() {
		defer close(done)
		for i := range 3000 {
			d.Play("keys", 0x90, byte(i%128), 90)
			d.Play("keys", 0x80, byte(i%128), 0)
		}
		d.Play("keys", 0x90, 60, 90)
		h.SetSetup(h.Setup().WithChannel(4, midi.ToUpper))
		h.State()
		h.Silence()
		h.LearnControl(midi.Swell)
		events(h)
		h.Close()
	}()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		t.Fatal("a driver that hangs holds somebody up")
	}
	equal(t, "the key is heard", r.held(), [][2]int{{upper, 60}})
	free()
	until(t, "and let go once the driver answers", func() bool { return len(r.held()) == 0 })
}

// step is one thing that happens to a hub.
type step struct {
	what, channel, key int
	name               string
	flag               bool
}

// steps draws what happens, of the kinds from one to another.
func steps(rt *rapid.T, label string, from, to int) (list []step) {
	for range rapid.IntRange(0, 30).Draw(rt, label) {
		list = append(list, step{
			rapid.IntRange(from, to).Draw(rt, "what"), rapid.IntRange(0, 3).Draw(rt, "channel"), rapid.IntRange(60, 64).Draw(rt, "key"),
			rapid.SampledFrom(portNames).Draw(rt, "port"), rapid.Bool().Draw(rt, "flag"),
		})
	}
	return list
}

var portNames = []string{"a", "b", "c"}

// The kinds of steps. plugs to rules come from a user, lifts and strikes from a
// keyboard, scores from the player.
const (
	plugs = iota
	outlets
	rules
	lifts
	strikes
	strikesToo
	scores
	scoresToo
)

// do has a step happen; there says which ports are plugged in.
func (s step) do(d *miditest.Desk, h *midi.Hub, r *recorder, there map[string]bool) {
	division := arrange.Division(s.channel % 3)
	switch s.what {
	case plugs:
		if there[s.name] = !there[s.name]; there[s.name] {
			d.Plug(s.name, s.name)
		} else {
			d.Unplug(s.name)
		}
		h.Look()
	case outlets:
		h.SetSetup(h.Setup().WithOutlet(division, midi.Outlet{Port: s.name, Channel: 1 + byte(s.channel), Alone: s.flag}))
	case rules:
		h.SetSetup(h.Setup().WithRule(midi.PortRule{Name: s.name, All: midi.Target(s.channel), Off: s.flag}))
	case lifts:
		d.Play(s.name, 0x80|byte(s.channel), byte(s.key), 0)
	case strikes, strikesToo:
		d.Play(s.name, 0x90|byte(s.channel), byte(s.key), 90)
	case scores, scoresToo:
		o := player.Outside{Kind: player.OutsideUp, Division: division, Key: s.key}
		if s.flag {
			o.Kind = player.OutsideDown
		}
		r.play(o)
	}
}

// TestNothingHangsWhateverHappens has a user plug and choose, keyboards play and
// a score go on, all at the same time. When nothing is held any more in the
// end, no key sounds here and none on an organ that is plugged in.
func TestNothingHangsWhateverHappens(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := &miditest.Desk{}
		h, r := at(t, d, midi.DefaultSetup())
		there := map[string]bool{}
		var all sync.WaitGroup
		for _, list := range [][]step{steps(rt, "choices", plugs, rules), steps(rt, "keys", lifts, strikesToo), steps(rt, "notes", scores, scoresToo)} {
			all.Go(func() {
				for _, s := range list {
					s.do(d, h, r, there)
				}
			})
		}
		all.Wait()
		for _, name := range portNames {
			if there[name] {
				h.SetSetup(h.Setup().WithRule(midi.PortRule{Name: name, Off: true}))
			}
		}
		for division := range arrange.Pedal + 1 {
			r.play(player.Outside{Kind: player.OutsideRelease, Division: division})
		}
		until(rt, "every key is up", func() bool { return len(r.held()) == 0 })
		for _, name := range portNames {
			if there[name] {
				until(rt, "every key outside is up", func() bool { return len(sentKeys(d.Sent(name))) == 0 })
			}
		}
		h.Close()
	})
}
