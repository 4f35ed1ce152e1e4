package musicxml

import (
	"strings"

	"organbook/internal/theory"
)

// harmonyItem is a <harmony> as written: the first of its chords.
type harmonyItem struct {
	root theory.Name // not valid when the root is given by a numeral
	// numeral is the scale degree of the root, 1 to 7 with its alteration;
	// number 0 means none.
	numeral      int
	numeralAlter int
	numeralKey   theory.Key // when it is not the key signature's
	// minorNumeral tells that a Roman numeral was in lower case.
	minorNumeral bool
	kind, text   string
	degrees      []theory.Degree
	badDegree    bool
	bass         theory.Name
	inversion    int
	offset       fraction // in divisions
	alternate    bool     // a second reading of the same place
	stacked      bool     // several chords in one symbol
	// shift is how far the harmony sounds from where it is written.
	shift theory.Interval
}

func newHarmony(n *node) *harmonyItem {
	h := &harmonyItem{alternate: n.attr("type") == "alternate"}
	kinds := 0
	for _, k := range n.kids {
		if k.name == "kind" {
			kinds++
		}
		if kinds > 1 {
			h.stacked = true
		}
		// What follows the second kind belongs to the second chord, and its
		// root stands before that kind.
		if kinds <= 1 {
			h.readChild(k)
		}
	}
	h.offset, _ = parseFraction(n.value("offset"))
	return h
}

func (h *harmonyItem) readChild(k *node) {
	switch k.name {
	case "root":
		if !h.hasRoot() {
			h.root, _, _ = readName(k.value("root-step"), k.value("root-alter"))
		}
	case "numeral":
		if !h.hasRoot() {
			h.readNumeral(k)
		}
	case "function":
		if !h.hasRoot() {
			h.numeral, h.numeralAlter, h.minorNumeral = parseRoman(k.text)
		}
	case "kind":
		h.kind, h.text = strings.TrimSpace(k.text), k.attr("text")
	case "inversion":
		if f, ok := parseFraction(k.text); ok && f.isWhole() && f.num > 0 && f.num < 7 {
			h.inversion = int(f.num)
		}
	case "bass":
		h.bass, _, _ = readName(k.value("bass-step"), k.value("bass-alter"))
	case "degree":
		h.readDegree(k)
	}
}

func (h *harmonyItem) hasRoot() bool { return h.root.IsValid() || h.numeral > 0 }

func (h *harmonyItem) readNumeral(k *node) {
	root, ok := parseFraction(k.value("numeral-root"))
	if !ok || !root.isWhole() || root.num < 1 || root.num > 7 {
		return
	}
	h.numeral = int(root.num)
	alter, _ := parseFraction(k.value("numeral-alter"))
	h.numeralAlter = int(max(-2, min(alter.num, 2)))
	if key := k.kid("numeral-key"); key != nil {
		var a attributesItem
		a.readKey(&node{kids: []*node{
			{name: "fifths", text: key.value("numeral-fifths")},
			{name: "mode", text: strings.TrimSuffix(strings.TrimPrefix(strings.TrimPrefix(key.value("numeral-mode"), "natural "), "harmonic "), "melodic ")},
		}})
		h.numeralKey = a.key
	}
}

// degreeOps reads the standard's degree types and what files write for them.
var degreeOps = map[string]theory.DegreeOp{
	"add": theory.AddDegree, "alter": theory.AlterDegree,
	"subtract": theory.OmitDegree, "omit": theory.OmitDegree, "remove": theory.OmitDegree,
}

// maxDegrees bounds the degrees of one chord; twelve notes need no more.
const maxDegrees = 16

func (h *harmonyItem) readDegree(k *node) {
	number, ok := parseFraction(k.value("degree-value"))
	alter, _ := parseFraction(k.value("degree-alter"))
	op, known := degreeOps[strings.ToLower(k.value("degree-type"))]
	if !ok || !number.isWhole() || !known || len(h.degrees) == maxDegrees {
		h.badDegree = true
		return
	}
	h.degrees = append(h.degrees, theory.Degree{
		Number: int(max(0, min(number.num, 99))),
		Alter:  int(max(-9, min(alter.num/alter.denominator(), 9))),
		Op:     op,
	})
}

// parseRoman reads a Roman numeral such as "V", "bVII", "ii", "#iv". It
// returns 0 for anything else.
func parseRoman(s string) (number, alter int, minor bool) {
	s = strings.TrimSpace(s)
	for _, sign := range []struct {
		text  string
		alter int
	}{{"b", -1}, {"♭", -1}, {"#", 1}, {"♯", 1}} {
		if rest, ok := strings.CutPrefix(s, sign.text); ok {
			s, alter = rest, sign.alter
			break
		}
	}
	letters := len(s) - len(strings.TrimLeft(s, "IVXivx"))
	for i, roman := range []string{"I", "II", "III", "IV", "V", "VI", "VII"} {
		if strings.EqualFold(s[:letters], roman) {
			return i + 1, alter, s[:letters] != roman
		}
	}
	return 0, 0, false
}
