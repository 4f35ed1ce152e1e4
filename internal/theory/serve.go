package theory

import (
	"slices"
	"strings"
)

// Service is a family that serves a chord: blocks of the family may be played
// while the chord is in force.
type Service struct {
	Family Family
	// Leading reports that the chord works as the family's dominant: its own
	// sound is the family's away chord, and home belongs to what follows.
	Leading bool
	// Sound is what the family's resting block (the away block when Leading)
	// sounds as over the chord's root: a chord symbol in ASCII.
	Sound string
	// Reason says in a sentence why the family serves.
	Reason string
}

// Serve returns the families that serve a chord of which only the symbol is
// known, in order of preference. It is empty for N.C.
func Serve(c Chord) []Service { return serve(c, Chord{}, unknown) }

// ServeAtRest is Serve for a chord known to be a tonic, or a dominant that
// stays where it is.
func ServeAtRest(c Chord) []Service { return serve(c, Chord{}, atRest) }

// ServeToward returns the families that serve a chord that moves to target, in
// order of preference. When the chord does not resolve into target (see
// Resolves) the answer is that of Serve.
func ServeToward(c, target Chord) []Service {
	where := resolution(c, target)
	if where == unknown {
		return Serve(c)
	}
	return serve(c, target, where)
}

// Resolves reports whether c works as a dominant of target: a dominant,
// suspended or augmented chord whose root lies a fifth above, a semitone above
// (tritone substitute) or a whole tone below (backdoor), or a diminished chord
// that is the away chord of the target's family.
func Resolves(c, target Chord) bool { return resolution(c, target) != unknown }

// FamilyOf returns the family in which a chord that others lead to is at home:
// minor on the root for a minor or half-diminished chord, else major. It is
// not valid for N.C.
func FamilyOf(target Chord) Family {
	if target.none || !target.IsValid() {
		return Family{}
	}
	if target.tones.has(3, -1) && !target.tones.has(3, 0) {
		return NewFamily(target.root, MinorSixthFamily)
	}
	return NewFamily(target.root, MajorSixthFamily)
}

func resolution(c, target Chord) place {
	to, q := FamilyOf(target), c.Quality()
	if !to.IsValid() {
		return unknown
	}
	switch {
	case q == DiminishedTriad || q == DiminishedSeventh:
		if awayPCs(to).Covers(c.PCSet()) {
			return downFifth
		}
	case q.IsDominant() || q == Augmented:
		switch mod(to.tonic.PC()-c.root.PC(), 12) {
		case 5:
			return downFifth
		case 11:
			return downSemitone
		case 2:
			return upTone
		}
	}
	return unknown
}

func serve(c, target Chord, where place) []Service {
	out := make([]Service, 0, 5)
	q := c.Quality()
	chord, to, root := c.WithoutBass().String(), target.WithoutBass().String(), c.root.String()
	for i := range serveRows {
		row := &serveRows[i]
		if row.where&where == 0 || !slices.Contains(row.on, q) || !row.fits(c) {
			continue
		}
		s := Service{Family: row.family(c, target), Leading: row.leading}
		if offered(out, s.Family) {
			continue
		}
		s.Sound = soundOver(c, s.block()).String()
		s.Reason = row.reason(chord, to, root, s)
		out = append(out, s)
	}
	rank(c, out)
	return out
}

// fits reports whether the chord has the degrees the row asks for.
func (r *serveRow) fits(c Chord) bool {
	return c.tones&r.with == r.with
}

// family returns the row's family over the chord.
func (r *serveRow) family(c, target Chord) Family {
	if r.toTarget {
		return FamilyOf(target)
	}
	if r.at == raisedUnison {
		return NewFamily(simplerTonic(c.root.Transpose(MinorSecond), r.sixth), r.sixth)
	}
	tonic := c.root.Transpose(r.at)
	if tonic.alter < -1 || tonic.alter > 1 {
		tonic = enharmonic(tonic)
	}
	return NewFamily(tonic, r.sixth)
}

// offered reports whether a family is in the list, in this or another spelling.
func offered(list []Service, f Family) bool {
	for _, s := range list {
		if s.Family.sixth == f.sixth && s.Family.tonic.PC() == f.tonic.PC() {
			return true
		}
	}
	return false
}

