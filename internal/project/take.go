package project

import "slices"

// Takes are alternative arrangements of one passage. The passage's own fields
// and the chart's pins are always those of the take in use; the others wait on
// the shelf:
//
//	Passage.Takes   [1 "Take 1"] [2 "Smoother" drop2 …] [4 "Brass" …]
//	Passage.Take     0 ^ in use: the entry holds only its name
//	Chart.Shelved   pins of takes 2 and 4, by the take's ID
//
// Using another take puts the passage's fields and pins on the shelf and takes
// the other's down. Shelved pins follow their notes through every edit, as the
// pins in use do.

// Take is one arrangement of a passage among several.
type Take struct {
	// ID, above zero, tells the takes of a passage apart for good; names may
	// repeat.
	ID   int
	Name string
	// The settings of a shelved take; zero for the one in use.
	Treatment    Treatment
	Plan         HandPlan
	Bass         BassStyle
	Registration Registration
}

// ShelvedPin is a pin of a take that is not in use.
type ShelvedPin struct {
	Take int
	Pin
}

// Equal reports whether two shelved pins fix the same for the same take.
func (p ShelvedPin) Equal(q ShelvedPin) bool { return p.Take == q.Take && p.Pin.Equal(q.Pin) }

// Equal reports whether two passages say the same.
func (p Passage) Equal(q Passage) bool {
	return p.Name == q.Name && p.First == q.First && p.Treatment == q.Treatment && p.Plan == q.Plan &&
		p.Bass == q.Bass && p.Registration == q.Registration && p.Take == q.Take && slices.Equal(p.Takes, q.Takes)
}

// TakeName returns the name of the take in use, "" where there is only one.
func (p Passage) TakeName() string {
	if p.Take < 0 || p.Take >= len(p.Takes) {
		return ""
	}
	return p.Takes[p.Take].Name
}

// shelve puts the settings in use into their take's entry, and use takes those
// of another entry down.
func (p *Passage) shelve() {
	t := &p.Takes[p.Take]
	t.Treatment, t.Plan, t.Bass, t.Registration = p.Treatment, p.Plan, p.Bass, p.Registration
}

func (p *Passage) use(i int) {
	t := &p.Takes[i]
	p.Treatment, p.Plan, p.Bass, p.Registration = t.Treatment, t.Plan, t.Bass, t.Registration
	*t, p.Take = Take{ID: t.ID, Name: t.Name}, i
}

// swapPins puts the pins of a passage's time on the shelf of one take and takes
// those of another down.
func (c *Chart) swapPins(passage, from, to int) {
	start, end := c.PassageTime(passage)
	var pins []Pin
	var shelved []ShelvedPin
	for _, p := range c.Pins {
		if p.Start >= start && p.Start < end {
			shelved = append(shelved, ShelvedPin{from, p})
		} else {
			pins = append(pins, p)
		}
	}
	for _, p := range c.Shelved {
		if p.Take == to && p.Start >= start && p.Start < end {
			pins = append(pins, p.Pin)
		} else {
			shelved = append(shelved, p)
		}
	}
	slices.SortFunc(pins, func(a, b Pin) int { return compare(a.Start, b.Start) })
	c.Pins, c.Shelved = pins, sortShelved(shelved)
}

func sortShelved(list []ShelvedPin) []ShelvedPin {
	slices.SortFunc(list, func(a, b ShelvedPin) int {
		if a.Start != b.Start {
			return compare(a.Start, b.Start)
		}
		return a.Take - b.Take
	})
	return list
}

// settlePins drops shelved pins that lost their take after an edit.
func (c *Chart) settlePins() {
	if len(c.Shelved) > 0 && len(c.Bars) > 0 && len(c.Passages) > 0 {
		c.dropOrphans()
	}
}

// dropOrphans removes shelved pins whose take the passage at their place does
// not have, after passages changed.
func (c *Chart) dropOrphans() {
	if len(c.Shelved) == 0 {
		return
	}
	r := c.Ruler()
	orphan := func(p ShelvedPin) bool {
		passage := &c.Passages[c.PassageAt(r.BarAt(p.Start))]
		i := passage.takeByID(p.Take)
		return i < 0 || i == passage.Take
	}
	if slices.ContainsFunc(c.Shelved, orphan) {
		c.Shelved = slices.DeleteFunc(slices.Clone(c.Shelved), orphan)
	}
}

// takeByID returns the index of a take, -1 for none.
func (p *Passage) takeByID(id int) int {
	return slices.IndexFunc(p.Takes, func(t Take) bool { return t.ID == id })
}

