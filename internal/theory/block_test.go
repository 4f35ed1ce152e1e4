package theory

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func block(t testing.TB, text string) []Pitch {
	t.Helper()
	var out []Pitch
	for _, w := range strings.Fields(text) {
		out = append(out, MustParsePitch(w))
	}
	return out
}

func blockText(voices []Pitch) string {
	words := make([]string, len(voices))
	for i, v := range voices {
		words[i] = v.String()
	}
	return strings.Join(words, " ")
}

// familySteps are the eight steps of each family on C with the block under
// each, home and away in turn.
var familySteps = map[Sixth][8]string{
	MajorSixthFamily: {
		"C5 A4 G4 E4", "D5 B4 Ab4 F4", "E5 C5 A4 G4", "F5 D5 B4 Ab4",
		"G5 E5 C5 A4", "Ab5 F5 D5 B4", "A5 G5 E5 C5", "B5 Ab5 F5 D5",
	},
	MinorSixthFamily: {
		"C5 A4 G4 Eb4", "D5 B4 Ab4 F4", "Eb5 C5 A4 G4", "F5 D5 B4 Ab4",
		"G5 Eb5 C5 A4", "Ab5 F5 D5 B4", "A5 G5 Eb5 C5", "B5 Ab5 F5 D5",
	},
	DominantFamily: {
		"C5 Bb4 G4 E4", "D5 B4 Ab4 F4", "E5 C5 Bb4 G4", "F5 D5 B4 Ab4",
		"G5 E5 C5 Bb4", "Ab5 F5 D5 B4", "Bb5 G5 E5 C5", "B5 Ab5 F5 D5",
	},
	DominantFlatFiveFamily: {
		"C5 Bb4 Gb4 E4", "D5 B4 Ab4 F4", "E5 C5 Bb4 Gb4", "F5 D5 B4 Ab4",
		"Gb5 E5 C5 Bb4", "Ab5 F5 D5 B4", "Bb5 Gb5 E5 C5", "B5 Ab5 F5 D5",
	},
}

// twelveKeys are the intervals from C up to the usual twelve tonics.
var twelveKeys = []string{"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"}

func TestEightStepsInTwelveKeys(t *testing.T) {
	for sixth, steps := range familySteps {
		for _, tonic := range twelveKeys {
			by := MustParseName("C").To(MustParseName(tonic))
			f := NewFamily(MustParseName(tonic), sixth)
			up := upAndDown(steps, by, t)
			for i, want := range up {
				got, side, ok := f.Block(want[0])
				step, _ := f.StepOf(want[0].Name().PC())
				if !ok || side != Technique(step%2) || blockText(got) != blockText(want) {
					t.Errorf("%v step %d: %v %q, want %q", f, i, side, blockText(got), blockText(want))
				}
			}
		}
	}
}

// upAndDown moves a table row to another key and runs it up and down again.
func upAndDown(steps [8]string, by Interval, t *testing.T) (out [][]Pitch) {
	for _, text := range steps {
		out = append(out, Slide(block(t, text), by))
	}
	for i := 6; i >= 0; i-- {
		out = append(out, out[i])
	}
	return out
}

func drawAnyFamily(t *rapid.T) Family {
	tonic := NameFromFifths(rapid.IntRange(-7, 7).Draw(t, "tonic"))
	return NewFamily(tonic, rapid.SampledFrom(Sixths[:]).Draw(t, "sixth"))
}

// drawLead draws a pitch on the family's scale with room below it.
func drawLead(t *rapid.T, f Family) Pitch {
	scale := f.Scale()
	name := rapid.SampledFrom(scale[:]).Draw(t, "name")
	return NewPitch(name, rapid.IntRange(4, 6).Draw(t, "octave"))
}

func TestBlockProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawAnyFamily(t)
		lead := drawLead(t, f)
		voices, side, ok := f.Block(lead)
		want := f.Home()
		if side == Away {
			want = f.Away()
		}
		if !ok || len(voices) != 4 || pcsOf(want) != voicesPCs(voices) {
			t.Fatalf("%v under %v: %v, not the %v chord %v", f, lead, voices, side, want)
		}
		checkDescending(t, voices, lead)
		if voices[0].Key()-voices[3].Key() >= 12 {
			t.Fatalf("%v is not close", voices)
		}
		by := NewInterval(2, rapid.IntRange(3, 4).Draw(t, "third"))
		moved, _, _ := f.Transpose(by).Block(lead.Transpose(by))
		if blockText(moved) != blockText(Slide(voices, by)) {
			t.Fatalf("%v moved by %v is %v", voices, by, moved)
		}
	})
}

func voicesPCs(voices []Pitch) (set PCSet) {
	for _, v := range voices {
		set = set.With(v.Name().PC())
	}
	return set
}

