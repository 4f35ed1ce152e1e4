package musicxml

import (
	"regexp"
	"strconv"
	"strings"

	"organbook/internal/project"
)

// directionItem is what a <direction> or a bare <sound> says that matters.
type directionItem struct {
	offset  fraction // in divisions
	section string   // rehearsal mark or boxed label
	tempo   float64  // quarter notes a minute, 0 for none
	swing   float64  // place of the off-beat in the beat, 0 for none
	// hinted tells that the swing was read from words.
	hinted                    bool
	segno, coda, toCoda, fine bool
	jump                      project.Jump
}

func newDirection(n *node) *directionItem {
	d := &directionItem{}
	d.offset, _ = parseFraction(n.value("offset"))
	var words []string
	for _, t := range n.kids {
		if t.name == "direction-type" {
			words = append(words, d.readType(t)...)
		}
	}
	d.readWords(strings.Join(words, " "))
	if n.name == "sound" {
		d.readSound(n)
	}
	n.each("sound", d.readSound)
	return d
}

// readType reads one <direction-type> and returns its words.
func (d *directionItem) readType(t *node) (words []string) {
	for _, k := range t.kids {
		switch k.name {
		case "rehearsal":
			d.section = project.OneLine(d.section+" "+k.text, project.MaxLabel)
		case "segno":
			d.segno = true
		case "coda":
			d.coda = true
		case "words":
			words = append(words, k.text)
			if box := k.attr("enclosure"); box != "" && box != "none" && len(k.text) <= 20 && d.section == "" {
				d.section = project.OneLine(k.text, project.MaxLabel)
			}
		case "metronome":
			d.readMetronome(k)
		}
	}
	return words
}

// readMetronome reads "quarter = 120", or the pair of eighths that equals a
// long and a short triplet note.
func (d *directionItem) readMetronome(m *node) {
	if m.has("metronome-note") {
		m.each("metronome-tuplet", func(*node) { d.swing = 2.0 / 3 })
		return
	}
	beat, ok := noteTypes[strings.ToLower(m.value("beat-unit"))]
	perMinute := firstNumber(m.value("per-minute"))
	if !ok || perMinute == 0 {
		return
	}
	dots := 0
	for _, k := range m.kids {
		if k.name == "per-minute" {
			break
		}
		if k.name == "beat-unit-dot" && dots < 4 {
			dots++
		}
	}
	d.tempo = perMinute * dotted(beat, dots).float()
}

var numberPattern = regexp.MustCompile(`\d{1,6}(?:\.\d{1,6})?`)

// firstNumber returns the first number in a text such as "ca. 120-132", or 0.
func firstNumber(s string) float64 {
	f, _ := strconv.ParseFloat(numberPattern.FindString(s), 64)
	return f
}

// readSound reads the attributes that say how the score plays; they win over
// what is printed.
func (d *directionItem) readSound(s *node) {
	if t := firstNumber(s.attr("tempo")); t > 0 {
		d.tempo = t
	}
	d.segno = d.segno || s.attr("segno") != ""
	d.coda = d.coda || s.attr("coda") != ""
	d.fine = d.fine || s.attr("fine") != "" && s.attr("fine") != "no"
	d.toCoda = d.toCoda || s.attr("tocoda") != ""
	if d.jump == project.NoJump && s.attr("dacapo") == "yes" {
		d.jump = project.DaCapo
	}
	if d.jump == project.NoJump && s.attr("dalsegno") != "" {
		d.jump = project.DalSegno
	}
	d.coda = d.coda && !d.toCoda
	d.segno = d.segno && d.jump == project.NoJump
	if sw := s.kid("swing"); sw != nil {
		d.readSwing(sw)
	}
}

// readSwing reads the ratio of the two halves of a beat.
func (d *directionItem) readSwing(s *node) {
	first, second := firstNumber(s.value("first")), firstNumber(s.value("second"))
	switch {
	case s.has("straight"):
		d.swing = project.MinSwing
	case first > 0 && second > 0 && !strings.EqualFold(s.value("swing-type"), "16th"):
		d.swing = max(project.MinSwing, min(first/(first+second), project.MaxSwing))
	}
	d.hinted = false
}

var (
	swingPattern    = regexp.MustCompile(`(?i)\b(swing|swung|shuffle)\b`)
	straightPattern = regexp.MustCompile(`(?i)\b(straight|even|no swing|not swung)\b`)
	tempoPattern    = regexp.MustCompile(`=\s*(?:c\.?|ca\.?|circa)?\s*(\d{2,3})\b`)
)

// readWords looks for playing instructions in printed words.
func (d *directionItem) readWords(words string) {
	words = strings.Join(strings.Fields(words), " ")
	if words == "" {
		return
	}
	switch {
	case straightPattern.MatchString(words):
		d.swing, d.hinted = project.MinSwing, true
	case swingPattern.MatchString(words) && d.swing == 0:
		d.swing, d.hinted = 2.0/3, true
	}
	if m := tempoPattern.FindStringSubmatch(words); m != nil && d.tempo == 0 {
		d.tempo = firstNumber(m[1])
	}
	d.readJumpWords(words)
}

var (
	daCapoPattern   = regexp.MustCompile(`(?i)^\W*(d\.? ?c\.?|da ?capo)(\W|$)`)
	dalSegnoPattern = regexp.MustCompile(`(?i)^\W*(d\.? ?s\.?|dal ?segno)(\W|$)`)
	alFinePattern   = regexp.MustCompile(`(?i)\bfine\b`)
	alCodaPattern   = regexp.MustCompile(`(?i)\bcoda\b`)
	toCodaPattern   = regexp.MustCompile(`(?i)^\W*(to|alla|al|da) *coda\b`)
	codaPattern     = regexp.MustCompile(`(?i)^\W*coda\W*$`)
	finePattern     = regexp.MustCompile(`(?i)^\W*fine\W*$`)
)

// readJumpWords reads "D.C. al Fine", "To Coda" and their like.
func (d *directionItem) readJumpWords(words string) {
	switch {
	case daCapoPattern.MatchString(words):
		d.jump = jumpTo(words, project.DaCapo, project.DaCapoAlFine, project.DaCapoAlCoda)
	case dalSegnoPattern.MatchString(words):
		d.jump = jumpTo(words, project.DalSegno, project.DalSegnoAlFine, project.DalSegnoAlCoda)
	case toCodaPattern.MatchString(words):
		d.toCoda = true
	case codaPattern.MatchString(words):
		d.coda = true
	case finePattern.MatchString(words):
		d.fine = true
	}
	// The sign beside "D.S." or "to Coda" is part of the instruction.
	d.segno = d.segno && d.jump == project.NoJump
	d.coda = d.coda && d.jump == project.NoJump && !d.toCoda
}

func jumpTo(words string, plain, fine, coda project.Jump) project.Jump {
	switch {
	case alCodaPattern.MatchString(words):
		return coda
	case alFinePattern.MatchString(words):
		return fine
	}
	return plain
}
