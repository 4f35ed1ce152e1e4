package project

import (
	"fmt"
	"slices"
	"strings"

	"organbook/internal/theory"
)

// Treatment says how the melody of a passage is harmonised. The zero value is
// close blocks by the arranger's own judgement.
type Treatment struct {
	Voicing theory.Voicing
	// TwoFiveAsFive harmonises a ii–V as its V while the bass plays both.
	TwoFiveAsFive bool
	// LeadOctave moves the lead (and its blocks) by octaves; -2 to 2.
	LeadOctave int
	// Prefer and Forbid move families up and out of the list that serves a
	// chord. A chord that only forbidden families serve plays its own notes.
	Prefer, Forbid FamilySet
	// Borrow says how many voices may come from a family's other chord.
	Borrow Borrow
	// Dominants is the colour of dominants that resolve.
	Dominants DominantColour
	// Leaning is what the passage leans towards where taste decides.
	Leaning Leaning
	// Reach says how strongly the player's reach bears on the blocks.
	Reach ReachWeight
	// BlocksFrom and BlocksTo are the lowest and highest lead, as keys, that
	// gets a block; 0 is the usual limit. See BlockRange.
	BlocksFrom, BlocksTo int
	// FullRuns keeps whole blocks under runs that are too fast for them.
	FullRuns bool
	// MoveInner moves the inner voices home–away–home under held notes.
	MoveInner bool
	// AlternateRepeats changes between home and away under repeated notes.
	AlternateRepeats bool
	// OpenAtClimax opens the voicing at the top of each phrase.
	OpenAtClimax bool
}

// FamilySet is a set of families by colour, one bit each.
type FamilySet uint8

// FamiliesOf returns the set of the given families.
func FamiliesOf(sixths ...theory.Sixth) (set FamilySet) {
	for _, s := range sixths {
		set |= 1 << s
	}
	return set
}

// Has reports whether the family is in the set.
func (s FamilySet) Has(sixth theory.Sixth) bool { return s&(1<<sixth) != 0 }

// Families lists the set in the order of theory.Sixths.
func (s FamilySet) Families() (out []theory.Sixth) {
	for _, sixth := range theory.Sixths {
		if s.Has(sixth) {
			out = append(out, sixth)
		}
	}
	return out
}

// allFamilies is every family there is.
var allFamilies = FamiliesOf(theory.Sixths[:]...)

// String lists the families with commas between.
func (s FamilySet) String() string {
	var words []string
	for _, sixth := range s.Families() {
		words = append(words, sixth.String())
	}
	return strings.Join(words, ", ")
}

// Borrow says how many voices may come from a family's other chord.
type Borrow uint8

// How much to borrow.
const (
	// BorrowAsNeeded borrows where the melody or the line asks for it.
	BorrowAsNeeded Borrow = iota
	// BorrowNever plays whole home and away chords only.
	BorrowNever
	// BorrowFreely also borrows inner voices for their sound.
	BorrowFreely
)

// DominantColour says which ninth and fifth dominants take where the symbol
// leaves it open; what the symbol spells out always wins.
type DominantColour uint8

// The colours of dominants.
const (
	// DominantsByFunction lets the target decide.
	DominantsByFunction DominantColour = iota
	// DominantsFlatNine prefers the flat ninth of the target's away chord.
	DominantsFlatNine
	// DominantsNaturalNine prefers the minor sixth chord on the fifth.
	DominantsNaturalNine
	// DominantsAltered prefers the minor sixth chord on the raised root.
	DominantsAltered
)

// Leaning is a taste that a passage leans towards.
type Leaning uint8

// The leanings.
const (
	LeanNowhere Leaning = iota
	// LeanBorrowed takes more voices from the other chord.
	LeanBorrowed
	// LeanSmooth moves the inner voices as little as it can.
	LeanSmooth
	// LeanContrary moves inner voices against the lead.
	LeanContrary
	// LeanBright gives dominants their natural ninths.
	LeanBright
)

// Borrows, DominantColours and Leanings list every value in menu order.
var (
	Borrows         = []Borrow{BorrowAsNeeded, BorrowNever, BorrowFreely}
	DominantColours = []DominantColour{DominantsByFunction, DominantsFlatNine, DominantsNaturalNine, DominantsAltered}
	Leanings        = []Leaning{LeanNowhere, LeanBorrowed, LeanSmooth, LeanContrary, LeanBright}
)

var (
	borrowWords  = []string{"as-needed", "never", "freely"}
	colourWords  = []string{"by-function", "flat-nine", "natural-nine", "altered"}
	leaningWords = []string{"nowhere", "borrowed", "smooth", "contrary", "bright"}
)

// String returns the word files use: "as-needed", "never", "freely".
func (b Borrow) String() string { return borrowWords[b] }

// String returns the word files use: "by-function", "flat-nine", "natural-nine",
// "altered".
func (d DominantColour) String() string { return colourWords[d] }

// String returns the word files use: "nowhere", "borrowed", "smooth",
// "contrary", "bright".
func (l Leaning) String() string { return leaningWords[l] }

// ParseBorrow reads a word written by Borrow.String.
func ParseBorrow(s string) (Borrow, error) { return parseWord[Borrow]("borrow", borrowWords, s) }

// ParseDominantColour reads a word written by DominantColour.String.
func ParseDominantColour(s string) (DominantColour, error) {
	return parseWord[DominantColour]("dominants", colourWords, s)
}

