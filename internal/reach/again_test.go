package reach

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestCheckingAgainIsTheSame edits random pieces again and again: a note is
// changed, taken away or put in, early or late, or let go of sooner; or somebody
// else plays, on another console or at another tempo. Each check after the one before
// gives what a check from nothing gives, and so do the searches of each hand.
func TestCheckingAgainIsTheSame(t *testing.T) {
	shortened := false
	rapid.Check(t, func(t *rapid.T) {
		notes := streams(rapid.SampledFrom([]int{20, 150}).Draw(t, "moments")).Draw(t, "notes")
		p := Piece{Console: FullConsole, Profile: anyProfile(t), Notes: notes}
		for i := range p.Notes {
			p.Notes[i].Limb = Limb(i / 7 % 2)
		}
		before := Check(p)
		for range rapid.IntRange(1, 4).Draw(t, "edits") {
			switch rapid.IntRange(0, 7).Draw(t, "what") {
			case 0:
				p.Profile = anyProfile(t)
			case 1:
				p.Console = rapid.SampledFrom([]Console{FullConsole, ShortConsole}).Draw(t, "console")
			case 2:
				p.Notes = slices.Clone(p.Notes)
				for i, faster := 0, rapid.SampledFrom([]float64{0.2, 5}).Draw(t, "tempo"); i < len(p.Notes); i++ {
					p.Notes[i].Start, p.Notes[i].End = p.Notes[i].Start*faster, p.Notes[i].End*faster
				}
			default:
				p.Notes = edited(t, p.Notes)
			}
			again, fresh := CheckAfter(before, p), Check(p)
			for limb := range again.work {
				a, f := again.work[limb], fresh.work[limb]
				if (a == nil) != (f == nil) {
					t.Fatal("one check has no search")
				}
				if a == nil {
					continue
				}
				if len(f.marks) == 0 {
					continue
				}
				shortened = shortened || before.work[limb] != nil && len(a.marks) > 2
				if last, want := a.marks[len(a.marks)-1], f.marks[len(f.marks)-1]; !reflect.DeepEqual(last, want) {
					t.Fatalf("limb %d: the last states are %+v, want %+v", limb, last, want)
				}
				if !slices.Equal(a.trails, f.trails) {
					t.Fatalf("limb %d: other ways", limb)
				}
			}
			a, f := *again, *fresh
			a.work, f.work = [2]*handWork{}, [2]*handWork{}
			a.pedalled, f.pedalled = nil, nil
			if !reflect.DeepEqual(a, f) {
				t.Fatalf("checked again:\n%+v\nfrom nothing:\n%+v", a, f)
			}
			before = again
		}
	})
	if !shortened {
		t.Error("no piece was long enough to try anything")
	}
}

// edited changes a note, takes one away or puts one in.
func edited(t *rapid.T, notes []Note) []Note {
	out := slices.Clone(notes)
	i := rapid.IntRange(0, len(out)-1).Draw(t, "note")
	switch rapid.IntRange(0, 5).Draw(t, "edit") {
	case 0:
		if len(out) > 1 {
			return slices.Delete(out, i, i+1)
		}
	case 1:
		n := out[i]
		n.Key += rapid.SampledFrom([]int{-2, 2, 3}).Draw(t, "beside")
		return slices.Insert(out, i+1, n)
	case 5:
		out[i].End -= (out[i].End - out[i].Start) / 2
	case 2:
		out[i].Finger = rapid.IntRange(0, 5).Draw(t, "finger")
	default:
		out[i].Key = max(48, min(84, out[i].Key+rapid.IntRange(-4, 4).Draw(t, "up")))
	}
	return out
}

// TestPedallingAgainIsTheSame edits pieces for hands and feet: the feet go as
// they would from nothing, and another way is looked for only where their own
// line has changed.
func TestPedallingAgainIsTheSame(t *testing.T) {
	kept, sought := false, false
	rapid.Check(t, func(t *rapid.T) {
		p := Piece{Console: FullConsole, Profile: anyProfile(t), Notes: streams(40).Draw(t, "notes")}
		for i := range p.Notes {
			if i%3 == 0 {
				p.Notes[i].Division, p.Notes[i].Limb, p.Notes[i].Key = Pedal, LeftFoot, 36+p.Notes[i].Key%25
			}
		}
		before := Check(p)
		for range rapid.IntRange(1, 4).Draw(t, "edits") {
			if rapid.IntRange(0, 4).Draw(t, "what") == 0 {
				p.Profile = anyProfile(t)
			} else {
				p.Notes = edited(t, p.Notes)
			}
			again, fresh := CheckAfter(before, p), Check(p)
			if again.pedalled != nil && before.pedalled != nil {
				same := &again.pedalled.treads[0] == &before.pedalled.treads[0]
				kept, sought = kept || same, sought || !same
			}
			a, f := *again, *fresh
			a.work, f.work, a.pedalled, f.pedalled = [2]*handWork{}, [2]*handWork{}, nil, nil
			if !reflect.DeepEqual(a, f) {
				t.Fatalf("checked again:\n%+v\nfrom nothing:\n%+v", a, f)
			}
			before = again
		}
	})
	if !kept || !sought {
		t.Errorf("a way was kept: %t, another one sought: %t", kept, sought)
	}
}

// TestASearchIsShortened counts the moments that are worked out anew after a
// change of one note in the middle of a long piece.
func TestASearchIsShortened(t *testing.T) {
	var notes []Note
	for i := range 1000 {
		at := Ticks(i * 5040)
		notes = append(notes, Note{At: at, Until: at + 5040, Start: float64(at) / 20160, End: float64(at+5040) / 20160, Key: 60 + i*7%13})
	}
	of := make([]int, len(notes))
	for i := range of {
		of[i] = i
	}
	_, before := newHand(notes, of, RightHand, FullConsole, DefaultProfile()).solveAfter(nil)
	notes = slices.Clone(notes)
	notes[500].Key += 2
	h := newHand(notes, of, RightHand, FullConsole, DefaultProfile())
	s := &search{hand: h}
	for i := range h.moments {
		s.lists = append(s.lists, gripsOf(&h.moments[i]))
	}
	at := s.begin(before)
	if at < 470 || at > 499 {
		t.Errorf("begins at moment %d, the edit is at 500", at)
	}
	if end := s.advance(at, before); end < 500 || end > 560 {
		t.Errorf("goes on to moment %d of 1000, the edit is at 500", end)
	}
}