func checkDescending(t *rapid.T, voices []Pitch, lead Pitch) {
	if voices[0] != lead {
		t.Fatalf("%v does not have %v on top", voices, lead)
	}
	for i := 1; i < len(voices); i++ {
		if voices[i].Key() >= voices[i-1].Key() {
			t.Fatalf("%v does not descend", voices)
		}
	}
}

func TestBlockOffTheScale(t *testing.T) {
	f := NewFamily(MustParseName("C"), MajorSixthFamily)
	lead := MustParsePitch("Eb5")
	if v, _, ok := f.Block(lead); ok || v != nil {
		t.Errorf("Eb on the C major family: %v", v)
	}
	if f.BorrowLead(lead) != nil || f.BorrowInner(lead) != nil {
		t.Error("Eb borrows on the C major family")
	}
}

func TestBorrowLead(t *testing.T) {
	for _, c := range []struct{ family, lead, below, above string }{
		{"F minor", "Ab4", "Ab4 E4 Db4 Bb3", "Ab4 G4 E4 Db4"},
		{"F minor", "C5", "C5 G4 E4 Db4", "C5 Bb4 G4 E4"},
		{"F major", "A4", "A4 E4 Db4 Bb3", "A4 G4 E4 Db4"},
		{"C major", "B4", "B4 G4 E4 C4", "B4 A4 G4 E4"},
		{"G minor", "A4", "A4 E4 D4 Bb3", "A4 G4 E4 D4"},
	} {
		tonic, colour, _ := strings.Cut(c.family, " ")
		sixth, err := ParseSixth(colour)
		if err != nil {
			t.Fatal(err)
		}
		got := NewFamily(MustParseName(tonic), sixth).BorrowLead(MustParsePitch(c.lead))
		if len(got) != 2 || blockText(got[0].Voices) != c.below || blockText(got[1].Voices) != c.above {
			t.Errorf("%s under %s: %v, want %s and %s", c.family, c.lead, got, c.below, c.above)
		}
	}
}

func TestBorrowingsChangeOneVoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawAnyFamily(t)
		lead := drawLead(t, f)
		for _, b := range append(f.BorrowLead(lead), f.BorrowInner(lead)...) {
			chord := pcsOf(f.Home())
			if b.Chord == Away {
				chord = pcsOf(f.Away())
			}
			want := chord.Without(b.Instead.PC()).With(b.Note.PC())
			if voicesPCs(b.Voices) != want || len(b.Voices) != 4 {
				t.Fatalf("%v under %v: %v does not put %v for %v", f, lead, b.Voices, b.Note, b.Instead)
			}
			checkDescending(t, b.Voices, lead)
		}
	})
}

func TestSpread(t *testing.T) {
	const close = "C5 A4 G4 E4"
	for v, want := range map[Voicing]string{
		Close: close, Drop2: "C5 G4 E4 A3", Drop3: "C5 A4 E4 G3", Drop24: "C5 G4 A3 E3",
		DoubleLead: "C5 A4 G4 E4 C4", ThreePart: "C5 A4 E4", Pair: "C5 A4",
		Spread: "C5 E4 A3 G3", Fourths: "C5 G4 E4 A3", Octaves: "C5 C4", UnisonVoicing: "C5",
	} {
		if got := blockText(v.Spread(block(t, close))); got != want {
			t.Errorf("%v of %s: %s, want %s", v, close, got, want)
		}
	}
	if Close.Spread(nil) != nil {
		t.Error("a block out of nothing")
	}
}

func TestThreePartKeepsGuides(t *testing.T) {
	got := ThreePartOf(block(t, "A4 G4 E4 C4"), MustParseName("E"), MustParseName("A"))
	if blockText(got) != "A4 G4 E4" && blockText(got) != "A4 E4 C4" {
		t.Errorf("C6 with A on top in three parts: %s", blockText(got))
	}
	if voicesPCs(got).Has(4) == false {
		t.Errorf("the third went from %s", blockText(got))
	}
}

func TestSpreadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawAnyFamily(t)
		lead := drawLead(t, f)
		close, _, _ := f.Block(lead)
		before := blockText(close)
		for v := Close; v <= UnisonVoicing; v++ {
			got := v.Spread(close)
			checkDescending(t, got, lead)
			doubles := v == DoubleLead || v == Octaves
			if (voicesPCs(got).Len() < len(got)) != doubles {
				t.Fatalf("%v of %s: %s", v, before, blockText(got))
			}
			if len(got) == 4 && voicesPCs(got) != voicesPCs(close) {
				t.Fatalf("%v of %s loses notes: %s", v, before, blockText(got))
			}
		}
		if blockText(close) != before {
			t.Fatal("Spread wrote to its argument")
		}
	})
}

