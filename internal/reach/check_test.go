package reach

import (
	"strings"
	"testing"

	"organbook/internal/phrase"
)

// struck returns a note of one limb that sounds from one beat to another, in
// quarters at 60.
func struck(limb Limb, division Division, key int, from, to float64) Note {
	return Note{Start: from, End: to, At: Ticks(from * 10080), Until: Ticks(to * 10080), Key: key, Division: division, Limb: limb}
}

func found(r *Report) string {
	var out []string
	for _, f := range r.Findings {
		out = append(out, f.Limb.String()+" "+f.Kind.String()+" "+f.Severity.String())
	}
	return strings.Join(out, ", ")
}

func TestRulesBetweenLimbs(t *testing.T) {
	rh, lh := RightHand, LeftHand
	plain := func(*Piece) {}
	for _, c := range []struct {
		name   string
		change func(*Piece)
		notes  []Note
		want   string
	}{
		{"hands apart", plain, []Note{struck(rh, Upper, 72, 0, 1), struck(lh, Upper, 60, 0, 1)}, ""},
		{"one key for two hands", plain, []Note{struck(rh, Upper, 60, 0, 2), struck(lh, Upper, 60, 1, 2)}, "left hand same key unplayable"},
		{"one key, one after the other", plain, []Note{struck(rh, Upper, 60, 0, 1), struck(lh, Upper, 60, 1, 2)}, ""},
		{"one key on two manuals", plain, []Note{struck(rh, Upper, 60, 0, 2), struck(lh, Lower, 60, 0, 2)}, ""},
		{"hands crossed on a manual", plain, []Note{struck(rh, Upper, 60, 0, 2), struck(lh, Upper, 64, 0, 2)}, "left hand crossed hands demanding"},
		{"hands crossed on two manuals", plain, []Note{struck(rh, Upper, 60, 0, 2), struck(lh, Lower, 64, 0, 2)}, ""},
		{"a hand on two manuals", plain, []Note{struck(rh, Upper, 67, 0, 1), struck(rh, Lower, 60, 0, 1)}, "right hand two manuals unplayable"},
		{"a bridging thumb", func(p *Piece) { p.Profile.ThumbBridge = true },
			[]Note{struck(rh, Upper, 67, 0, 1), struck(rh, Lower, 60, 0, 1)}, "right hand two manuals demanding"},
		{"a bridge that no thumb reaches", func(p *Piece) { p.Profile.ThumbBridge = true },
			[]Note{struck(rh, Upper, 60, 0, 1), struck(rh, Lower, 67, 0, 1)}, "right hand two manuals unplayable"},
		{"a split manual is one manual", func(p *Piece) { p.Console = SingleConsole },
			[]Note{struck(rh, Upper, 57, 0, 1), struck(rh, Lower, 53, 0, 1)}, ""},
		{"a switch in a rest", func(p *Piece) {
			p.Controls = []Action{{At: 10080, Start: 1, Limb: lh, Switch: true, What: phrase.Of("rotary fast")}}
		},
			[]Note{struck(lh, Lower, 60, 0, 1), struck(lh, Lower, 60, 2, 3)}, ""},
		{"a switch for which a key is let go", func(p *Piece) {
			p.Controls = []Action{{At: 10080, Start: 1, Limb: lh, Switch: true, What: phrase.Of("rotary fast")}}
		},
			[]Note{struck(lh, Lower, 60, 0, 1), struck(lh, Lower, 62, 1, 3)}, "left hand control demanding"},
		{"a switch while holding", func(p *Piece) {
			p.Controls = []Action{{At: 10080, Start: 1, Limb: lh, Switch: true, What: phrase.Of("rotary fast")}}
		},
			[]Note{struck(lh, Lower, 60, 0, 2)}, "left hand control unplayable"},
		{"the other hand is free", func(p *Piece) {
			p.Controls = []Action{{At: 10080, Start: 1, Limb: lh, EitherHand: true, Switch: true, What: phrase.Of("rotary fast")}}
		}, []Note{struck(lh, Lower, 60, 0, 2)}, ""},
		{"the foot that swells is playing", func(p *Piece) {
			p.Controls = []Action{{At: 10080, Start: 1, Limb: RightFoot, Switch: true, What: phrase.Of("expression")}}
		}, []Note{struck(LeftFoot, Pedal, 36, 0, 2), struck(RightFoot, Pedal, 48, 0, 2)}, "right foot control unplayable"},
		{"a key the console lacks", func(p *Piece) { p.Console = ShortConsole },
			[]Note{struck(rh, Upper, 48, 0, 1)}, "right hand compass unplayable"},
		{"a busy hand", func(p *Piece) { p.Profile.BusyLimbs[lh] = true },
			[]Note{struck(lh, Lower, 60, 0, 1)}, "left hand no limb unplayable"},
		{"no feet", func(p *Piece) { p.Profile.Feet = NoFeet },
			[]Note{struck(LeftFoot, Pedal, 40, 0, 1)}, "left foot no limb unplayable"},
		{"three pedals", plain,
			[]Note{struck(LeftFoot, Pedal, 36, 0, 1), struck(LeftFoot, Pedal, 43, 0, 1), struck(RightFoot, Pedal, 48, 0, 1)}, "left foot too many keys unplayable"},
		{"two pedals for two feet", plain, []Note{struck(LeftFoot, Pedal, 36, 0, 1), struck(RightFoot, Pedal, 48, 0, 1)}, ""},
		{"a third for the left foot", func(p *Piece) { p.Profile.Feet = LeftOnly },
			[]Note{struck(LeftFoot, Pedal, 36, 0, 1), struck(RightFoot, Pedal, 40, 0, 1)}, "left foot pedal stretch demanding"},
		{"an octave for the left foot", func(p *Piece) { p.Profile.Feet = LeftOnly },
			[]Note{struck(LeftFoot, Pedal, 36, 0, 1), struck(RightFoot, Pedal, 48, 0, 1)}, "left foot pedal stretch unplayable"},
	} {
		p := Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: c.notes}
		c.change(&p)
		if got := found(Check(p)); got != c.want {
			t.Errorf("%s: found %q, not %q", c.name, got, c.want)
		}
	}
}

