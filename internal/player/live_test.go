package player

import (
	"slices"
	"sync"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/synth"
)

func TestPlayingLive(t *testing.T) {
	p, take := pulled(t)
	p.SetRegistration(&flute)
	p.LiveKey(arrange.Upper, 60, true)
	p.LiveKey(arrange.Upper, 60, true) // a keyboard that repeats itself
	p.LiveKey(arrange.Lower, 72, true)
	p.LiveKey(arrange.Upper, 300, true)
	take(second / 10)
	expect(t, "two keys", take(second/2), 60, 72)
	p.LiveKey(arrange.Upper, 60, false)
	take(second / 10)
	expect(t, "one key", take(second/2), 72)
	p.KeyDown(arrange.Upper, 64)
	p.LiveRelease()
	take(second / 10)
	expect(t, "the drawn key stays", take(second/2), 64)
	p.LiveKey(arrange.Upper, 68, true)
	take(second / 10)
	p.Panic()
	take(second / 10)
	expect(t, "panic", take(second/2))
	p.LiveKey(arrange.Upper, 68, true)
	take(second / 10)
	expect(t, "pressed again after it", take(second/2), 68)
}

func TestDrawbarsLive(t *testing.T) {
	p, take := pulled(t)
	p.SetRegistration(&flute)
	p.LiveKey(arrange.Upper, 60, true)
	p.LiveDrawbar(arrange.Upper, 3, 8) // 4′: an octave higher
	p.LiveDrawbar(arrange.Pedal, 5, 8) // the pedal has two
	take(second / 10)
	expect(t, "8′ and 4′", take(second/2), 60, 72)
	p.LiveDrawbar(arrange.Upper, 2, 0)
	take(second / 10)
	expect(t, "4′ alone", take(second/2), 72)
	p.LiveSwell(0)
	take(second / 2)
	quiet := strength(take(second/2), 72)
	p.LiveSwell(1)
	take(second / 2)
	if loud := strength(take(second/2), 72); loud < 4*quiet {
		t.Errorf("the swell opens from %.4f to %.4f only", quiet, loud)
	}
}

// TestNoLiveKeyHangsWhenTheRingOverflows floods the ring from several threads
// while nothing is rendered; what could not be delivered must not leave a key
// sounding.
func TestNoLiveKeyHangsWhenTheRingOverflows(t *testing.T) {
	p, take := pulled(t)
	p.SetRegistration(&flute)
	take(second / 10)
	var all sync.WaitGroup
	for d := range arrange.Division(synth.Divisions) {
		all.Go(func() {
			for i := range liveRoom {
				p.LiveKey(d, 48+i%36, true)
			}
			for i := range 36 {
				p.LiveKey(d, 48+i, false)
			}
		})
	}
	all.Wait()
	take(second / 5)
	expect(t, "after a flood", take(second/2))
}

func TestLiveAllocatesNothing(t *testing.T) {
	p, take := pulled(t)
	take(1000)
	block := make([]float32, 512)
	n := testing.AllocsPerRun(50, func() {
		p.LiveKey(arrange.Upper, 60, true)
		p.LiveDrawbar(arrange.Lower, 1, 3)
		p.LiveSwell(0.4)
		p.LiveRotary(project.RotaryFast)
		p.source.fill(block)
		p.LiveRelease()
		p.source.fill(block)
	})
	if n != 0 {
		t.Errorf("%v allocations a block", n)
	}
}

// outsideOf takes what happened outside, in words.
func outsideOf(p *Player) (down, up map[int]int, all int) {
	down, up = map[int]int{}, map[int]int{}
	var list [64]Outside
	for n := p.TakeOutside(list[:]); n > 0; n = p.TakeOutside(list[:]) {
		for _, o := range list[:n] {
			switch o.Kind {
			case OutsideDown:
				down[o.Key]++
			case OutsideUp:
				up[o.Key]++
			case OutsideRelease:
				all++
			}
		}
	}
	return down, up, all
}

