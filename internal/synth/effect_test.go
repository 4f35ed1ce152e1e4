package synth

import (
	"math"
	"math/bits"
	"testing"
)

// accented is a held key with only the accent to hear.
func accented(t *testing.T, a Accent, events ...Event) []float32 {
	t.Helper()
	return side(play(t, dry(), 2, append([]Event{{Kind: SetAccent, Accent: a}}, events...)...), 0)
}

// TestAccentPitchLevelLength measures the struck accent in each of its
// settings.
func TestAccentPitchLevelLength(t *testing.T) {
	at := func(x []float32, seconds, hertz float64) float64 {
		i := int(seconds * testRate)
		return dB(amplitude(x[i:i+2400], hertz, testRate))
	}
	for pitch, hertz := range map[AccentPitch]float64{AccentOctave: 880, AccentTwelfth: 880 * 1.498307} {
		soft := accented(t, Accent{Pitch: pitch}, down(0, Upper, 69))
		loud := accented(t, Accent{Pitch: pitch, Loud: true}, down(0, Upper, 69))
		long := accented(t, Accent{Pitch: pitch, Long: true}, down(0, Upper, 69))
		if d := at(loud, 0.05, hertz) - at(soft, 0.05, hertz); math.Abs(d-(accentLoud-accentSoft)) > 0.3 {
			t.Errorf("accent %d: loud lies %.2f dB over soft", pitch, d)
		}
		for _, test := range []struct {
			x    []float32
			tau  float64
			name string
		}{{soft, accentShort, "short"}, {long, accentLong, "long"}} {
			want := 0.2 / test.tau * dB(math.E)
			if d := at(test.x, 0.05, hertz) - at(test.x, 0.25, hertz); math.Abs(d-want) > 0.4 {
				t.Errorf("accent %d %s: falls by %.2f dB in 0.2 s, want %.2f", pitch, test.name, d, want)
			}
		}
		if a := at(soft, 0.05, 440); a > -110 {
			t.Errorf("accent %d: the key's own pitch sounds at %.1f dB", pitch, a)
		}
	}
}

// TestAccentIsStruckOnce checks that only a key pressed while none is held
// strikes, and that keys added later share what is left.
func TestAccentIsStruckOnce(t *testing.T) {
	a := Accent{Pitch: AccentOctave}
	const second = testRate
	level := func(x []float32, from int, hertz float64) float64 {
		return amplitude(x[from:from+2400], hertz, testRate)
	}
	legato := accented(t, a, down(0, Upper, 57), down(second, Upper, 60), up(second+100, Upper, 57))
	fresh := accented(t, a, down(0, Upper, 57), up(second-1000, Upper, 57), down(second, Upper, 60))
	hertz := Frequency(72)
	if l, f := level(legato, second+480, hertz), level(fresh, second+480, hertz); l > f/100 || f < unit/3 {
		t.Errorf("played legato %.5f, afresh %.5f", l, f)
	}
	both := accented(t, a, down(0, Upper, 57), down(4800, Upper, 60))
	alone := accented(t, a, down(0, Upper, 60))
	if b, c := level(both, 7200, hertz), level(alone, 7200, hertz); math.Abs(dB(b/c)) > 0.5 {
		t.Errorf("a key added after 0.1 s sounds %.2f dB from one struck at once", dB(b/c))
	}
	other := accented(t, a, down(0, Lower, 48), down(second, Upper, 60))
	if d := dB(level(other, second+480, hertz) / level(fresh, second+480, hertz)); math.Abs(d) > 0.1 {
		t.Errorf("a key held on the lower manual changes the accent by %.2f dB", d)
	}
	if x := accented(t, Accent{}, down(0, Upper, 60)); peakOf(x) != 0 {
		t.Errorf("no accent sounds at %g", peakOf(x))
	}
}

// TestVibratoSidebands looks for the side bands of a high tone: their distance
// is the rate, their strength the depth (Bessel functions of the phase swing).
func TestVibratoSidebands(t *testing.T) {
	const f = 2093.0
	for depth, v := range []Vibrato{VibratoLight, VibratoMedium, VibratoDeep} {
		x := side(play(t, dry(), 11, only(Upper, 2, 8), Event{Kind: SetVibrato, Vibrato: v}, down(0, Upper, 96)), 0)[testRate/2:]
		carrier := pitch(side(play(t, dry(), 11, only(Upper, 2, 8), down(0, Upper, 96)), 0), f, testRate)
		swing := 2 * math.Pi * carrier * vibratoSwing[depth+1]
		for n := -2; n <= 2; n++ {
			got := amplitude(x, carrier+float64(n)*vibratoRate, testRate)
			want := unit * float64(taper(72)) * math.Abs(math.Jn(n, swing))
			if math.Abs(got-want) > 0.02*unit {
				t.Errorf("vibrato %d: side band %d at %.5f, want %.5f", v, n, got, want)
			}
		}
	}
}

