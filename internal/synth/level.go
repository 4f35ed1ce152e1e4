package synth

const (
	// DrawbarStep is the change of level from one drawbar setting to the next,
	// in decibels.
	DrawbarStep = 3
	// unit is the amplitude of one drawbar at 8 under one key, chosen so that
	// sixteen keys with everything drawn stay near the limiter and a four-part
	// block with its bass lies some 20 dB under full scale.
	unit = 0.048
	// taperFrom is the generator above which levels fall, C6, and taperSlope
	// by how many decibels a semitone: the ear is keenest there, and full
	// mixtures would be harsh.
	taperFrom  = 60
	taperSlope = 0.2
)

// drawbarGain returns the amplitude of a drawbar setting from 0 to 8.
func drawbarGain(setting uint8) float32 {
	if setting == 0 {
		return 0
	}
	return unit * decibels(DrawbarStep*(float64(min(setting, 8))-8))
}

// taper returns the level of a generator against the lower ones.
func taper(g int) float32 {
	return decibels(-taperSlope * float64(max(0, g-taperFrom)))
}

// tapers is taper of every generator.
var tapers = func() (t [Generators]float32) {
	for g := range t {
		t[g] = taper(g)
	}
	return t
}()