// enharmonic returns the name nearest to C on the line of fifths that sounds
// the same.
func enharmonic(n Name) Name {
	f := n.Fifths()
	for f > 6 {
		f -= 12
	}
	for f < -6 {
		f += 12
	}
	return NameFromFifths(f)
}

// simplerTonic respells a tonic when that saves accidentals in its signature:
// the flat ninth of B flat is B, and that of D stays E flat.
func simplerTonic(n Name, sixth Sixth) Name {
	signature := func(n Name) int {
		if sixth == MinorSixthFamily {
			return n.Fifths() - 3
		}
		return n.Fifths()
	}
	best := n
	for _, other := range [...]Name{NameFromFifths(n.Fifths() - 12), NameFromFifths(n.Fifths() + 12)} {
		if abs(signature(other)) < abs(signature(best)) {
			best = other
		}
	}
	return best
}

// block returns the pitch classes that stand for the chord: home at rest, away
// when the chord leads.
func (s Service) block() PCSet {
	if s.Leading {
		return awayPCs(s.Family)
	}
	return homePCs(s.Family)
}

func homePCs(f Family) PCSet { return pcsOf(f.Home()) }
func awayPCs(f Family) PCSet { return pcsOf(f.Away()) }

func pcsOf(names [4]Name) (set PCSet) {
	for _, n := range names {
		set = set.With(n.PC())
	}
	return set
}

// reason fills in the row's sentence. chord and target are the symbols without
// their basses.
func (r *serveRow) reason(chord, target, root string, s Service) string {
	var b strings.Builder
	b.Grow(len(r.why) + 32)
	for text := r.why; ; {
		plain, rest, found := strings.Cut(text, "{")
		b.WriteString(plain)
		if !found {
			return b.String()
		}
		word, after, _ := strings.Cut(rest, "}")
		text = after
		switch word {
		case "chord":
			b.WriteString(chord)
		case "target":
			b.WriteString(target)
		case "root":
			b.WriteString(root)
		case "home":
			b.WriteString(s.Family.HomeChord().String())
		case "away":
			b.WriteString(s.Family.AwayChord().String())
		case "sound":
			b.WriteString(s.Sound)
		}
	}
}

// clashWeight makes one clash outweigh one colour tone supplied.
const clashWeight = 2

// rank reorders the services of a chord whose symbol asks for colours. A
// colour is an altered degree, or the ninth or thirteenth of a dominant (in a
// chord at rest those are ornaments). Blocks that supply colours move up, and
// blocks with a note a semitone from a colour, from the third or from the
// seventh move down; the order of the table decides the rest.
func rank(c Chord, list []Service) {
	colours := c.colours()
	if colours == 0 {
		return
	}
	score := func(s Service) int {
		block := s.block()
		return clashWeight*c.clashes(block, colours) - (block & colours).Len()
	}
	slices.SortStableFunc(list, func(a, b Service) int { return score(a) - score(b) })
}

// colours returns the pitch classes a symbol asks for beyond its plain form.
func (c Chord) colours() (set PCSet) {
	dominant := c.Quality().IsDominant()
	for s := c.tones; s != 0; {
		d := s.next()
		altered := d.alter != 0 && d.number != 3 && d.number != 7
		if altered && d.number == 5 && c.Quality().lowersFifth() {
			altered = false // the quality's own fifth
		}
		if altered || dominant && (d.number == 9 || d.number == 13 || d.number == 6) {
			set = set.With(c.root.PC() + d.interval().Semitones())
		}
	}
	return set
}

// lowersFifth reports whether a lowered fifth is what makes the quality.
func (q Quality) lowersFifth() bool {
	return q == HalfDiminished || q == DiminishedTriad || q == DiminishedSeventh
}

// clashes counts the block's notes, foreign to the chord, that lie a semitone
// from a tone which the chord insists on. Root and fifth do not insist: a flat
// ninth and a raised fifth take nothing from them.
func (c Chord) clashes(block, colours PCSet) (n int) {
	firm := colours
	for s := c.tones; s != 0; {
		if d := s.next(); d.number == 3 || d.number == 4 || d.number == 7 {
			firm = firm.With(c.root.PC() + d.interval().Semitones())
		}
	}
	foreign := block &^ c.PCSet()
	for pc := 0; pc < 12; pc++ {
		if foreign.Has(pc) && (firm.Has(pc+1) || firm.Has(pc-1)) {
			n++
		}
	}
	return n
}
