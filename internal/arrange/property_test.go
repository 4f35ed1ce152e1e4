package arrange

import (
	"bytes"
	"cmp"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
	"organbook/internal/theory"
)

// onCharts checks a property of the realisation of random charts of every kind.
func onCharts(t *testing.T, check func(t *rapid.T, c *project.Chart, r *Realisation)) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		check(t, c, Realise(c, Options{}))
	})
}

func TestEveryNoteGetsItsLeadOnTop(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		if len(r.Steps) != len(c.Melody) {
			t.Fatalf("%d steps for %d notes", len(r.Steps), len(c.Melody))
		}
		for i, st := range r.Steps {
			n := c.Melody[i]
			if st.Start != n.Start || st.Duration != n.Duration || st.Lead.Name() != n.Pitch.Name() {
				t.Fatalf("step %d %v does not follow note %v", i, st, n)
			}
			if st.Voices[0].Key() != st.Lead.Key() {
				t.Fatalf("step %d: %v on top of lead %v", i, st.Voices, st.Lead)
			}
			for k := 1; k < len(st.Voices); k++ {
				if st.Voices[k].Key() >= st.Voices[k-1].Key() {
					t.Fatalf("step %d: voices %v do not descend", i, st.Voices)
				}
			}
			if st.Reason.String() == "" || st.Name == "" {
				t.Fatalf("step %d: no name or reason: %+v", i, st)
			}
		}
	})
}

func TestBlocksAreTheirFamilies(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for i, st := range r.Steps {
			if st.Pinned || len(st.Voices) < 4 {
				continue
			}
			var want [4]theory.Name
			switch st.Technique {
			case theory.Home:
				want = st.Family.Home()
			case theory.Away:
				want = st.Family.Away()
			default:
				continue
			}
			if got := classes(st.Voices); got != classesOf(want[:]) {
				t.Fatalf("step %d: %v is not the %v block of %v", i, st.Voices, st.Technique, st.Family)
			}
		}
	})
}

func classes(voices []theory.Pitch) theory.PCSet {
	var set theory.PCSet
	for _, v := range voices {
		set = set.With(v.Name().PC())
	}
	return set
}

func classesOf(names []theory.Name) theory.PCSet {
	var set theory.PCSet
	for _, n := range names {
		set = set.With(n.PC())
	}
	return set
}

func TestOnlyDoublingVoicingsDouble(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for i, st := range r.Steps {
			doubles := st.Voicing == theory.DoubleLead || st.Voicing == theory.Octaves
			if !st.Pinned && !doubles && classes(st.Voices).Len() != len(st.Voices) {
				t.Fatalf("step %d: %v doubles a note in %v", i, st.Voices, st.Voicing)
			}
		}
	})
}

func TestNoMinorNinthUnderTheLead(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for i, st := range r.Steps {
			if st.Pinned {
				continue
			}
			for _, v := range st.Voices[1:] {
				down := st.Voices[0].Key() - v.Key()
				asked := st.Chord.Has(9, -1) && v.Name().PC() == st.Chord.Root().PC()
				if down > 12 && down%12 == 1 && !asked && !st.playedAsFive(r) {
					t.Fatalf("step %d: %v over %v has a minor ninth under the lead", i, st.Voices, st.Chord)
				}
			}
		}
	})
}

// playedAsFive reports whether the step's block stands for the dominant of a two.
func (st *Step) playedAsFive(r *Realisation) bool {
	return r.search.stage.readings[st.Span].heard != st.Chord
}

func TestPinsAreKept(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for _, p := range c.Pins {
			i, _ := c.NoteStarting(p.Start)
			st := r.Steps[i]
			if p.Strength != project.PinBlock {
				weakPinIsKept(t, r, i, p)
				continue
			}
			if !st.Pinned {
				t.Fatalf("step %d is not pinned", i)
			}
			shift := st.Lead.Key() - p.Voices[0].Key()
			for k, v := range p.Voices {
				if st.Voices[k].Key() != v.Key()+shift {
					t.Fatalf("step %d: pin %v became %v", i, p.Voices, st.Voices)
				}
			}
		}
		pinned := 0
		for _, st := range r.Steps {
			if st.Pinned {
				pinned++
			}
		}
		if pinned > len(c.Pins) {
			t.Fatalf("%d steps are pinned by %d pins", pinned, len(c.Pins))
		}
	})
}

// weakPinIsKept checks a pin that fixes less than a block: the step does as it
// says, unless no candidate could.
func weakPinIsKept(t *rapid.T, r *Realisation, i int, p project.Pin) {
	st := &r.Steps[i]
	kept := st.Voicing == p.Voicing
	if p.Strength == project.PinTechnique {
		kept = st.Technique == p.Technique
	}
	if st.Pinned != kept {
		t.Fatalf("step %d: pin of the %v %v, pinned %v: %+v", i, p.Strength, p, st.Pinned, st.Block)
	}
}

func TestSpansPartitionTheChart(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		at := project.Ticks(0)
		for i, sp := range r.Spans {
			if sp.Start != at || sp.End < sp.Start {
				t.Fatalf("span %d runs from %d to %d after %d", i, sp.Start, sp.End, at)
			}
			at = sp.End
		}
		if at != c.Length() {
			t.Fatalf("spans end at %d of %d", at, c.Length())
		}
	})
}

func TestNotesCanBePlayed(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		console, _ := project.ConsoleByID(c.Console)
		checkNotes(t, c, console, r.Notes)
	})
}