func TestStretchIsMeasuredAgainstTheHand(t *testing.T) {
	ninth := []Note{struck(RightHand, Upper, 60, 0, 1), struck(RightHand, Upper, 74, 0, 1)}
	tenth := []Note{struck(RightHand, Upper, 60, 0, 1), struck(RightHand, Upper, 76, 0, 1)}
	eleventh := []Note{struck(RightHand, Upper, 60, 0, 1), struck(RightHand, Upper, 77, 0, 1)}
	for _, c := range []struct {
		hands string
		notes []Note
		want  string
		asked Millimetres
	}{
		{"small", ninth, "right hand stretch demanding", 188},
		{"small", tenth, "right hand stretch unplayable", 211.5},
		{"medium", ninth, "", 0},
		{"medium", tenth, "right hand stretch demanding", 211.5},
		{"medium", eleventh, "right hand stretch unplayable", 235},
		{"large", tenth, "", 0},
		{"large", eleventh, "right hand stretch demanding", 235},
	} {
		p, _ := ProfileByName(c.hands)
		r := Check(Piece{Console: FullConsole, Profile: p, Notes: c.notes})
		if got := found(r); got != c.want {
			t.Errorf("%s hands: found %q, not %q", c.hands, got, c.want)
			continue
		}
		if c.want != "" && r.Findings[0].Asked != c.asked {
			t.Errorf("%s hands: asked for %v mm, not %v", c.hands, r.Findings[0].Asked, c.asked)
		}
	}
}

// TestTempoBound plays at the tempo that a finding says, and well above it;
// just above it other fingers may still find a way.
func TestTempoBound(t *testing.T) {
	leap := func(tempo float64) *Report {
		beat := 60 / tempo
		notes := blocks(RightHand, beat/2, []int{60, 64, 67, 69}, []int{79, 82, 86, 88})
		return Check(Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: notes, Tempo: tempo})
	}
	r := leap(300)
	if len(r.Findings) != 1 || r.Findings[0].Severity != Unplayable || r.Findings[0].TempoRatio <= 0 {
		t.Fatalf("found %q", found(r))
	}
	bound := 300 * r.Findings[0].TempoRatio
	if !leap(bound - 1).Playable() {
		t.Errorf("not playable below the bound of %.1f", bound)
	}
	if leap(1.2 * bound).Playable() {
		t.Errorf("playable far above the bound of %.1f", bound)
	}
}

