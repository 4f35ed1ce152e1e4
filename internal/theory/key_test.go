package theory

import "testing"

// TestKeySpells gives all twelve names, from C upward, in keys that players
// meet: raised degrees up to the raised fourth, the others lowered.
func TestKeySpells(t *testing.T) {
	for _, tc := range []struct{ key, names string }{
		{"C major", "C Db D Eb E F F# G Ab A Bb B"},
		{"G major", "C C# D Eb E F F# G Ab A Bb B"},
		{"D major", "C C# D Eb E F F# G G# A Bb B"},
		{"A major", "C C# D D# E F F# G G# A Bb B"},
		{"E major", "C C# D D# E F F# G G# A A# B"},
		{"B major", "C C# D D# E E# F# G G# A A# B"},
		{"F major", "C Db D Eb E F Gb G Ab A Bb B"},
		{"Bb major", "C Db D Eb E F Gb G Ab A Bb Cb"},
		{"Eb major", "C Db D Eb Fb F Gb G Ab A Bb Cb"},
		{"A minor", "C C# D D# E F F# G G# A Bb B"},
		{"E minor", "C C# D D# E F F# G G# A A# B"},
		{"B minor", "C C# D D# E E# F# G G# A A# B"},
		{"D minor", "C C# D Eb E F F# G G# A Bb B"},
		{"G minor", "C C# D Eb E F F# G Ab A Bb B"},
		{"C minor", "C Db D Eb E F F# G Ab A Bb B"},
		{"F minor", "C Db D Eb E F Gb G Ab A Bb B"},
	} {
		k := MustParseKey(tc.key)
		var got []Name
		for pc := 0; pc < 12; pc++ {
			got = append(got, k.Spell(pc))
		}
		if names(got) != tc.names {
			t.Errorf("%s: %s\nwant %s", tc.key, names(got), tc.names)
		}
	}
}

var scaleSteps = map[Mode][]Interval{
	Major: {Unison, MajorSecond, MajorThird, PerfectFourth, PerfectFifth, MajorSixth, MajorSeventh},
	// Minor with both forms of sixth and seventh.
	Minor: {Unison, MajorSecond, MinorThird, PerfectFourth, PerfectFifth, MinorSixth, MajorSixth, MinorSeventh, MajorSeventh},
}

// TestKeySpellsItsScale covers every signature from seven flats to seven
// sharps: scale degrees get the scale's own names.
func TestKeySpellsItsScale(t *testing.T) {
	for _, mode := range []Mode{Major, Minor} {
		for f := -7; f <= 7; f++ {
			k := KeyFromFifths(f, mode)
			if k.Fifths() != f || k.Mode() != mode {
				t.Errorf("%d fifths %s gives %s with %d", f, mode, k, k.Fifths())
			}
			for _, i := range scaleSteps[mode] {
				want := k.Tonic().Transpose(i)
				if got := k.Spell(want.PC()); got != want {
					t.Errorf("%s spells %s as %s", k, want, got)
				}
			}
			for pc := -12; pc < 24; pc++ {
				if k.Spell(pc).PC() != mod(pc, 12) {
					t.Errorf("%s spells class %d as %s", k, pc, k.Spell(pc))
				}
			}
		}
	}
}

// TestATonicAloneIsInTheGivenMode, and one with a mode keeps it.
func TestATonicAloneIsInTheGivenMode(t *testing.T) {
	for in, want := range map[string]string{"Eb": "Eb minor", " F# ": "F# minor", "Eb major": "Eb major", "Am": "A minor"} {
		if k, err := ParseKeyIn(in, Minor); err != nil || k.String() != want {
			t.Errorf("%q reads as %s, %v; want %s", in, k, err, want)
		}
	}
}

func TestParseKey(t *testing.T) {
	for in, want := range map[string]string{
		"C": "C major", "Bb": "Bb major", "B♭": "Bb major", "F#m": "F# minor", "gm": "G minor", "G minor": "G minor",
		" Eb major ": "Eb major", "c# min": "C# minor", "A Maj": "A major", "bb minor": "Bb minor", "b minor": "B minor",
	} {
		k, err := ParseKey(in)
		if err != nil || k.String() != want {
			t.Errorf("%q reads as %s, %v; want %s", in, k, err, want)
		}
		if back, err := ParseKey(k.Pretty()); err != nil || back != k {
			t.Errorf("%s reads back as %s, %v", k.Pretty(), back, err)
		}
	}
	for _, in := range []string{"", "H", "C dorian", "minor", "C major major"} {
		if k, err := ParseKey(in); err == nil {
			t.Errorf("%q reads as %s, want an error", in, k)
		}
	}
	var zero Key
	if zero.IsValid() || zero.String() != "" || zero.Pretty() != "" {
		t.Error("the zero Key is not empty")
	}
}