// ParseLeaning reads a word written by Leaning.String.
func ParseLeaning(s string) (Leaning, error) { return parseWord[Leaning]("leaning", leaningWords, s) }

// treatment checks one treatment of a passage or take.
func (k *checker) treatment(where string, t *Treatment) {
	if t.Voicing > theory.UnisonVoicing {
		k.add(where, "there is no voicing %d", t.Voicing)
	}
	if o := t.LeadOctave; o < -MaxLeadOctave || o > MaxLeadOctave {
		k.add(where, "a lead moved by %d octaves is outside %d to %d", o, -MaxLeadOctave, MaxLeadOctave)
	}
	if (t.Prefer|t.Forbid)&^allFamilies != 0 {
		k.add(where, "there is no family in the set %#x", uint8((t.Prefer|t.Forbid)&^allFamilies))
	}
	if both := t.Prefer & t.Forbid; both != 0 {
		k.add(where, "the family %s is preferred and forbidden at once", both)
	}
	k.blockRange(where, t)
	if int(t.Reach) >= len(ReachWeights) {
		k.add(where, "there is no weight %d for reach", t.Reach)
	}
	if int(t.Borrow) >= len(Borrows) || int(t.Dominants) >= len(DominantColours) || int(t.Leaning) >= len(Leanings) {
		k.add(where, "there is no such way to borrow, colour of dominants or leaning: %d, %d, %d", t.Borrow, t.Dominants, t.Leaning)
	}
}

// wireTreatment is the part of a passage or take that says how the melody is
// harmonised.
type wireTreatment struct {
	Voicing          string   `json:"voicing"`
	TwoFiveAsFive    bool     `json:"twoFiveAsFive,omitempty"`
	LeadOctave       int      `json:"leadOctave,omitempty"`
	Prefer           []string `json:"prefer,omitempty"`
	Forbid           []string `json:"forbid,omitempty"`
	Borrow           string   `json:"borrow,omitempty"`
	Dominants        string   `json:"dominants,omitempty"`
	Leaning          string   `json:"leaning,omitempty"`
	Reach            string   `json:"reach,omitempty"`
	BlocksFrom       int      `json:"blocksFrom,omitempty"`
	BlocksTo         int      `json:"blocksTo,omitempty"`
	FullRuns         bool     `json:"fullRuns,omitempty"`
	MoveInner        bool     `json:"moveInner,omitempty"`
	AlternateRepeats bool     `json:"alternateRepeats,omitempty"`
	OpenAtClimax     bool     `json:"openAtClimax,omitempty"`
}

func wireTreatmentOf(t Treatment) wireTreatment {
	return wireTreatment{
		Voicing: t.Voicing.String(), TwoFiveAsFive: t.TwoFiveAsFive, LeadOctave: t.LeadOctave,
		Prefer: wireFamilies(t.Prefer), Forbid: wireFamilies(t.Forbid),
		Borrow: unlessFirst(t.Borrow), Dominants: unlessFirst(t.Dominants), Leaning: unlessFirst(t.Leaning),
		Reach: unlessFirst(t.Reach), BlocksFrom: t.BlocksFrom, BlocksTo: t.BlocksTo,
		FullRuns: t.FullRuns, MoveInner: t.MoveInner, AlternateRepeats: t.AlternateRepeats, OpenAtClimax: t.OpenAtClimax,
	}
}

// unlessFirst writes a word unless it is the usual one, which files leave out.
func unlessFirst[T interface {
	~uint8
	fmt.Stringer
}](v T) string {
	if v == 0 {
		return ""
	}
	return v.String()
}

// parseUnlessEmpty reads what unlessFirst wrote.
func parseUnlessEmpty[T ~uint8](s string, parse func(string) (T, error)) (T, error) {
	if s == "" {
		return 0, nil
	}
	return parse(s)
}

func wireFamilies(s FamilySet) []string { return mapped(s.Families(), theory.Sixth.String) }

func familySet(words []string) (set FamilySet, err error) {
	for i, w := range words {
		sixth, err := theory.ParseSixth(w)
		if err != nil {
			return 0, err
		}
		if slices.Contains(words[:i], w) {
			return 0, fmt.Errorf("family %q is listed twice", w)
		}
		set |= FamiliesOf(sixth)
	}
	return set, nil
}

func (w *wireTreatment) treatment() (t Treatment, err error) {
	t = Treatment{
		TwoFiveAsFive: w.TwoFiveAsFive, LeadOctave: w.LeadOctave, FullRuns: w.FullRuns,
		BlocksFrom: w.BlocksFrom, BlocksTo: w.BlocksTo,
		MoveInner: w.MoveInner, AlternateRepeats: w.AlternateRepeats, OpenAtClimax: w.OpenAtClimax,
	}
	for _, step := range []func() error{
		func() (err error) { t.Voicing, err = theory.ParseVoicing(w.Voicing); return },
		func() (err error) { t.Prefer, err = familySet(w.Prefer); return },
		func() (err error) { t.Forbid, err = familySet(w.Forbid); return },
		func() (err error) { t.Borrow, err = parseUnlessEmpty(w.Borrow, ParseBorrow); return },
		func() (err error) { t.Dominants, err = parseUnlessEmpty(w.Dominants, ParseDominantColour); return },
		func() (err error) { t.Reach, err = parseUnlessEmpty(w.Reach, ParseReachWeight); return },
		func() (err error) { t.Leaning, err = parseUnlessEmpty(w.Leaning, ParseLeaning); return },
	} {
		if err := step(); err != nil {
			return t, err
		}
	}
	return t, nil
}
