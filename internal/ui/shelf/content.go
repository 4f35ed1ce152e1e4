package shelf

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"

	"organbook/internal/project"
	"organbook/internal/reach"
)

// Content is what a user has made outside charts. Nothing in it is changed in
// place: a change puts a new slice where the old one was.
type Content struct {
	Registrations []project.Registration
	Templates     []project.Template
	// Keys holds the keys of commands that have others than the usual ones, by
	// the command's id, as command.WriteStrokes writes them.
	Keys map[string]string
	// Player is who plays charts without a player of their own; nil is the
	// usual one.
	Player *reach.Profile
	// MIDI is the setup of keyboards and organs outside, as midi.Setup writes
	// it; "" is the usual one.
	MIDI string
}

// format and version stand at the head of the file.
const (
	format  = "organbook-own"
	version = 1
)

// Errors of a file, after its path.
var (
	errNewer   = errors.New("a newer version of Organbook wrote this; it is left as it is, and what you keep now is forgotten at the end")
	errForeign = errors.New("this is not what Organbook keeps there")
)

// wire is the file.
type wire struct {
	Format        string            `json:"format"`
	Version       int               `json:"version"`
	Registrations json.RawMessage   `json:"registrations,omitempty"`
	Templates     json.RawMessage   `json:"templates,omitempty"`
	Keys          map[string]string `json:"keys,omitempty"`
	Player        *reach.Profile    `json:"player,omitempty"`
	MIDI          json.RawMessage   `json:"midi,omitempty"`
}

// encode writes the content, and refuses one that decode would not read.
func encode(c Content) ([]byte, error) {
	w := wire{Format: format, Version: version, Keys: c.Keys, Player: c.Player}
	var err error
	if len(c.Registrations) > 0 {
		if w.Registrations, err = project.EncodeRegistrations(c.Registrations); err != nil {
			return nil, err
		}
	}
	if len(c.Templates) > 0 {
		if w.Templates, err = project.EncodeTemplates(c.Templates); err != nil {
			return nil, err
		}
	}
	if c.MIDI != "" {
		w.MIDI = json.RawMessage(c.MIDI)
	}
	data, err := json.MarshalIndent(w, "", " ")
	if err != nil {
		return nil, err
	}
	if _, err := decode(data); err != nil {
		return nil, err
	}
	return append(data, '\n'), nil
}

// decode reads what encode wrote. It fails with errNewer for a later version,
// and says what is wrong with anything else it cannot read.
func decode(data []byte) (Content, error) {
	var head struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return Content{}, fmt.Errorf("it is damaged: %w", err)
	}
	switch {
	case head.Format != format || head.Version < 1:
		return Content{}, errForeign
	case head.Version > version:
		return Content{}, errNewer
	}
	var w wire
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&w); err != nil {
		return Content{}, fmt.Errorf("it is damaged: %w", err)
	}
	if _, err := d.Token(); err != io.EOF {
		return Content{}, errors.New("it is damaged: something follows its end")
	}
	c, err := w.content()
	if err != nil {
		return Content{}, fmt.Errorf("it is damaged: %w", err)
	}
	return c, nil
}

func (w *wire) content() (Content, error) {
	c := Content{Keys: w.Keys, Player: w.Player}
	var err error
	if c.Registrations, err = project.DecodeRegistrations(w.Registrations); err != nil {
		return c, err
	}
	if c.Templates, err = project.DecodeTemplates(w.Templates); err != nil {
		return c, err
	}
	if p := c.Player; p != nil {
		if err := p.Check(); err != nil {
			return c, fmt.Errorf("the player: %w", err)
		}
		if p.Feet > reach.NoFeet || p.Touch > reach.Detached {
			return c, errors.New("the player: feet or touch that there are not")
		}
	}
	if len(w.MIDI) > 0 {
		var b bytes.Buffer
		if err := json.Compact(&b, w.MIDI); err != nil {
			return c, err
		}
		c.MIDI = b.String()
	}
	return c, nil
}

// clone returns a copy whose map can be written to.
func (c Content) clone() Content {
	c.Keys = maps.Clone(c.Keys)
	if c.Keys == nil {
		c.Keys = map[string]string{}
	}
	return c
}

// Merged brings the change that one window made to a list, from before to
// after, to the list as it is now, which another window may have changed in the
// meantime. Entries go by their names. What the change put in, replaced or
// renamed is as after says; what it took away goes, unless somebody else has
// changed it since; everything else stays.
func Merged[T comparable](before, after, now []T, name func(T) string) []T {
	find := func(list []T, n string) int { return slices.IndexFunc(list, func(v T) bool { return name(v) == n }) }
	var out []T
	for _, v := range now {
		was, is := find(before, name(v)), find(after, name(v))
		switch {
		case is < 0 && was >= 0 && before[was] == v: // taken away
		case is >= 0 && (was < 0 || before[was] != after[is]):
			out = append(out, after[is])
		default:
			out = append(out, v)
		}
	}
	for i, v := range after {
		was := find(before, name(v))
		if find(out, name(v)) >= 0 || was >= 0 && before[was] == v {
			continue // there, or taken away by somebody else and not changed here
		}
		at := 0
		for k := i - 1; k >= 0 && at == 0; k-- {
			at = find(out, name(after[k])) + 1
		}
		if i > 0 && at == 0 {
			at = len(out)
		}
		out = slices.Insert(out, at, v)
	}
	return out
}
