package ui

import (
	"encoding/json"

	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/ui/shelf"
)

// What the shelf holds was kept in the preferences once.

// movedKey is set once the preferences were moved to the shelf; what they hold
// stays, for text that could not be read is nowhere else.
const movedKey = "moved to the file of my own"

// once returns what a shelf begins with: what the preferences hold, until that
// was moved. Text that cannot be read is left where it is.
func (p preferences) once() shelf.Content {
	if p.Bool(movedKey) {
		return shelf.Content{}
	}
	return p.old()
}

func (p preferences) setMoved() {
	if !p.Bool(movedKey) {
		p.SetBool(movedKey, true)
	}
}

func (p preferences) old() shelf.Content {
	c := shelf.Content{Keys: map[string]string{}}
	c.Registrations, _ = project.DecodeRegistrations([]byte(p.String("registrations")))
	c.Templates, _ = project.DecodeTemplates([]byte(p.String("templates")))
	for _, id := range p.StringList("own keys") {
		c.Keys[id] = p.String("keys of " + id)
	}
	var player reach.Profile
	if json.Unmarshal([]byte(p.String("player")), &player) == nil && player.Check() == nil &&
		player.Feet <= reach.NoFeet && player.Touch <= reach.Detached {
		c.Player = &player
	}
	if setup := p.String("midi"); json.Valid([]byte(setup)) {
		c.MIDI = setup
	}
	return c
}
