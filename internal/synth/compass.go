package synth

// Footages of a manual's drawbars, in their order.
var manualFootages = [9]string{"16′", "5⅓′", "8′", "4′", "2⅔′", "2′", "1⅗′", "1⅓′", "1′"}

// manualOffsets are the semitones from a key's own pitch to each footage: the
// sub-octave, the fifth, and the harmonic series from the unison to the eighth
// partial without the seventh, in equal temperament.
var manualOffsets = [9]int{-12, 7, 0, 12, 19, 24, 28, 31, 36}

// partial is one generator of a contact: its distance from the key and its
// part of the level.
type partial struct {
	offset int
	weight float32
}

// pedalPartials are what the 16′ and 8′ of the pedal sound. A lone sine so low
// is lost on small loudspeakers; the pedal's colour is a fundamental with
// weaker octave, twelfth and fifteenth.
var pedalPartials = [2][]partial{
	{{-12, 1}, {0, 0.40}, {7, 0.16}, {12, 0.12}},
	{{0, 1}, {12, 0.30}, {19, 0.10}, {24, 0.06}},
}

// pedalLevel is the amplitude of a pedal drawbar against a manual one: the
// feet play one note against handfuls.
const pedalLevel = 1.8

// Footage names a drawbar of a division: "16′" to "1′"; empty outside its
// range.
func Footage(d Division, drawbar int) string {
	switch {
	case drawbar < 0 || drawbar >= contactsOf(d):
		return ""
	case d == Pedal && drawbar == 1:
		return manualFootages[2]
	}
	return manualFootages[drawbar]
}

// Generator returns the generator (0 to 90) that carries the fundamental of a
// drawbar of a key. Pitches beyond either end of the bank fold back by octaves.
func Generator(d Division, key, drawbar int) int {
	if d == Pedal {
		return fold(key + pedalPartials[drawbar][0].offset)
	}
	return fold(key + manualOffsets[drawbar])
}

// fold returns the generator of a MIDI key, brought into the bank by octaves.
func fold(key int) int {
	g := key - LowestKey
	for g < 0 {
		g += 12
	}
	for g >= Generators {
		g -= 12
	}
	return g
}

// contactsOf counts the contacts under a key of a division, one a drawbar.
func contactsOf(d Division) int {
	if d == Pedal {
		return len(pedalPartials)
	}
	return len(manualOffsets)
}
