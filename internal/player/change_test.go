package player

import (
	"math"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/synth"
)

// TestAuditionIsPrompt counts our own share of the delay from the key press:
// the block that is being rendered, the engine's latency, the contacts.
func TestAuditionIsPrompt(t *testing.T) {
	for _, read := range []int{LiveProfile.Read, maxBlock} {
		p, take := pulled(t)
		take(read * 7)
		p.Audition([]Key{{arrange.Upper, 60}, {arrange.Upper, 64}}, &flute, time.Second)
		first, out := 0, take(second/10)
		for first < len(out)/2 && math.Abs(float64(out[2*first])) < 0.002 {
			first++
		}
		ms := 1000 * float64(read+first) / second
		t.Logf("reads of %d frames: sounds after at most %.1f ms of our own", read, ms)
		if ms > 12 {
			t.Errorf("reads of %d frames: %.1f ms, want at most 12", read, ms)
		}
	}
}

// chord is a performance of keys held through four bars.
func chord(t *testing.T, keys ...int) *perform.Performance {
	var notes []arrange.Note
	for _, k := range keys {
		notes = append(notes, played(0, 16*q, arrange.Upper, arrange.LayerBlock, k))
	}
	return performed(t, notes...)
}

// TestTakesCrossFade replaces what is played at the same position: the shared
// key goes on unchanged, the others fade over, nothing steps.
func TestTakesCrossFade(t *testing.T) {
	p, take := pulled(t)
	p.Load(chord(t, 60, 64))
	p.Play(0)
	take(second)
	p.Replace(chord(t, 60, 68), 1)
	out := take(second / 2)
	const latency = 128 // frames, about the engine's
	shared, gone, come := out, out[2*(second/4):], out[2*(second/4):]
	if before, after := strength(shared[:2*(second/8)], 60), strength(come, 60); math.Abs(20*math.Log10(after/before)) > 0.2 {
		t.Errorf("the shared key goes from %.5f to %.5f", before, after)
	}
	if sounds(gone, 64) || !sounds(come, 68) {
		t.Errorf("after the change the old key is at %.5f, the new one at %.5f", strength(gone, 64), strength(come, 68))
	}
	// Half way through the fade both sound, each softer than alone.
	middle := out[2*(latency+second/200) : 2*(latency+second/40)]
	if a, b := strength(middle, 64), strength(middle, 68); a < 0.2*b || b < 0.2*a {
		t.Errorf("in the middle of the fade the old key is at %.5f, the new one at %.5f", a, b)
	}
	most := 0.0
	for i := 4; i < len(out); i += 2 {
		most = max(most, math.Abs(float64(out[i]-2*out[i-2]+out[i-4])))
	}
	if most > 0.0006 {
		t.Errorf("the waveform bends by %.6f a frame", most)
	}
}

// TestStems renders the divisions apart and finds in each only its own keys.
func TestStems(t *testing.T) {
	perf := melody(t)
	var stems [synth.Divisions][]float32
	var last, total int64
	err := OfflineStems(Render{
		Performance: perf,
		Progress:    func(d, n int64) { last, total = max(last, d), n },
	}, DivisionStems(), func(d int, x []float32) error {
		stems[d] = append(stems[d], x...)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if last != total || total != 3*(&Render{Performance: perf}).Frames() {
		t.Errorf("progress ends at %d of %d", last, total)
	}
	expect(t, "upper", stems[arrange.Upper][second/2:2*second], 60)
	expect(t, "lower", stems[arrange.Lower][second/2:2*second], 48)
	expect(t, "pedal", stems[arrange.Pedal][second/2:2*second])
	var whole []float32
	if err := Offline(Render{Performance: perf, Write: func(x []float32) error { whole = append(whole, x...); return nil }}); err != nil {
		t.Fatal(err)
	}
	for i := range whole {
		if sum := stems[0][i] + stems[1][i] + stems[2][i]; math.Abs(float64(sum-whole[i])) > 1e-5 {
			t.Fatalf("frame %d: the stems add up to %g, the whole is %g", i/2, sum, whole[i])
		}
	}
}

// TestLayerStems renders the layers apart: each has its own keys alone, and
// they add up.
func TestLayerStems(t *testing.T) {
	perf := performed(t,
		played(0, 4*q, arrange.Upper, arrange.LayerLead, 72), played(0, 4*q, arrange.Upper, arrange.LayerBlock, 64),
		played(0, 4*q, arrange.Pedal, arrange.LayerBass, 48))
	perf.Tone.Click = 0 // the clicks of a manual share one noise
	list := LayerStems(perf)
	names := ""
	for _, s := range list {
		names += s.Name + " "
	}
	if names != "lead block bass " {
		t.Fatalf("the stems are %s", names)
	}
	stems := make([][]float32, len(list))
	if err := OfflineStems(Render{Performance: perf}, list, func(i int, x []float32) error {
		stems[i] = append(stems[i], x...)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	for i, keys := range [][]int{{72}, {64}, {48, 60}} { // the pedal has its octave, too
		expect(t, list[i].Name, stems[i][second/2:2*second], keys...)
	}
	var whole []float32
	if err := Offline(Render{Performance: perf, Write: func(x []float32) error { whole = append(whole, x...); return nil }}); err != nil {
		t.Fatal(err)
	}
	for i := range whole {
		sum := float32(0)
		for _, x := range stems {
			sum += x[i]
		}
		if math.Abs(float64(sum-whole[i])) > 1e-5 {
			t.Fatalf("frame %d: the stems add up to %g, the whole is %g", i/2, sum, whole[i])
		}
	}
}

func TestStemsStop(t *testing.T) {
	var blocks [3]int
	err := OfflineStems(Render{Performance: melody(t), Cancelled: func() bool { return true }},
		DivisionStems(), func(d int, x []float32) error { blocks[d]++; return nil })
	if err != synth.ErrCancelled || blocks != [3]int{} {
		t.Errorf("cancelled with %v after %v blocks", err, blocks)
	}
	err = OfflineStems(Render{Performance: melody(t)},
		DivisionStems(), func(d int, x []float32) error {
			if d == int(arrange.Lower) {
				return errBroken
			}
			return nil
		})
	if err == nil {
		t.Error("a failed write of one stem is not reported")
	}
}

// BenchmarkStems renders the three stems of eight seconds on all cores.
func BenchmarkStems(b *testing.B) {
	perf := melody(b)
	for b.Loop() {
		if err := OfflineStems(Render{Performance: perf}, DivisionStems(), func(int, []float32) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(9/(b.Elapsed().Seconds()/float64(b.N)), "×realtime")
}
