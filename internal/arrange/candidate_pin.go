package arrange

import (
	"slices"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// pin puts what the user fixed into force: a pinned block joins the candidates
// and bars all others; of a pinned voicing or technique every candidate that
// has it is the user's own, and the rest are barred. Where no candidate has it
// the note is arranged as if it were not pinned.
func (m *maker) pin(next following) {
	switch p := m.spot.pin; {
	case p == nil:
	case p.Strength == project.PinVoicing:
		m.only(func(c *candidate) bool { return c.voicing == p.Voicing })
	case p.Strength == project.PinTechnique:
		m.only(func(c *candidate) bool { return c.technique == p.Technique })
	default:
		m.pinBlock(p, next)
	}
}

// only keeps the candidates that do as the user asked.
func (m *maker) only(asked func(*candidate) bool) {
	if !slices.ContainsFunc(m.out, func(c candidate) bool { return asked(&c) }) {
		return
	}
	for i := range m.out {
		if c := &m.out[i]; asked(c) {
			c.pinned = true
		} else {
			c.cost += pinBroken
		}
	}
}

func (m *maker) pinBlock(p *project.Pin, next following) {
	voices := pinnedVoices(p, m.spot.lead)
	for i := range m.out {
		m.out[i].cost += pinBroken
	}
	own := candidate{origin: fromPin, technique: theory.Diatonic, voicing: p.Voicing, voices: voices, n: len(voices), into: -1}
	for k, v := range voices {
		own.keys[k] = int16(v.Key())
	}
	m.recognise(&own, next)
	own.pinned, own.fixed, own.cost = true, true, 0
	m.out = append(m.out, own)
}

// recognise finds out what a pinned block is by looking for its keys among
// the candidates of its voicing: those the passage allows, then those with as
// many borrowed voices as there can be, which the bench offers as well. One that
// is an approach leads into the next note like any other.
func (m *maker) recognise(own *candidate, next following) {
	free := *m.spot
	free.pin = nil
	freely := *free.passage
	freely.Treatment.Borrow, freely.kind = project.BorrowFreely, -1
	for _, p := range [2]*passage{free.passage, &freely} {
		free.passage = p
		for _, c := range m.stage.candidates(&free, own.voicing, next) {
			if c.n == own.n && c.keys == own.keys {
				voices := own.voices
				*own = c
				own.voices = voices
				return
			}
		}
	}
	if own.n == 1 {
		own.technique = theory.Alone
	}
}

// pinnedVoices returns the pin's voices moved by octaves to lie under the
// lead, at most maxVoices of them.
func pinnedVoices(p *project.Pin, lead theory.Pitch) []theory.Pitch {
	octaves := (lead.Key() - p.Voices[0].Key()) / 12
	out := make([]theory.Pitch, 0, len(p.Voices))
	for _, v := range p.Voices[:min(len(p.Voices), maxVoices)] {
		if q := v.Transpose(theory.NewInterval(7*octaves, 12*octaves)); q.IsValid() {
			out = append(out, q)
		}
	}
	return out
}
