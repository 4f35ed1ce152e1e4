package synth

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// BenchmarkTable prints the figures the instrument promises, measured on the
// machine it runs on, one core, at 48 kHz in blocks of 256 frames:
//
//	go test -run '^$' -bench Table ./internal/synth
//
// Speeds are the median over short runs, so that what else the machine does
// weighs little. "Chain" is sixteen keys over three divisions with everything
// drawn, through swell, speaker and limiter; "everything" has vibrato on each
// division, drive and room besides.
func BenchmarkTable(b *testing.B) {
	defer func(v bool) { vectors = v }(vectors)
	for _, row := range []struct {
		name    string
		kernels bool
		more    []Event
	}{
		{"chain/plain", false, nil}, {"chain/kernels", true, nil},
		{"everything/plain", false, everything()}, {"everything/kernels", true, everything()},
	} {
		b.Run(row.name, func(b *testing.B) {
			if row.kernels && !hasVectors() {
				b.Skip("this processor has no AVX2")
			}
			vectors = row.kernels
			speed(b, row.more)
		})
	}
	vectors = hasVectors()
	b.Run("slowest-block-in-1000", worstBlock)
	b.Run("bank-SNR", func(b *testing.B) {
		for b.Loop() {
			b.ReportMetric(bankSNR(), "dB")
		}
	})
	b.Run("delay-error-5920Hz", func(b *testing.B) {
		for b.Loop() {
			b.ReportMetric(delayError(wide, 5920), "dB")
		}
	})
}

const blockFrames = 256

func playing(b *testing.B, more []Event) *Engine {
	var e Engine
	c := DefaultConfig()
	c.Swell, c.Speed = 1, Fast
	if err := e.Init(c); err != nil {
		b.Fatal(err)
	}
	e.Render(make([]float32, 2*testRate), append(slices.Clone(more), sixteen()...))
	return &e
}

// speed reports how many times faster than real time blocks are rendered.
func speed(b *testing.B, more []Event) {
	e := playing(b, more)
	block := make([]float32, 2*blockFrames)
	const run = 50
	var runs []float64
	b.ReportAllocs()
	n := 0
	began := time.Now()
	for b.Loop() {
		e.Render(block, nil)
		if n++; n%run == 0 {
			now := time.Now()
			runs = append(runs, now.Sub(began).Seconds()/run)
			began = now
		}
	}
	if len(runs) > 0 {
		slices.Sort(runs)
		b.ReportMetric(blockFrames/(testRate*runs[len(runs)/2]), "×realtime")
	}
}

// worstBlock reports the 99.9th percentile of the time a block takes, as a part
// of the block, with every stage on, while another goroutine allocates 200 MB
// a second.
func worstBlock(b *testing.B) {
	e := playing(b, everything())
	block := make([]float32, 2*blockFrames)
	stop := make(chan struct{})
	done := make(chan [][]byte)
	go litter(stop, done)
	var times []float64
	for b.Loop() {
		began := time.Now()
		e.Render(block, nil)
		times = append(times, time.Since(began).Seconds())
	}
	close(stop)
	<-done
	slices.Sort(times)
	b.ReportMetric(100*times[len(times)*999/1000]*testRate/blockFrames, "%block")
}

// BenchmarkEachBlock tells whether some blocks are dearer than others by the work
// that is in them: the same two seconds are rendered again and again, and each
// block counts with its least time, so that what interrupts a block now and then
// drops out. The metrics are parts of the block's length.
func BenchmarkEachBlock(b *testing.B) {
	const blocks, times = 375, 40
	wild, _ := randomPlaying(21, 300)
	for name, events := range map[string][]Event{"held": nil, "played": wild} {
		b.Run(name, func(b *testing.B) {
			least := make([]float64, blocks)
			block := make([]float32, 2*blockFrames)
			for n := range times * max(1, b.N) {
				e, rest, due := playing(b, everything()), events, []Event(nil)
				for i := range least {
					from := int64(i) * blockFrames
					due, rest = Take(due[:0], rest, from, from+blockFrames)
					began := time.Now()
					e.Render(block, due)
					if t := time.Since(began).Seconds(); n == 0 || t < least[i] {
						least[i] = t
					}
				}
			}
			slices.Sort(least)
			for _, q := range []struct {
				at   int
				name string
			}{{blocks / 2, "median"}, {blocks * 99 / 100, "99th"}, {blocks - 1, "dearest"}} {
				b.ReportMetric(100*least[q.at]*testRate/blockFrames, q.name+"-%block")
			}
		})
	}
}

// litter allocates 200 MB a second and keeps a little of it for a while.
func litter(stop chan struct{}, done chan [][]byte) {
	kept := make([][]byte, 64)
	const piece = 40000
	tick := time.NewTicker(time.Millisecond)
	defer tick.Stop()
	began, made := time.Now(), 0
	for {
		select {
		case <-stop:
			done <- kept
			return
		case <-tick.C:
		}
		for ; float64(made) < 200e6*time.Since(began).Seconds(); made += piece {
			kept[made/piece%len(kept)] = make([]byte, piece)
		}
	}
}

// bankSNR compares the sum of all generators with double precision.
func bankSNR() float64 {
	var b bank
	b.init(testRate, 0, nil)
	b.reset()
	start := b.pos
	for g := range Generators {
		b.voices[Upper].add(g, unit*float32(1+g%5), b.samples)
	}
	var signal, noise float64
	for at := 0; at < 40*chunk; at += chunk {
		var out [chunk + pad]float32
		b.render(&b.voices[Upper], out[:chunk])
		b.step(chunk)
		if at < 4*chunk {
			continue // the gains still rise
		}
		for i, v := range out[:chunk] {
			want := 0.0
			for g := range Generators {
				periods, n := loop(Frequency(float64(LowestKey+g)), testRate)
				turn := float64((int(start[g])+at+i)%n) * float64(periods) / float64(n)
				want += float64(unit*float32(1+g%5)) * math.Sin(2*math.Pi*turn)
			}
			signal += want * want
			noise += (float64(v) - want) * (float64(v) - want)
		}
	}
	return 10 * math.Log10(signal/noise)
}

// delayError is the greatest error, in decibels, of reading a sine of a
// frequency at any fraction of a frame.
func delayError(between *interpolator, hertz float64) float64 {
	line := make([]float32, 4096)
	w := 2 * math.Pi * hertz / testRate
	for i := range line {
		line[i] = float32(math.Sin(w * float64(i)))
	}
	r := rand.New(rand.NewPCG(5, 5))
	var worst float64
	for range 20000 {
		i, delay := 100+r.IntN(3900), float32(minDelay+r.Float64()*40)
		want := math.Sin(w * (float64(i) - float64(delay)))
		var got [1]float32
		glide{start: delay}.add(line, i, 0, got[:], between, 1)
		worst = max(worst, math.Abs(float64(got[0])-want))
	}
	return dB(worst)
}
