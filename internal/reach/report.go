package reach

import (
	"cmp"
	"slices"

	"organbook/internal/phrase"
)

// Piece is what a player is asked for.
type Piece struct {
	Console Console
	Profile Profile
	// Notes may come in any order.
	Notes []Note
	// Controls are the settings a limb has to see to while playing.
	Controls []Action
	// Swelling is when the right foot moves the expression pedal and plays no keys.
	Swelling []Span
	// Tempo is the tempo in quarter notes a minute, for the text of findings
	// that a slower tempo removes; 0 leaves it out.
	Tempo float64
}

// Span is a time from At up to but not including Until.
type Span struct{ At, Until Ticks }

// Action is a limb leaving its keys for a control: the rotary switch, a
// drawbar, the expression pedal.
type Action struct {
	At    Ticks
	Start float64 // seconds
	// Limb is what leaves its keys; with EitherHand the other hand may do it
	// as well.
	Limb       Limb
	EitherHand bool
	// Switch reports that one quick touch does it.
	Switch bool
	// What is the control in words, such as "rotary fast".
	What phrase.Phrase
}

// Report is how a piece is played and what to know about it.
type Report struct {
	// Marks has one entry per note of the piece.
	Marks []Mark
	// Findings ascend by At.
	Findings []Finding
	// Strain is how tiring the piece is for each hand, at each of its moments.
	Strain [2][]Load
	// Care is the caution about strain, stated once; empty where nothing
	// calls for it.
	Care string

	work     [2]*handWork // of the hands
	pedalled *footWork
}

// workOf returns what checking a hand has left, nil for nothing.
func (r *Report) workOf(limb Limb) *handWork {
	if r == nil {
		return nil
	}
	return r.work[limb]
}

// pedalling returns what checking the feet has left, nil for nothing.
func (r *Report) pedalling() *footWork {
	if r == nil {
		return nil
	}
	return r.pedalled
}

// Playable reports whether nothing in the report is out of reach.
func (r *Report) Playable() bool {
	return !slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Severity == Unplayable })
}

// Check fingers and pedals a piece and reports what cannot or should not be
// played.
func Check(p Piece) *Report { return CheckAfter(nil, p) }

// CheckAfter is Check in less time where the piece is much like the one of an
// earlier report, as it is after an edit. The report is the same.
func CheckAfter(before *Report, p Piece) *Report {
	c := &checker{Piece: p, before: before, report: &Report{Marks: make([]Mark, len(p.Notes))}}
	var of [limbs][]int
	for i := range p.Notes {
		n := &p.Notes[i]
		if !p.Console.Compass(n.Division).Has(n.Key) {
			c.offKeys(i)
		}
		limb := n.Limb
		if limb == RightFoot { // feet share one stream
			limb = LeftFoot
		}
		of[limb] = append(of[limb], i)
	}
	c.hand(RightHand, of[RightHand])
	c.hand(LeftHand, of[LeftHand])
	c.feet(of[LeftFoot])
	c.between()
	c.controls()
	c.care()
	slices.SortStableFunc(c.report.Findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Limb, b.Limb), cmp.Compare(b.Severity, a.Severity))
	})
	return c.report
}

// smallSlowing is the part of the tempo above which playing slower is the
// first thing to try.
const smallSlowing = 0.85

// checker is a check under way.
type checker struct {
	Piece
	before *Report
	report *Report
}

// add notes a finding. A finding that goes on from the one before of its kind,
// limb and severity, at the next moment, joins it.
func (c *checker) add(f Finding, joins *int) {
	f.Until, f.Worst, f.Count = f.At, f.At, 1
	f.Remedies = remediesOf(f.Kind)
	if f.Kind == Fast && f.TempoRatio > smallSlowing {
		f.Remedies = append([]Remedy{Slower}, slices.DeleteFunc(f.Remedies, func(r Remedy) bool { return r == Slower })...)
	}
	if joins != nil && *joins >= 0 {
		if old := &c.report.Findings[*joins]; old.Kind == f.Kind && old.Limb == f.Limb && old.Severity == f.Severity {
			old.join(f)
			return
		}
	}
	if joins != nil {
		*joins = len(c.report.Findings)
	}
	c.report.Findings = append(c.report.Findings, f)
}

// join takes in another moment of the same trouble; the worse one is shown.
func (f *Finding) join(g Finding) {
	at, count := f.At, f.Count+1
	if g.worse(f) {
		notes := append(f.Notes, g.Notes...)
		*f = g
		f.Notes = notes
	} else {
		f.Notes = append(f.Notes, g.Notes...)
	}
	f.At, f.Until, f.Count = at, g.Until, count
}

func (f *Finding) worse(g *Finding) bool {
	return f.Asked-f.Limit > g.Asked-g.Limit || f.Need-f.Time > g.Need-g.Time
}

// offKeys reports a key the console lacks.
func (c *checker) offKeys(i int) {
	n := &c.Notes[i]
	k := c.Console.Compass(n.Division)
	f := Finding{Kind: OffKeys, Severity: Unplayable, Limb: n.Limb, At: n.At, Notes: []int{i}, Low: n.Key, High: n.Key, Division: n.Division}
	f.Text = offKeysText(n, k)
	c.add(f, nil)
}
