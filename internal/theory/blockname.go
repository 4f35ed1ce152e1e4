package theory

import "strings"

// soundingSet holds which of the twelve semitone distances above a root sound.
type soundingSet [12]bool

func degreesOver(voices []Pitch, root Name) soundingSet {
	var s soundingSet
	for _, v := range voices {
		s[mod(v.Name().PC()-root.PC(), 12)] = true
	}
	return s
}

// NameBlock reads a block as a chord over a root that the block itself need
// not contain, and returns the chord's name in ASCII: E A♭ B♭ D♭ over C is
// "C7b9#5", the same four notes as a home chord are named by their own root.
// The root is supplied by the bass, so the name is what a listener hears.
func NameBlock(voices []Pitch, root Name) string {
	if len(voices) == 0 || !root.IsValid() {
		return ""
	}
	return root.String() + chordSuffix(degreesOver(voices, root))
}

// chordSuffix writes the chord a set of degrees makes. A major third makes a
// minor third above it a sharp nine; a seventh makes further notes tensions.
func chordSuffix(s soundingSet) string {
	minor := s[3] && !s[4]
	switch {
	case minor && s[6] && s[9] && !s[7] && !s[10] && !s[11]:
		return "dim7" + additions(s, 0, 3, 6, 9)
	case minor && s[6] && s[10] && !s[7]:
		return "m7b5" + additions(s, 0, 3, 6, 10)
	case minor && s[6] && s[9] && s[11] && !s[7] && !s[10]:
		return "dim7addmaj7" + additions(s, 0, 3, 6, 9, 11)
	case minor && s[6] && s[11] && !s[7] && !s[10]:
		return "dim(maj7)" + additions(s, 0, 3, 6, 11)
	case minor && s[6] && !s[7] && !s[10]:
		return "dim" + additions(s, 0, 3, 6)
	case s[10]:
		return seventhSuffix(s, minor)
	case s[11]:
		return majorSeventhSuffix(s, minor)
	}
	return triadSuffix(s, minor)
}

func seventhSuffix(s soundingSet, minor bool) string {
	if minor {
		return minorSeventhSuffix(s)
	}
	top := "7"
	switch {
	case s[9]:
		top = "13"
	case s[2]:
		top = "9"
	}
	if !s[4] && s[5] {
		fourth := "sus4"
		if s[6] && !s[7] { // the fourth is there, so the tritone is the fifth
			fourth, s[6] = "sus4b5", false
		}
		return top + fourth + tensions(s, 0, 5, 7, 10, 9, nineUnder(top))
	}
	return top + tensions(s, 0, 4, 7, 10, 9, nineUnder(top))
}

// nineUnder returns the degree that a 9 or 13 chord already implies.
func nineUnder(top string) int {
	if top == "9" || top == "13" {
		return 2
	}
	return 0
}

// minorSeventhSuffix names the minor seventh with its customary tensions.
func minorSeventhSuffix(s soundingSet) string {
	top := "7"
	used := []int{0, 3, 7, 10}
	switch {
	case s[5]:
		top, used = "11", append(used, 5, 2)
	case s[2]:
		top, used = "9", append(used, 2)
	}
	return "m" + top + additions(s, used...)
}

func majorSeventhSuffix(s soundingSet, minor bool) string {
	if minor && s[9] {
		return "m(maj13)" + additions(s, 0, 3, 7, 11, 9, 2)
	}
	if minor {
		return "m(maj7)" + additions(s, 0, 3, 7, 11)
	}
	switch {
	case s[9]:
		return "maj13" + additions(s, 0, 4, 7, 11, 9, 2)
	case s[2]:
		return "maj9" + additions(s, 0, 4, 7, 11, 2)
	}
	return "maj7" + additions(s, 0, 4, 7, 11)
}

// triadSuffix writes a chord without a seventh. Whatever it has beyond triad,
// sixth and ninth is an addition.
func triadSuffix(s soundingSet, minor bool) string {
	third, fifth := 4, 7
	quality, end := "", ""
	switch {
	case minor:
		third, quality = 3, "m"
	case !s[4] && s[5]:
		third, end = 5, "sus4"
	case !s[4] && s[2]:
		third, end = 2, "sus2"
	case s[4] && s[8] && !s[7]:
		fifth, quality = 8, "aug"
	}
	used := []int{0, third, fifth}
	if s[9] && quality != "aug" {
		quality += "6"
		used = append(used, 9)
		if s[2] && third != 2 {
			quality += "/9"
			used = append(used, 2)
		}
	}
	return quality + end + additions(s, used...)
}

// additions writes the degrees of s that are not among used, each as added.
func additions(s soundingSet, used ...int) string {
	names := [12]string{1: "b9", 2: "9", 3: "#9", 4: "3", 5: "11", 6: "#11", 7: "5", 8: "b13", 9: "13"}
	for _, u := range used {
		s[u] = false
	}
	s[0] = false
	var b strings.Builder
	for _, d := range []int{1, 2, 3, 5, 6, 8, 9} {
		if s[d] {
			b.WriteString("add" + names[d])
		}
	}
	return b.String()
}

// tensionNames names each degree as an addition to a chord.
var tensionNames = [12]string{1: "b9", 2: "add9", 3: "#9", 5: "add11", 6: "#11", 8: "#5", 9: "add13", 10: "7", 11: "add7"}

// tensions writes the degrees of s that are not among used, alterations in
// ascending order of their name.
func tensions(s soundingSet, used ...int) string {
	for _, u := range used {
		s[u] = false
	}
	s[0] = false
	var b strings.Builder
	for _, d := range []int{1, 2, 3, 8, 6, 5, 9, 11} {
		if s[d] {
			b.WriteString(tensionNames[d])
		}
	}
	return b.String()
}