// checkNotes holds the notes against the rules of the console: inside the
// chart, a key never struck while it is held, a hand never on two manuals, the
// pedals within their compass, fingers that exist.
func checkNotes(t *rapid.T, c *project.Chart, console project.Console, notes []Note) {
	held := map[[2]int]project.Ticks{}
	if !slices.IsSortedFunc(notes, func(a, b Note) int { return cmp.Compare(a.Start, b.Start) }) {
		t.Fatal("notes are not in order of time")
	}
	for i, n := range notes {
		if n.Duration <= 0 || n.Start < 0 || n.Start+n.Duration > c.Length() {
			t.Fatalf("note %d %+v leaves the chart", i, n)
		}
		key := [2]int{int(n.Division), n.Key}
		if held[key] > n.Start {
			t.Fatalf("note %d %+v strikes a key that is held", i, n)
		}
		held[key] = n.Start + n.Duration
		if n.Pitch.Key() != n.Key {
			t.Fatalf("note %d %+v is spelled %v", i, n, n.Pitch)
		}
		feet := n.Limb == LeftFoot || n.Limb == RightFoot
		if feet != (n.Division == Pedal) || feet && !console.Pedal.Has(n.Key) {
			t.Fatalf("note %d %+v: wrong limb or off the pedals", i, n)
		}
		if n.Finger < 0 || n.Finger > 5 {
			t.Fatalf("note %d %+v: no such finger", i, n)
		}
	}
	checkLimbs(t, notes)
}

func checkLimbs(t *rapid.T, notes []Note) {
	type busy struct {
		division Division
		until    project.Ticks
	}
	limbs := map[Limb]busy{}
	for i, n := range notes {
		b := limbs[n.Limb]
		if b.until > n.Start && b.division != n.Division {
			t.Fatalf("note %d %+v: its limb is still on the %v", i, n, b.division)
		}
		limbs[n.Limb] = busy{n.Division, max(b.until, n.Start+n.Duration)}
	}
}

func TestEveryMelodyNoteSounds(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		leads := map[int]bool{}
		for _, n := range r.Notes {
			if n.Layer == LayerLead {
				leads[n.Step] = true
			}
		}
		if len(leads) != len(r.Steps) {
			t.Fatalf("%d leads for %d steps", len(leads), len(r.Steps))
		}
	})
}

func TestRealiseIsPure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		before := written(t, c)
		a, b := Realise(c, Options{}), Realise(c, Options{})
		for i := range a.Steps {
			a.Alternatives(i)
		}
		if !bytes.Equal(before, written(t, c)) {
			t.Fatal("the chart was written to")
		}
		a.search, b.search = nil, nil
		a.Steps, b.Steps = worded(a.Steps), worded(b.Steps)
		if !reflect.DeepEqual(a, b) {
			t.Fatal("two realisations of one chart differ")
		}
	})
}

func written(t *rapid.T, c *project.Chart) []byte {
	var b bytes.Buffer
	if err := project.Write(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestTransposition moves charts whose blocks stay clear of the low limits and
// the ends of the manual, where transposing must change the choice.
func TestTransposition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := *projecttest.Charts(projecttest.Small).Draw(t, "chart")
		c.Pins, c.Console = nil, project.DefaultConsole
		c.Passages = slices.Clone(c.Passages)
		for i := range c.Passages {
			c.Passages[i].Treatment.LeadOctave = 0
			c.Passages[i].Treatment.BlocksFrom, c.Passages[i].Treatment.BlocksTo = 0, 0
		}
		c.Melody = slices.Clone(c.Melody)
		for i := range c.Melody {
			c.Melody[i].Pitch = intoOctave(c.Melody[i].Pitch, 74)
		}
		by := rapid.SampledFrom([]theory.Interval{
			theory.MinorSecond, theory.MajorSecond, theory.MinorThird, theory.MajorThird,
			theory.MinorSecond.Invert(), theory.MajorSecond.Invert(), theory.MinorThird.Invert(),
		}).Draw(t, "by")
		d, err := c.Transpose(by)
		if err != nil {
			t.Skip(err)
		}
		ignored := project.ReachIgnored
		o := Options{Reach: &ignored} // the keys have real sizes, which do not transpose
		compareTransposed(t, Realise(&c, o), Realise(d, o), by.Semitones())
	})
}

func intoOctave(p theory.Pitch, low int) theory.Pitch {
	key := low + ((p.Key()-low)%12+12)%12
	return theory.PitchAt(p.Name(), key)
}

func compareTransposed(t *rapid.T, a, b *Realisation, semitones int) {
	for i := range a.Steps {
		x, y := &a.Steps[i], &b.Steps[i]
		if x.Technique != y.Technique || x.Voicing != y.Voicing || x.Anticipates != y.Anticipates || len(x.Voices) != len(y.Voices) {
			t.Fatalf("step %d: %+v became %+v", i, x, y)
		}
		if x.Family.IsValid() && (x.Family.Tonic().PC()+semitones+24)%12 != y.Family.Tonic().PC() {
			t.Fatalf("step %d: family %v became %v", i, x.Family, y.Family)
		}
		for k := range x.Voices {
			if x.Voices[k].Key()+semitones != y.Voices[k].Key() {
				t.Fatalf("step %d: voices %v became %v", i, x.Voices, y.Voices)
			}
		}
	}
}