// TestChorusKeepsDry checks that the settings with dry signal hold both, and
// that turning the vibrato off restores the plain tone.
func TestChorusKeepsDry(t *testing.T) {
	events := []Event{only(Upper, 2, 8), {Kind: SetVibrato, Vibrato: ChorusDeep}, down(0, Upper, 69),
		{Frame: 3 * testRate, Kind: SetVibrato, Vibrato: NoVibrato}}
	x := side(play(t, dry(), 5, events...), 0)
	plain := side(play(t, dry(), 5, only(Upper, 2, 8), down(0, Upper, 69)), 0)
	carrier := pitch(plain, 440, testRate)
	wobbling := amplitude(x[testRate:3*testRate], carrier, testRate) / unit
	if wobbling < 0.5 || wobbling > 1.25 {
		t.Errorf("carrier at %.2f of the plain tone", wobbling)
	}
	for i := 4 * testRate; i < 5*testRate-200; i++ {
		if math.Abs(float64(x[i]-plain[i])) > 1e-6 {
			t.Fatalf("frame %d: %g after the vibrato is off, %g without", i, x[i], plain[i])
		}
	}
}

// TestVibratoBelongsToADivision sets it on one division and listens to
// another.
func TestVibratoBelongsToADivision(t *testing.T) {
	plain := play(t, dry(), 1, only(Lower, 2, 8), down(0, Lower, 69))
	other := play(t, dry(), 1, only(Lower, 2, 8), Event{Kind: SetVibrato, Division: Upper, Vibrato: VibratoDeep}, down(0, Lower, 69))
	for i := range plain {
		if plain[i] != other[i] {
			t.Fatalf("frame %d differs", i/2)
		}
	}
}

// drive drives a sine by v and returns the result after it has settled. The
// sine is quiet enough to stay under the limiter's gain at any drive.
func drive(f float64, level, v float32) []float32 {
	var d driver
	d.init()
	d.reset(960)
	d.set(v)
	x := make([]float32, 2*testRate+pad)
	for i := range x {
		x[i] = level * float32(math.Sin(2*math.Pi*f*float64(i)/testRate))
	}
	for at := 0; at+chunk <= 2*testRate; at += chunk {
		d.render(x[at:at+chunk], true)
	}
	return x[testRate/2 : 2*testRate]
}

// loudestTone returns the amplitude of the loudest lone tone of a generator that
// keys up to a highest one and a registration can bring to the drive: all drawn
// drawbars of all keys that are held lead to the one generator, as they can where
// pitches fold back, on both manuals, with the chorus at the crest of its beat,
// and the struck accent, where that leads there too, at its attack.
func loudestTone(g, highest int) float64 {
	const chorus = 1.2
	there := make([]int, highest+1) // the drawbars of each key that lead there
	for key := range there {
		for bar := range 9 {
			if Generator(Upper, key, bar) == g {
				there[key] |= 1 << bar
			}
		}
	}
	plain, accented := 0.0, 0.0
	for accent, semitones := range accentOffsets {
		for drawn := range 1 << 9 {
			each := chorus * float64(bits.OnesCount(uint(drawn)))
			if accent > 0 {
				each += math.Pow(10, accentLoud/20.0)
			}
			sum := 0.0
			for key, bars := range there {
				if bars&drawn == drawn && (accent == 0 || fold(key+semitones) == g) {
					sum += each
				}
			}
			if accented = max(accented, sum); accent == 0 {
				plain = max(plain, sum)
			}
		}
	}
	return unit * float64(taper(g)) * (plain + accented)
}

