package theory

import (
	"slices"
	"strings"

	"organbook/internal/phrase"
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
	Reason phrase.Phrase
	// open reports that the symbol does not decide how the family is spelled:
	// the minor sixth over a dominant's raised root is F#m6 as well as Gbm6.
	open bool
}

// Setting is what is known of a chord besides its symbol. The zero value is
// nothing.
type Setting struct {
	// Target is the chord it moves to; not valid where that is unknown. When the
	// chord does not resolve into it (see Resolves) it counts as unknown.
	Target Chord
	// AtRest reports a tonic, or a dominant that stays where it is. A target
	// overrules it.
	AtRest bool
	// Key spells the families whose spelling the symbol leaves open; without one
	// the fewer accidentals win.
	Key Key
}

// Serve returns the families that serve a chord of which only the symbol is
// known, in order of preference. It is empty for N.C.
func Serve(c Chord) []Service { return ServeIn(c, Setting{}) }

// ServeAtRest is Serve for a chord known to be a tonic, or a dominant that
// stays where it is.
func ServeAtRest(c Chord) []Service { return ServeIn(c, Setting{AtRest: true}) }

// ServeToward returns the families that serve a chord that moves to target, in
// order of preference.
func ServeToward(c, target Chord) []Service { return ServeIn(c, Setting{Target: target}) }

// ServeIn returns the families that serve a chord in its setting, in order of
// preference.
func ServeIn(c Chord, s Setting) []Service {
	where := resolution(c, s.Target)
	switch {
	case where != unknown:
	case s.AtRest && !s.Target.IsValid():
		where, s.Target = atRest, Chord{}
	default:
		s.Target = Chord{}
	}
	return serve(c, s, where)
}

// Spelled returns the service with its family on lead as it is written, where
// lead sounds the family's tonic and the symbol leaves the spelling open. Other
// leads decide nothing: over F7 both Eb and A are notes of the symbol, and one of
// them is foreign to F#m6 as the other is to Gbm6. The sentence keeps its
// spelling.
func (s Service) Spelled(lead Name) Service {
	if s.open && lead.PC() == s.Family.tonic.PC() {
		s.Family.tonic = nearName(lead)
	}
	return s
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

func serve(c Chord, in Setting, where place) []Service {
	out := make([]Service, 0, 5)
	q := c.Quality()
	chord, to, root := c.WithoutBass().String(), in.Target.WithoutBass().String(), c.root.String()
	for i := range serveRows {
		row := &serveRows[i]
		if row.where&where == 0 || !slices.Contains(row.on, q) || !row.fits(c) {
			continue
		}
		s := Service{Family: row.family(c, in), Leading: row.leading, open: row.open()}
		if offered(out, s.Family) {
			continue
		}
		s.Sound = soundOver(c, s.block()).String()
		s.Reason = serveForms[i].reason(chord, to, root, s)
		out = append(out, s)
	}
	rank(c, out)
	return out
}

// fits reports whether the chord has the degrees the row asks for.
func (r *serveRow) fits(c Chord) bool {
	return c.tones&r.with == r.with
}

// open reports whether the row leaves the spelling of its family open.
func (r *serveRow) open() bool { return r.at == raisedUnison && !r.toTarget }

// family returns the row's family over the chord.
func (r *serveRow) family(c Chord, in Setting) Family {
	if r.toTarget {
		return FamilyOf(in.Target)
	}
	if r.open() {
		tonic := c.root.Transpose(MinorSecond)
		if in.Key.IsValid() {
			return NewFamily(plainName(in.Key.Spell(tonic.PC())), r.sixth)
		}
		return NewFamily(simplerTonic(tonic, r.sixth), r.sixth)
	}
	return NewFamily(nearName(c.root.Transpose(r.at)), r.sixth)
}

// plainName respells a name with more than one accidental, and a white key
// written as a black one: nobody reads Cbm6 for Bm6.
func plainName(n Name) Name {
	n = nearName(n)
	if natural, ok := naturalName(n.PC()); ok {
		return natural
	}
	return n
}

// naturalName returns the letter of a white key.
func naturalName(pc int) (Name, bool) {
	for letter, semitones := range letterSemitones {
		if semitones == pc {
			return NewName(Letter(letter), 0), true
		}
	}
	return Name{}, false
}

// nearName respells a name with more than one accidental.
func nearName(n Name) Name {
	if n.alter < -1 || n.alter > 1 {
		return enharmonic(n)
	}
	return n
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

// simplerTonic respells a tonic whose signature would have more than seven
// accidentals: the flat ninth of B flat is B, and those of D and G stay E flat
// and A flat.
func simplerTonic(n Name, sixth Sixth) Name {
	signature := func(n Name) int {
		if sixth == MinorSixthFamily {
			return n.Fifths() - 3
		}
		return n.Fifths()
	}
	best := n
	if abs(signature(n)) <= 7 {
		return n
	}
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

// serveForm is a row's sentence as a phrase has it: the words in braces are its
// operands, in order.
type serveForm struct {
	text     string
	operands []string
}

// serveForms are the sentences of serveRows.
var serveForms = formsOf(serveRows)

func formsOf(rows []serveRow) []serveForm {
	out := make([]serveForm, len(rows))
	for i := range rows {
		f := &out[i]
		for rest := rows[i].why; ; {
			plain, after, found := strings.Cut(rest, "{")
			f.text += plain
			if !found {
				break
			}
			word, next, _ := strings.Cut(after, "}")
			f.text += "%s"
			f.operands = append(f.operands, word)
			rest = next
		}
	}
	return out
}

// reason fills in the sentence. chord and target are the symbols without their
// basses.
func (f *serveForm) reason(chord, target, root string, s Service) phrase.Phrase {
	operands := make([]any, len(f.operands))
	for i, word := range f.operands {
		switch word {
		case "chord":
			operands[i] = chord
		case "target":
			operands[i] = target
		case "root":
			operands[i] = root
		case "home":
			operands[i] = s.Family.HomeChord()
		case "away":
			operands[i] = s.Family.AwayChord()
		case "sound":
			operands[i] = s.Sound
		}
	}
	return phrase.Of(f.text, operands...)
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