func TestNameBlock(t *testing.T) {
	for _, c := range []struct{ voices, root, want string }{
		{"Ab4 E4 Db4 Bb3", "C", "C7b9#5"},
		{"G4 E4 D4 Bb3", "G", "Gm6"},
		{"G4 E4 D4 Bb3", "E", "Em7b5"},
		{"F4 D4 B3 Ab3", "G", "G7b9"},
		{"Ab4 F4 Eb4 C4", "F", "Fm7"},
		{"F4 D4 C4 Ab3", "Bb", "Bb9"},
		{"G#4 F#4 D4 B3", "Bb", "Bb7b9#5"},
		{"A4 F4 D4 B3", "G", "G9"},
		{"E5 B4 Ab4 F4", "G", "G13b9"},
		{"B4 A4 G4 E4", "C", "Cmaj13"},
		{"A4 F4 C#4 B3", "D", "Dm(maj13)"},
		{"A4 G4 E4 C4", "C", "C6"},
		{"D5 A4 G4 E4", "C", "C6/9"},
		{"D5 C5 A4 F4", "G", "G9sus4"},
		{"D5 Bb4 A4 E4", "E", "E7sus4b5"},
		{"F#5 D5 Bb4 A4", "E", "E9sus4b5"},
		{"B4 Ab4 F4 D4", "B", "Bdim7"},
		{"C5 Bb4 Gb4 E4", "C", "C7#11"},
		{"Eb5 Bb4 G4 E4", "C", "C7#9"},
		{"G4 F4 D4 B3", "Ab", "Abdim7addmaj7"},
		{"G4 D4 B3 Ab3", "Ab", "Abdim(maj7)"},
		{"F4 Eb4 C4 A3", "A", "Adimaddb13"},
	} {
		if got := NameBlock(block(t, c.voices), MustParseName(c.root)); got != c.want {
			t.Errorf("%s over %s: %s, want %s", c.voices, c.root, got, c.want)
		}
	}
	if NameBlock(nil, MustParseName("C")) != "" {
		t.Error("nothing has a name")
	}
}

// TestNamesAreSymbols names every block of up to four notes over a root and
// reads the name back: it must be a symbol whose notes, with root and fifth,
// cover the block. Sets with two sevenths, or with two ninths over a dominant,
// have no symbol in the trade and are left out.
func TestNamesAreSymbols(t *testing.T) {
	root := MustParseName("C")
	key := MustParseKey("C major")
	for set := PCSet(1); set < 1<<12; set++ {
		twoNinths := set.Has(2) && (set.Has(1) || set.Has(3)) && set.Has(10)
		if set.Len() > 4 || set.Has(10) && set.Has(11) || twoNinths {
			continue
		}
		var voices []Pitch
		for _, pc := range set.Slice() {
			voices = append(voices, PitchAt(key.Spell(pc), 60+pc))
		}
		name := NameBlock(voices, root)
		c, err := ParseChord(name)
		if err != nil {
			t.Errorf("%v is named %q: %v", set.Slice(), name, err)
			continue
		}
		if !c.PCSet().With(0).With(7).Covers(set) {
			t.Errorf("%v is named %q, which is %v", set.Slice(), name, c.PitchClasses())
		}
	}
}

// TestBorrowTwo checks every block with two borrowed voices: four notes, the
// lead on top, all on the family's scale, two of them not the chord's.
func TestBorrowTwo(t *testing.T) {
	for _, sixth := range Sixths {
		f := NewFamily(MustParseName("C"), sixth)
		for _, n := range f.Scale() {
			lead := NewPitch(n, 5)
			list := f.BorrowTwo(lead)
			if len(list) == 0 {
				t.Errorf("%v under %v: nothing", f, lead)
			}
			for _, b := range list {
				chord := f.Home()
				if b.Chord == Away {
					chord = f.Away()
				}
				foreign := 0
				for _, v := range b.Voices {
					if _, ok := f.StepOf(v.Name().PC()); !ok {
						t.Errorf("%v under %v: %v is off the scale", f, lead, b.Voices)
					}
					if !containsPC(chord[:], v.Name()) {
						foreign++
					}
				}
				if len(b.Voices) != 4 || b.Voices[0] != lead || foreign != 2 || pcsOfBlock(b.Voices).Len() != 4 {
					t.Errorf("%v under %v: %v has %d voices of the other chord", f, lead, b.Voices, foreign)
				}
			}
		}
	}
}

func pcsOfBlock(voices []Pitch) (set PCSet) {
	for _, v := range voices {
		set = set.With(v.Name().PC())
	}
	return set
}