// TestDriveAliasing drives generators fully, each as loud as it can come there
// from any key, and looks for folded harmonics under 20 kHz; then sines of set
// levels.
func TestDriveAliasing(t *testing.T) {
	const topKey = 96 // of the manuals of a console
	type row struct{ hertz, level, limit float64 }
	var rows []row
	loudest, console, at := 0.0, 0.0, 0
	for g := range Generators {
		console = max(console, loudestTone(g, topKey))
		if level := loudestTone(g, 127); level > loudest {
			loudest, at = level, g
		}
	}
	t.Logf("loudest lone tone: %.1f dBFS from the keys of a console, %.1f from any; of the highest generator, %.1f and %.1f",
		dB(console), dB(loudest), dB(loudestTone(Generators-1, topKey)), dB(loudestTone(Generators-1, 127)))
	for _, g := range []int{48, 60, 72, 78, at, 84, Generators - 1} {
		r := row{Frequency(float64(LowestKey + g)), loudestTone(g, 127), -75}
		if r.hertz <= 3000 {
			r.limit = -120
		}
		rows = append(rows, r)
	}
	rows = append(rows, row{1000, 0.8, -120}, row{3000, 0.4, -120}, row{4200, 0.8, -75}, row{5900, 0.8, -75})
	for _, r := range rows {
		f := r.hertz + 3.7 // off every grid, so that no alias falls on a harmonic
		x := drive(f, float32(r.level), 1)
		worst, at := 0.0, 0.0
		for k := 1; float64(k)*f < 18*testRate; k += 2 { // where each harmonic lands when it is folded at the four rates in turn
			h := math.Abs(math.Remainder(float64(k)*f, testRate))
			if h > 20000 || float64(k)*f < testRate/2 || math.Abs(math.Remainder(h-f, 2*f)) < 20 {
				continue
			}
			if a := amplitude(x, h, testRate); a > worst {
				worst, at = a, h
			}
		}
		got := dB(worst / amplitude(x, f, testRate))
		t.Logf("%.0f Hz at %.1f dBFS: greatest alias %.1f dB at %.0f Hz; third harmonic %.1f dB",
			f, dB(r.level), got, at, dB(amplitude(x, 3*f, testRate)/amplitude(x, f, testRate)))
		if got > r.limit {
			t.Errorf("%.0f Hz at %.1f dBFS: alias at %.1f dB, want under %g", f, dB(r.level), got, r.limit)
		}
	}
}

// TestDriveIsMonotonic checks that more drive is denser and not much louder,
// and that no drive is a delay.
func TestDriveIsMonotonic(t *testing.T) {
	last := -200.0
	plain := rms(drive(440, 0.1, 0))
	for _, v := range []float32{0.1, 0.25, 0.5, 0.75, 1} {
		x := drive(440, 0.1, v)
		third := dB(amplitude(x, 1320, testRate) / amplitude(x, 440, testRate))
		t.Logf("drive %g: third harmonic %.1f dB, level %+.1f dB", v, third, dB(rms(x)/plain))
		if third <= last {
			t.Errorf("drive %g: third harmonic at %.1f dB, %.1f before", v, third, last)
		}
		if l := dB(rms(x) / plain); l < -3 || l > 9 {
			t.Errorf("drive %g: level changes by %.1f dB", v, l)
		}
		last = third
	}
	x := drive(440, 0.1, 0)
	for i := range 1000 {
		want := 0.1 * math.Sin(2*math.Pi*440*float64(testRate/2+i-driveDelay)/testRate)
		if math.Abs(float64(x[i])-want) > 1e-6 {
			t.Fatalf("frame %d: %g, want %g", i, x[i], want)
		}
	}
}

// TestRoomDecay measures the reverberation time of an impulse from Schroeder's
// backward integration.
func TestRoomDecay(t *testing.T) {
	for _, decay := range []float64{0.5, 1.1, 2.2} {
		p := RoomParams{Size: 9, Decay: decay, Damping: 0}
		var r room
		p.Level = 1
		r.init(testRate)
		r.reset(p, 960)
		n := 5 * testRate
		left, right := make([]float32, n), make([]float32, n)
		for i := range 960 { // a burst of 1 kHz, under the damping
			left[i] = 0.3 * float32(math.Sin(2*math.Pi*1000*float64(i)/testRate))
			right[i] = left[i]
		}
		for at := 0; at < n; at += chunk {
			r.render(left[at:at+chunk], right[at:at+chunk])
			r.flush()
		}
		clear(left[:960])
		rest := make([]float64, n+1)
		for i := n - 1; i >= 0; i-- {
			rest[i] = rest[i+1] + float64(left[i])*float64(left[i])
		}
		level := func(seconds float64) float64 { return 10 * math.Log10(rest[int(seconds*testRate)]) }
		got := 60 * 0.3 * decay / (level(0.1*decay) - level(0.4*decay))
		if math.Abs(got/decay-1) > 0.15 {
			t.Errorf("decay %.2f s: measured %.2f s", decay, got)
		}
		if left[n-1] != 0 {
			t.Errorf("decay %.2f s: still %g after 5 s", decay, left[n-1])
		}
	}
}

