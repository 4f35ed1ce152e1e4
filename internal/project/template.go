package project

import (
	"encoding/json"
	"fmt"

	"organbook/internal/theory"
)

// Template is how a passage of one kind is arranged: what it sets in a passage
// that it is applied to.
type Template struct {
	Name         string
	Treatment    Treatment
	Plan         HandPlan
	Bass         BassStyle
	Registration Registration
}

// Templates lists the built-in templates in menu order, the parts an arrangement
// of a song is usually made of: it opens lightly, states the tune, changes
// colour in the bridge, backs a solo, comes to its loudest, and broadens out.
func Templates() []Template {
	return []Template{
		{"intro", Treatment{Voicing: theory.Drop2}, TwoHandBlock, BassTwoFeel, builtIn("reeds")},
		{"statement", Treatment{Voicing: theory.Close}, Shout, BassTwoFeel, builtIn("muted brass")},
		{"shout", Treatment{Voicing: theory.DoubleLead, TwoFiveAsFive: true, Borrow: BorrowFreely, AlternateRepeats: true}, Shout, BassRoots, builtIn("shout brass")},
		{"bridge", Treatment{Voicing: theory.Drop24, Leaning: LeanSmooth}, TwoHandBlock, BassTwoFeel, builtIn("low reeds")},
		{"solo backing", Treatment{Voicing: theory.Close}, SoloOverComp, BassTwoFeel, builtIn("solo reed")},
		{"ending", Treatment{Voicing: theory.Drop2, MoveInner: true, OpenAtClimax: true}, TwoHandBlock, BassRoots, builtIn("full section")},
	}
}

// builtIn returns a registration that is known to exist.
func builtIn(name string) Registration {
	r, ok := RegistrationByName(name)
	if !ok {
		panic("project: there is no registration " + name)
	}
	return r
}

// TemplateOf returns what a passage is set to now as a template.
func TemplateOf(p Passage, name string) Template {
	return Template{OneLine(name, MaxLabel), p.Treatment, p.Plan, p.Bass, p.Registration}
}

// Fits reports whether a passage is set as the template says.
func (t Template) Fits(p Passage) bool {
	return p.Treatment == t.Treatment && p.Plan == t.Plan && p.Bass == t.Bass && p.Registration == t.Registration
}

// ApplyTemplate sets a passage as a template says. Name, bars, takes and pins
// stay.
type ApplyTemplate struct {
	Passage  int
	Template Template
}

// Name returns "apply template".
func (ApplyTemplate) Name() string { return "apply template" }

// Apply fails for a passage that is not there and for a template with settings
// out of range.
func (e ApplyTemplate) Apply(c *Chart) (*Chart, error) {
	return c.withPassage(e.Passage, func(_ *Chart, p *Passage) {
		p.Treatment, p.Plan, p.Bass, p.Registration = e.Template.Treatment, e.Template.Plan, e.Template.Bass, e.Template.Registration
	})
}

// MaxTemplates bounds the templates that a user keeps.
const MaxTemplates = 200

// wireTemplate is a template as it is kept outside a chart.
type wireTemplate struct {
	Name string `json:"name"`
	wireArrangement
}

// EncodeTemplates writes templates as one line of JSON for DecodeTemplates.
func EncodeTemplates(list []Template) ([]byte, error) {
	return json.Marshal(mapped(list, func(t Template) wireTemplate {
		return wireTemplate{t.Name, wireArrangementOf(t.Treatment, t.Plan, t.Bass, t.Registration)}
	}))
}

// DecodeTemplates reads what EncodeTemplates wrote. It fails, naming the entry,
// for one that no passage could take on.
func DecodeTemplates(data []byte) ([]Template, error) {
	return elements(data, "templates", MaxTemplates, func(w wireTemplate) (Template, error) {
		t := Template{Name: OneLine(w.Name, MaxLabel)}
		var err error
		if t.Treatment, t.Plan, t.Bass, t.Registration, err = w.arrangement(); err != nil {
			return t, err
		}
		if _, err := (ApplyTemplate{0, t}).Apply(New()); err != nil {
			return t, fmt.Errorf("no passage can take %q on: %w", t.Name, err)
		}
		return t, nil
	})
}

// MakePassage makes a passage of bars First up to but not including End: it
// starts passages at both ends where none starts yet, with the settings of
// those they are split from. The first part that is left keeps the name.
type MakePassage struct {
	First, End int
	// NewName is the new passage's name.
	NewName string
}

// Name returns "make passage".
func (MakePassage) Name() string { return "make passage" }

// Apply fails for bars that are not there or lie in more than one passage:
// those would lose their own settings.
func (e MakePassage) Apply(c *Chart) (*Chart, error) {
	if e.First < 0 || e.End > len(c.Bars) || e.First >= e.End {
		return nil, fmt.Errorf("there are no such bars to make a passage of")
	}
	i := c.PassageAt(e.First)
	first, end := c.PassageBars(i)
	switch {
	case e.End > end:
		return nil, fmt.Errorf("the bars lie in more than one passage; join those first")
	case e.First == first && e.End == end:
		return nil, fmt.Errorf("the bars are a passage already")
	}
	if e.End < end {
		rest := "" // goes by its bars
		if e.First == first {
			rest = c.Passages[i].Name
		}
		d, err := (SplitPassage{e.End, rest}).Apply(c)
		if err != nil {
			return nil, err
		}
		c = d
	}
	if e.First == first {
		return (RenamePassage{i, e.NewName}).Apply(c)
	}
	return (SplitPassage{e.First, e.NewName}).Apply(c)
}
