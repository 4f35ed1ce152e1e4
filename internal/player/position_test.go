package player

import (
	"math"
	"slices"
	"testing"
)

// TestPosition follows the cursor through play, a loop's turn, seek and stop.
func TestPosition(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	at := func(what string, want float64, wantMoving bool) {
		t.Helper()
		p.smooth = smoother{} // the device is pulled faster than the clock
		got, moving := p.Position()
		if math.Abs(got-want) > 0.003 || moving != wantMoving {
			t.Errorf("%s: %.4f moving %v, want %.4f moving %v", what, got, moving, want, wantMoving)
		}
	}
	late := toSeconds(int64(p.transport.engine.Latency()), sampleRate)
	take(1000)
	at("at rest", 0, false)
	p.Play(1)
	take(second)
	at("playing", 2-late, true)
	p.SetLoop(1, 3, true)
	take(second * 5 / 2)
	at("second time round", 2.5-late, true)
	p.Seek(5)
	take(second / 2)
	at("after seek", 5.5-late, true)
	p.Stop()
	take(second)
	at("stopped", 5.5, false)
	p.Seek(2)
	take(second / 10)
	at("moved by hand", 2, false)
}

// TestPositionIsWhatIsHeard has a device with a long buffer: the position
// lags behind what is rendered, over the turn of a loop and a stop as well.
func TestPositionIsWhatIsHeard(t *testing.T) {
	p, take := pulled(t)
	p.mu.Lock()
	p.device.(*fakeDevice).lag.Store(second / 2)
	p.mu.Unlock()
	at := func(what string, want float64, wantMoving bool) {
		t.Helper()
		p.mu.Lock()
		p.smooth = smoother{} // the device is pulled faster than the clock
		p.mu.Unlock()
		got, moving := p.Position()
		if math.Abs(got-want) > 0.003 || moving != wantMoving {
			t.Errorf("%s: %.4f moving %v, want %.4f moving %v", what, got, moving, want, wantMoving)
		}
	}
	late := toSeconds(int64(p.transport.engine.Latency()), sampleRate)
	p.Load(melody(t))
	p.SetLoop(1, 3, true)
	take(second)
	p.Play(1)
	take(second / 4)
	at("not heard yet", 0, false)
	take(second / 2)
	at("heard", 1.25-late, true)
	take(second * 3 / 2)
	at("rendered beyond the turn", 2.75-late, true)
	take(second / 2)
	at("heard beyond the turn", 1.25-late, true)
	p.Stop()
	take(second / 4)
	at("stop not heard yet", 1.5-late, true)
	take(second)
	at("stop heard", 1.75, false)
}

func TestCountInAndMetronome(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	p.SetCountIn(1)
	p.Play(2)
	count := take(2 * second)
	expect(t, "count-in", count)
	if at, moving := p.Position(); at > 2 || !moving {
		t.Errorf("after the count-in at %.3f, moving %v", at, moving)
	}
	if got := clicksIn(count); !slices.Equal(got, []int{0, 500, 1000, 1500}) {
		t.Errorf("count-in clicks at %v ms", got)
	}
	take(second / 4)
	expect(t, "after the count-in", take(second), 64, 48)
	p.Stop()
	p.SetCountIn(0)
	p.Load(performed(t))
	p.SetMetronome(true)
	take(second)
	p.Play(0)
	if got := clicksIn(take(2 * second)); !slices.Equal(got, []int{0, 500, 1000, 1500}) {
		t.Errorf("metronome clicks at %v ms", got)
	}
}

// TestLevelOfTheMetronome halves it and takes it away.
func TestLevelOfTheMetronome(t *testing.T) {
	p, take := pulled(t)
	p.Load(performed(t))
	p.SetMetronome(true)
	loudest := func(level float64) (peak float32) {
		p.SetMetronomeLevel(level)
		p.Play(0)
		for _, v := range take(second / 2) {
			peak = max(peak, v, -v)
		}
		p.Stop()
		return peak
	}
	usual := loudest(1)
	if half := loudest(0.5); usual == 0 || math.Abs(float64(half/usual)-0.5) > 0.01 {
		t.Errorf("half is %.3f of the usual", half/usual)
	}
	if none := loudest(0); none > 1e-4 {
		t.Errorf("silenced it still peaks at %v", none)
	}
}

// clicksIn returns the milliseconds at which an otherwise silent signal
// starts to sound, to the nearest five.
func clicksIn(stereo []float32) (at []int) {
	quiet := second
	for i := 0; i < len(stereo); i += 2 {
		if math.Abs(float64(stereo[i])) < 0.01 {
			quiet++
			continue
		}
		if quiet > second/10 {
			at = append(at, int(math.Round(float64(i/2)/sampleRate*100))*10)
		}
		quiet = 0
	}
	return at
}
