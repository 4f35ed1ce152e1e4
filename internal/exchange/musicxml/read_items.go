package musicxml

import (
	"slices"
	"strconv"
	"strings"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// isItem reports whether an element inside a measure matters to the import.
func isItem(name string) bool {
	switch name {
	case "note", "backup", "forward", "attributes", "harmony", "direction", "sound", "barline":
		return true
	}
	return false
}

// newItem converts an element for which isItem holds.
func newItem(n *node) item {
	switch n.name {
	case "note":
		return item{note: newNote(n)}
	case "backup", "forward":
		move, _ := parseFraction(n.value("duration"))
		if n.name == "backup" {
			move.num = -move.num
		}
		return item{move: &move}
	case "attributes":
		return item{attrs: newAttributes(n)}
	case "harmony":
		return item{harmony: newHarmony(n)}
	case "barline":
		return item{barline: newBarline(n)}
	}
	return item{direction: newDirection(n)}
}

// attributesItem is what <attributes> says that matters here.
type attributesItem struct {
	divisions fraction // zero when absent or unusable
	meter     project.Meter
	badMeter  string // a time signature that cannot be used
	key       theory.Key
	modeOpen  bool // the key is given without a mode
	badKey    bool // a key signature of another kind than sharps or flats
	// transpose tells how far the part sounds from where it is written; nil when
	// nothing is said, and nothing at all when badTranspose.
	transpose    *transposition
	badTranspose bool
	repeatedBars bool // bars replaced by a repeat sign
	percussion   bool // has a percussion clef
	melodicClef  bool // has any other clef
}

func newAttributes(n *node) *attributesItem {
	a := &attributesItem{}
	if d, ok := parseFraction(n.value("divisions")); ok && d.sign() > 0 {
		a.divisions = d
	}
	if t := forFirstStaff(n, "time"); t != nil {
		a.readTime(t)
	}
	if k := forFirstStaff(n, "key"); k != nil {
		a.readKey(k)
	}
	if t := forFirstStaff(n, "transpose"); t != nil {
		said, ok := readTranspose(t)
		a.transpose, a.badTranspose = &said, !ok
	}
	for _, k := range n.kids {
		switch {
		case k.name == "measure-style":
			r := k.kid("measure-repeat")
			a.repeatedBars = a.repeatedBars || r != nil && r.attr("type") != "stop"
		case k.name == "clef" && strings.EqualFold(k.value("sign"), "percussion"):
			a.percussion = true
		case k.name == "clef":
			a.melodicClef = true
		}
	}
	return a
}

// forFirstStaff returns the child that holds for the first staff, or for all.
func forFirstStaff(n *node, name string) *node {
	for _, k := range n.kids {
		if number := k.attr("number"); k.name == name && (number == "" || number == "1") {
			return k
		}
	}
	return n.kid(name)
}

// readTime reads a meter. Sums in a numerator are groups of beats. Several fractions
// are added up, 2/4 and 3/8 to 7/8; of one unit they are groups as well.
func (a *attributesItem) readTime(t *node) {
	if t.has("senza-misura") {
		return
	}
	var sum fraction // in wholes
	unit := 1
	beats, groups := "", ""
	alike := true
	for _, k := range t.kids {
		text := strings.TrimSpace(k.text)
		switch k.name {
		case "beats":
			beats = text
		case "beat-type":
			u, err := strconv.Atoi(text)
			n, ok := sumOf(beats)
			if err != nil || !ok || !(project.Meter{Beats: 1, Unit: u}).IsValid() {
				a.badMeter = beats + "/" + text
				return
			}
			alike = alike && (groups == "" || u == unit)
			sum = sum.plus(n.over(whole(int64(u))))
			unit = max(unit, u)
			groups = strings.TrimPrefix(groups+"+"+beats, "+")
		}
	}
	for ; unit <= 64 && !sum.times(whole(int64(unit))).isWhole(); unit *= 2 {
	}
	meter := project.Meter{Beats: int(sum.times(whole(int64(unit))).num), Unit: unit}
	if grouped, err := project.ParseMeter(strings.ReplaceAll(groups, " ", "") + "/" + strconv.Itoa(unit)); alike && err == nil {
		meter = grouped
	}
	if beats == "" || !meter.IsValid() {
		a.badMeter = t.value("beats") + "/" + t.value("beat-type")
		return
	}
	a.meter = meter
}

// sumOf adds up a numerator such as "4" or "3+2".
func sumOf(s string) (fraction, bool) {
	var sum fraction
	for _, term := range strings.Split(s, "+") {
		f, ok := parseFraction(term)
		if !ok || f.sign() <= 0 {
			return fraction{}, false
		}
		sum = sum.plus(f)
	}
	return sum, true
}

// minorModes are the modes whose third is minor; their signatures are read as
// the minor key's of the same signature.
var minorModes = []string{"minor", "aeolian", "dorian", "phrygian", "locrian"}

func (a *attributesItem) readKey(k *node) {
	f, ok := parseFraction(k.value("fifths"))
	if !ok || !f.isWhole() {
		a.badKey = true
		return
	}
	mode := theory.Major
	a.modeOpen = k.value("mode") == ""
	if slices.Contains(minorModes, strings.ToLower(k.value("mode"))) {
		mode = theory.Minor
	}
	fifths := int(f.num)
	if fifths < -project.MaxSignature || fifths > project.MaxSignature {
		// Eight sharps sound as four flats.
		a.badKey = true
		fifths = (fifths%12+12+5)%12 - 5
	}
	a.key = theory.KeyFromFifths(fifths, mode)
}