// TestSilenceWithEverythingOn is TestSilence through every stage.
func TestSilenceWithEverythingOn(t *testing.T) {
	events := append(everything(), draw(0, Upper, full...), draw(0, Pedal, 8, 8), down(0, Upper, 60), down(0, Pedal, 36),
		Event{Frame: testRate, Kind: AllNotesOff})
	c := DefaultConfig()
	c.Room.Decay = 2.5
	out := play(t, c, 7, events...)
	if rms(out[:2*testRate]) < 0.01 {
		t.Error("nothing sounds")
	}
	for i := 6 * testRate * 2; i < len(out); i++ {
		if out[i] != 0 {
			t.Fatalf("%g sounds %.2f s after the release", out[i], float64(i/2-testRate)/testRate)
		}
	}
}

// TestLeakageAndPartials looks for the neighbours and the partials of a
// generator, and that there are none by default.
func TestLeakageAndPartials(t *testing.T) {
	const f = 440.0
	listen := func(leakage, partials float32) []float32 {
		c := dry()
		c.Leakage, c.Partials = leakage, partials
		return side(play(t, c, 3, only(Upper, 2, 8), down(0, Upper, 69)), 0)[testRate:]
	}
	plain, leaking, coloured := listen(0, 0), listen(0.01, 0), listen(0, 0.02)
	for _, n := range []float64{68, 70} {
		if a := dB(amplitude(leaking, Frequency(n), testRate) / unit); math.Abs(a+40) > 0.3 {
			t.Errorf("neighbour %g at %.2f dB, want −40", n, a)
		}
		if a := dB(amplitude(plain, Frequency(n), testRate) / unit); a > -90 {
			t.Errorf("neighbour %g without leakage at %.2f dB", n, a)
		}
	}
	stretched := map[float64]float64{2: 2.004, 3: 3.011}
	for k, level := range map[float64]float64{2: 0.02, 3: 0.01} {
		p, n := loop(f, testRate)
		p, n = p*(partialsLoop/n+1), n*(partialsLoop/n+1)
		near := math.Round(stretched[k]*float64(p)) * testRate / float64(n)
		sharp := cents(near, k*f)
		if a := amplitude(coloured, near, testRate) / unit; math.Abs(a-level) > 0.001 || sharp < 0.5 || sharp > 12 {
			t.Errorf("partial %g: amplitude %.4f, %.2f cents sharp", k, a, sharp)
		}
		if a := dB(amplitude(plain, k*f, testRate) / unit); a > -110 {
			t.Errorf("partial %g of a plain generator at %.1f dB", k, a)
		}
	}
}

// TestBlocksDoNotMatterWithEverythingOn is TestBlocksDoNotMatter through every
// stage.
func TestBlocksDoNotMatterWithEverythingOn(t *testing.T) {
	events, end := randomPlaying(12, 200)
	events = append(everything(), events...)
	want := play(t, DefaultConfig(), float64(end)/testRate, events...)
	var e Engine
	if err := e.Init(DefaultConfig()); err != nil {
		t.Fatal(err)
	}
	var got []float32
	rest := events
	for at, n := int64(0), int64(1); at < end; at, n = at+n, 1+(n*31)%97 {
		var block []Event
		block, rest = Take(nil, rest, at, at+n)
		out := make([]float32, 2*n)
		e.Render(out, block)
		got = append(got, out...)
	}
	got = got[2*e.Latency():]
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			t.Fatalf("frame %d: %g in small blocks, %g in large ones", i/2, got[i], want[i])
		}
	}
}

// TestEffectsHaveNoDiscontinuity turns vibrato, drive and room on and off
// while a low chord sounds.
func TestEffectsHaveNoDiscontinuity(t *testing.T) {
	c := DefaultConfig()
	c.Click = 0
	events := []Event{draw(0, Upper, 8, 0, 8), down(0, Upper, 48), down(0, Upper, 57)}
	for i := range 24 {
		at, on := int64(24000+6000*i), float32(1-i&1)
		events = append(events,
			Event{Frame: at, Kind: SetVibrato, Vibrato: Vibrato(i % 7)},
			Event{Frame: at + 1500, Kind: SetDrive, Value: on / 2},
			Event{Frame: at + 3000, Kind: SetRoom, Value: on})
	}
	out := play(t, c, 4, events...)
	for channel := range 2 {
		b := bend(side(out, channel)[9600:])
		t.Logf("channel %d: greatest bend %.6f", channel, b)
		if b > unit/50 {
			t.Errorf("channel %d: the waveform bends by %.6f of full scale in a frame", channel, b)
		}
	}
}
