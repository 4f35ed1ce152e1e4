package musicxml

import (
	"cmp"
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// Voices follow limbs. The first voice is the lead with the chord under it,
// so that a reader who takes the top notes of the first voice has the melody;
// what the right hand holds against the lead's rhythm gets a voice of its own.
// The feet share one. Within a voice, notes of different lengths are cut at
// one another's ends and tied, so a voice never overlaps itself.

// voice is one line of chords on a staff.
type voice struct {
	number int
	// staff is where the rests of the voice are written, 1 from the top.
	staff int
	// first marks the voice that fills its staff where nothing is played.
	first bool
	// notes ascend by start; none lasts beyond longest.
	notes   []voiceNote
	longest project.Ticks
}

// voiceNote is a note of a voice in written ticks of the whole piece.
type voiceNote struct {
	start, end project.Ticks
	pitch      theory.Pitch
	staff      int
	technique
}

// voiceKey tells voices apart; the lead's is the lowest.
type voiceKey struct {
	staff int
	lead  bool
	limb  arrange.Limb
}

func (k voiceKey) compare(l voiceKey) int {
	if k.lead != l.lead {
		if k.lead {
			return -1
		}
		return 1
	}
	return cmp.Or(cmp.Compare(k.staff, l.staff), cmp.Compare(k.limb, l.limb))
}

// voicesOf sorts the notes of a realisation into voices, numbered from 1.
// Every staff has at least one.
func voicesOf(r *arrange.Realisation) []*voice {
	byKey := map[voiceKey]*voice{
		{staff: 1, lead: true}:                      {staff: 1},
		{staff: 2, limb: arrange.LeftHand}:          {staff: 2},
		{staff: staffCount, limb: arrange.LeftFoot}: {staff: staffCount},
	}
	leads := leadNotes(r.Notes)
	ruler, keys := r.Chart.Ruler(), barKeys(r.Chart)
	for i := range r.Notes {
		n := &r.Notes[i]
		k := keyOf(n, leads)
		if byKey[k] == nil {
			byKey[k] = &voice{staff: k.staff}
		}
		v := byKey[k]
		key := keys[ruler.BarAt(n.Start)]
		v.notes = append(v.notes, voiceNote{n.Start, n.Start + n.Duration, printable(n, key), staffOf(n), techniqueOf(n)})
	}
	return numbered(byKey)
}

// numbered returns the voices in the order of their keys.
func numbered(byKey map[voiceKey]*voice) []*voice {
	keys := make([]voiceKey, 0, len(byKey))
	for k := range byKey {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, voiceKey.compare)
	var out []*voice
	staff := 0
	for i, k := range keys {
		v := byKey[k]
		v.number, v.first = i+1, v.staff > staff
		v.notes = untangle(v.notes)
		for _, n := range v.notes {
			v.longest = max(v.longest, n.end-n.start)
		}
		staff = v.staff
		out = append(out, v)
	}
	return out
}

func staffOf(n *arrange.Note) int { return int(n.Division) + 1 }

// stretch is when a lead note sounds and where.
type stretch struct {
	start, duration project.Ticks
	division        arrange.Division
}

// leadNotes returns the key of each lead note by its stretch.
func leadNotes(notes []arrange.Note) map[stretch]int {
	leads := map[stretch]int{}
	for _, n := range notes {
		if n.Layer == arrange.LayerLead {
			leads[stretch{n.Start, n.Duration, n.Division}] = n.Key
		}
	}
	return leads
}

func keyOf(n *arrange.Note, leads map[stretch]int) voiceKey {
	if n.Layer == arrange.LayerLead {
		return voiceKey{staff: 1, lead: true}
	}
	lead, ok := leads[stretch{n.Start, n.Duration, n.Division}]
	if ok && n.Limb == arrange.RightHand && n.Key < lead {
		return voiceKey{staff: 1, lead: true}
	}
	limb := n.Limb
	if n.Division == arrange.Pedal {
		limb = arrange.LeftFoot
	}
	return voiceKey{staff: staffOf(n), limb: limb}
}

// printable returns the spelling of a note with at most two accidentals, in
// an octave that the format can write (0 to 9); lower keys, which no organ
// has, are written in octave 0.
func printable(n *arrange.Note, key theory.Key) theory.Pitch {
	p := n.Pitch
	if !p.IsValid() || p.Name().Alter() > 2 || p.Name().Alter() < -2 {
		p = theory.PitchAt(key.Spell(n.Key), n.Key)
	}
	for at := n.Key; !p.IsValid() || p.Octave() < 0; at += 12 {
		p = theory.PitchAt(key.Spell(at), at)
	}
	return p
}

// untangle sorts the notes of a voice and makes notes on one key follow each
// other: of two that start together the longer stays, and a note struck again
// ends the one before.
func untangle(notes []voiceNote) []voiceNote {
	slices.SortStableFunc(notes, func(a, b voiceNote) int {
		return cmp.Or(cmp.Compare(a.start, b.start), cmp.Compare(b.end, a.end))
	})
	last := map[int]int{} // index in out by key
	var out []voiceNote
	for _, n := range notes {
		i, ok := last[n.pitch.Key()]
		if ok && out[i].start == n.start {
			continue
		}
		if ok && out[i].end > n.start {
			out[i].end = n.start
		}
		last[n.pitch.Key()] = len(out)
		out = append(out, n)
	}
	return out
}