// TestSilentSubstitution asks for a key that no finger is left for: the player
// starts the held one with 5, and must take it over by another to go on.
func TestSilentSubstitution(t *testing.T) {
	held := struck(RightHand, Upper, 76, 0, 2)
	held.Finger = 5
	r := Check(Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: []Note{held, struck(RightHand, Upper, 79, 1, 2)}})
	if m := r.Marks[0]; m.Finger != 5 || m.Then == 0 || m.Then >= r.Marks[1].Finger {
		t.Errorf("the held key is taken by %d-%d, the new one by %d", m.Finger, m.Then, r.Marks[1].Finger)
	}
}

func TestCareIsStatedOnce(t *testing.T) {
	var chords [][]int
	for i := range 200 {
		shift := i % 2 * 2
		chords = append(chords, []int{60 + shift, 64 + shift, 67 + shift, 76 + shift})
	}
	notes := append(blocks(RightHand, 0.3, chords...), blocks(LeftHand, 0.3, chords...)...)
	for i := range notes {
		if notes[i].Limb == LeftHand {
			notes[i].Division = Lower
		}
	}
	r := Check(Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: notes})
	if r.Care == "" || strings.Count(found(r), "strain") != 1 {
		t.Errorf("care %q, found %s", r.Care, found(r))
	}
	easy := Check(Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: line(RightHand, 0.5, upDown(60, 2, scaleSteps["major"])...)})
	if easy.Care != "" || len(easy.Findings) != 0 {
		t.Errorf("a slow scale calls for care: %s", found(easy))
	}
}

// TestSlidesAreMarked glides with the thumb from natural to natural under held
// keys, and with a toe from a sharp to the natural beside it.
func TestSlidesAreMarked(t *testing.T) {
	top := struck(RightHand, Upper, 79, 0, 2)
	r := Check(Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: []Note{
		{Start: 0, End: 2, At: 0, Until: 20160, Key: top.Key, Finger: 5},
		{Start: 0, End: 1, At: 0, Until: 10080, Key: 64, Finger: 1},
		{Start: 1, End: 2, At: 10080, Until: 20160, Key: 65, Finger: 1},
	}})
	if r.Marks[0].Glide || r.Marks[1].Glide || !r.Marks[2].Glide {
		t.Errorf("the thumb glides from E to F: %+v", r.Marks)
	}
	left := DefaultProfile()
	left.Feet = LeftOnly
	r = Check(Piece{Console: FullConsole, Profile: left, Notes: []Note{
		struck(LeftFoot, Pedal, 42, 0, 1), struck(LeftFoot, Pedal, 41, 1, 2),
	}})
	if m := r.Marks[1]; r.Marks[0].Glide || m.Part != Toe == m.Glide {
		t.Errorf("the left foot goes from F# to F: %+v", r.Marks)
	}
}

// TestSwingMayBePlayedStraighter swings a block that moves on every eighth: the
// short off-beats leave less time than it needs, straight ones leave enough.
func TestSwingMayBePlayedStraighter(t *testing.T) {
	swung := func(beat, part float64) string {
		notes := blocks(RightHand, beat/2, []int{60, 64, 67, 69}, []int{60, 64, 67, 69}, []int{72, 76, 79, 81}, []int{72, 76, 79, 81})
		for i := range notes {
			n := &notes[i]
			for _, s := range []*float64{&n.Start, &n.End} {
				if k := int(*s/(beat/2) + 0.5); k%2 == 1 {
					*s = beat * (float64(k/2) + part)
				}
			}
		}
		return found(Check(Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: notes}))
	}
	if got := swung(0.5, 0.5); got != "" {
		t.Errorf("straight: %s", got)
	}
	if got := swung(0.48, 0.7); got != "right hand speed demanding" {
		t.Errorf("swung: %s", got)
	}
	if got := swung(0.36, 0.7); got != "right hand speed unplayable" {
		t.Errorf("too fast even when straight: %s", got)
	}
}