func TestADivisionSoundsOutside(t *testing.T) {
	p, take := pulled(t)
	p.SetPlaces([3]Place{Away, Both, Here})
	p.SetRegistration(&flute)
	take(second / 10)
	outsideOf(p)
	p.Load(performed(t, played(0, 2*q, arrange.Upper, arrange.LayerLead, 60), played(0, 2*q, arrange.Lower, arrange.LayerComp, 64),
		played(0, 2*q, arrange.Pedal, arrange.LayerBass, 84)))
	p.Play(0)
	take(second / 10)
	expect(t, "the upper manual sounds elsewhere", take(second/2), 64, 84)
	if down, _, _ := outsideOf(p); down[60] != 1 || down[64] != 1 || down[84] != 0 {
		t.Errorf("pressed outside: %v", down)
	}
	p.LiveKey(arrange.Upper, 68, true)
	take(second / 10)
	if down, _, _ := outsideOf(p); down[68] != 0 {
		t.Error("what is played live goes out by a shorter way")
	}
	take(second)
	if _, up, _ := outsideOf(p); up[60] != 1 || up[64] != 1 {
		t.Errorf("released outside: %v", up)
	}
	p.SetPlaces([3]Place{Here, Here, Here})
	take(second / 10)
	if _, _, all := outsideOf(p); all != 2 {
		t.Errorf("%d divisions let go when they come back, want 2", all)
	}
	p.LiveKey(arrange.Upper, 76, true)
	take(second / 10)
	expect(t, "the upper manual is back", take(second/2), 76)
}

// TestTheScoresRegistrationGoesOutside when it is played from the start, and from
// the middle, before the keys.
func TestTheScoresRegistrationGoesOutside(t *testing.T) {
	p, take := pulled(t)
	p.SetPlaces([3]Place{Away, Here, Here})
	take(second / 10)
	outsideOf(p)
	p.Load(performed(t, played(0, 4*q, arrange.Upper, arrange.LayerLead, 60)))
	for _, from := range []float64{0, 1} {
		p.Play(from)
		take(second / 10)
		var list [64]Outside
		n := p.TakeOutside(list[:])
		var told []OutsideKind
		for _, o := range list[:n] {
			if o.Kind == OutsideStops && (o.Registration == nil || o.Division != arrange.Upper) {
				t.Errorf("from %v: %+v", from, o)
			}
			if o.Kind == OutsideStops || o.Kind == OutsideDown {
				told = append(told, o.Kind)
			}
		}
		if !slices.Equal(told, []OutsideKind{OutsideStops, OutsideDown}) {
			t.Errorf("from %v it tells %v", from, told)
		}
		p.Stop()
		take(second / 10)
		outsideOf(p)
	}
}

// TestWhatOverflowsOutsideIsReleased: when nobody takes what happens outside until
// there is no more room, a key's release may be among what is lost. Once it is
// taken again, all is released.
func TestWhatOverflowsOutsideIsReleased(t *testing.T) {
	p, take := pulled(t)
	p.SetPlaces([3]Place{Away, Here, Here})
	take(second / 10)
	outsideOf(p)
	for range outsideRoom {
		p.KeyDown(arrange.Upper, 60)
		p.KeyUp(arrange.Upper, 60)
		take(64)
	}
	if down, up, all := outsideOf(p); down[60]+up[60] != outsideRoom || all != 0 {
		t.Fatalf("taken: %d pressed, %d released, %d times all; want %d in all", down[60], up[60], all, outsideRoom)
	}
	take(second / 10)
	if _, _, all := outsideOf(p); all != 3 {
		t.Errorf("%d divisions released after the loss, want 3", all)
	}
	take(second / 10)
	if _, _, all := outsideOf(p); all != 0 {
		t.Errorf("and then %d more", all)
	}
}

// TestOutsideWaitsForTheEar holds what happens outside back for as long as the
// device holds the sound.
func TestOutsideWaitsForTheEar(t *testing.T) {
	p, take := pulled(t)
	p.SetPlaces([3]Place{Both, Here, Here})
	take(second)
	outsideOf(p)
	p.device.(*fakeDevice).lag.Store(second / 4)
	p.KeyDown(arrange.Upper, 60)
	take(1000)
	if down, _, _ := outsideOf(p); len(down) != 0 {
		t.Fatal("sent before it is heard")
	}
	p.device.(*fakeDevice).lag.Store(0)
	take(second / 4)
	p.mu.Lock()
	p.smooth = smoother{}
	p.mu.Unlock()
	if down, _, _ := outsideOf(p); down[60] != 1 {
		t.Errorf("not sent once it is heard: %v", down)
	}
}
