package theory

import "testing"

func TestSmoke(t *testing.T) {
	for _, s := range []string{"Cm7b5/Gb", "C7b9#5", "C7(b9,#11)", "CΔ", "C-7b5", "Cmadd9", "C6/9/G", "C6/9", "C+7", "C7+9", "C7-9", "Csus2sus4", "C(b5)", "C5", "Cb5", "C13", "Cm/maj7", "C7b9/13", "C7alt", "N.C.", "Cdim7", "C°7", "Cø", "C7#5", "Cmaj7#11", "Cadd9", "C7sus", "C9sus4", "Cm(maj7)", "C7M", "C7(13)", "C7(9,13)"} {
		c, err := ParseChord(s)
		if err != nil {
			t.Error(err)
			continue
		}
		d, err := ParseChord(c.String())
		if err != nil || d != c {
			t.Errorf("%s → %s → %v %v", s, c, d, err)
		}
		t.Logf("%s → %s %v", s, c, c.Tones())
	}
	for _, s := range []string{"H7#q", "C7#q", "C7b", "C7xyz", "C/", "C/H", "C7(b9", "", "a", "Cmm", "C7)", "♭"} {
		_, err := ParseChord(s)
		t.Logf("%v", err)
	}
}