// nextTakeID returns an ID that no take of the passage has.
func (p *Passage) nextTakeID() (id int) {
	for _, t := range p.Takes {
		id = max(id, t.ID)
	}
	return id + 1
}

// takes checks the takes of a passage.
func (k *checker) takes(where string, p *Passage) {
	if len(p.Takes) > MaxTakes {
		k.add(where, "%d takes are more than %d", len(p.Takes), MaxTakes)
		return
	}
	if p.Take < 0 || p.Take > max(0, len(p.Takes)-1) {
		k.add(where, "there is no take %d", p.Take+1)
		return
	}
	for i := range p.Takes {
		t := &p.Takes[i]
		k.text(where, t.Name, MaxLabel)
		if t.ID < 1 || t.ID > MaxTakeID || p.takeByID(t.ID) != i {
			k.add(where, "the number %d of a take is not its own", t.ID)
		}
		if i == p.Take && *t != (Take{ID: t.ID, Name: t.Name}) {
			k.add(where, "the take in use has settings on the shelf")
		}
		if int(t.Plan) >= len(HandPlans) || int(t.Bass) >= len(BassStyles) {
			k.add(where, "take %d has no such hand plan or bass style", i+1)
		}
		k.treatment(where, &t.Treatment)
		k.registration(where, &t.Registration)
	}
}

// shelved checks the pins on the shelf.
func (k *checker) shelved() {
	for i, p := range k.c.Shelved {
		if i > 0 && (p.Start < k.c.Shelved[i-1].Start || p.Start == k.c.Shelved[i-1].Start && p.Take <= k.c.Shelved[i-1].Take) {
			k.at(p.Start, "the shelved pins are not in order")
		}
		n, ok := k.c.NoteStarting(p.Start)
		if !ok || p.Start < 0 || p.Start >= k.ruler.Length() {
			k.at(p.Start, "a shelved pin has no note")
			continue
		}
		k.pin(p.Pin, k.c.Melody[n])
		passage := &k.c.Passages[k.c.PassageAt(k.ruler.BarAt(p.Start))]
		if t := passage.takeByID(p.Take); t < 0 || t == passage.Take {
			k.at(p.Start, "a shelved pin belongs to no take on the shelf")
		}
	}
}

type wireTake struct {
	ID   int    `json:"id"`
	Name string `json:"name,omitempty"`
	// Arrangement is left out for the take in use.
	Arrangement *wireArrangement `json:"arrangement,omitempty"`
}

// wireArrangement is what passages and shelved takes have in common.
type wireArrangement struct {
	wireTreatment
	Plan         string           `json:"plan"`
	Bass         string           `json:"bass"`
	Registration wireRegistration `json:"registration"`
}

func wireArrangementOf(t Treatment, p HandPlan, b BassStyle, r Registration) wireArrangement {
	return wireArrangement{wireTreatmentOf(t), p.String(), b.String(), wireRegistrationOf(r)}
}

func (w *wireArrangement) arrangement() (t Treatment, p HandPlan, b BassStyle, r Registration, err error) {
	if t, err = w.treatment(); err != nil {
		return
	}
	if p, err = ParseHandPlan(w.Plan); err != nil {
		return
	}
	if b, err = ParseBassStyle(w.Bass); err != nil {
		return
	}
	r, err = w.Registration.registration()
	return
}

func wireTakesOf(p Passage) []wireTake {
	out := make([]wireTake, len(p.Takes))
	for i, t := range p.Takes {
		out[i] = wireTake{ID: t.ID, Name: t.Name}
		if i != p.Take {
			a := wireArrangementOf(t.Treatment, t.Plan, t.Bass, t.Registration)
			out[i].Arrangement = &a
		}
	}
	return out
}

func (w wireTake) take() (t Take, err error) {
	t = Take{ID: w.ID, Name: w.Name}
	if w.Arrangement != nil {
		t.Treatment, t.Plan, t.Bass, t.Registration, err = w.Arrangement.arrangement()
	}
	return t, err
}

type wireShelvedPin struct {
	Take int `json:"take"`
	wirePin
}

func wireShelvedPinOf(p ShelvedPin) wireShelvedPin { return wireShelvedPin{p.Take, wirePinOf(p.Pin)} }

func (w wireShelvedPin) shelved() (ShelvedPin, error) {
	p, err := w.pin()
	return ShelvedPin{w.Take, p}, err
}
