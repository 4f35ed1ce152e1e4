package project

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
)

// MaxRegistrations bounds the registrations that a user keeps.
const MaxRegistrations = 200

// ChangedMark ends the name of a registration that was changed since it was
// chosen.
const ChangedMark = ", changed"

// SameStops reports whether two registrations are one in what is drawn and set
// before playing: drawbars, accent, vibrato, drive and room. Rotary speed and
// swell are played, with a hand and a foot, and so a registration stays the one
// of its name when they move.
func (r Registration) SameStops(o Registration) bool {
	r.Name, r.Rotary, r.Swell, r.Glide = o.Name, o.Rotary, o.Swell, o.Glide
	return r == o
}

// NamedRegistration returns a registration under a name of the user's own, with a
// pedal that rests: how it moves belongs to a passage. It
// fails for no name, for that of a built-in registration in any case of its
// letters, and for one that ends in ChangedMark.
func NamedRegistration(r Registration, name string) (Registration, error) {
	r.Name, r.Glide = OneLine(name, MaxLabel), 0
	if r.Name == "" {
		return r, errors.New("write a name for the registration")
	}
	for _, b := range Registrations() {
		if strings.EqualFold(b.Name, r.Name) {
			return r, fmt.Errorf("there is a built-in registration %q; choose another name", b.Name)
		}
	}
	if strings.HasSuffix(r.Name, ChangedMark) {
		return r, fmt.Errorf("%q ends as a registration that was changed does; choose another name", r.Name)
	}
	return r, nil
}

// EncodeRegistrations writes registrations as one line of JSON for
// DecodeRegistrations.
func EncodeRegistrations(list []Registration) ([]byte, error) {
	return json.Marshal(mapped(list, wireRegistrationOf))
}

// DecodeRegistrations reads what EncodeRegistrations wrote. It fails, naming
// the entry, for settings that no passage could take on, for a name that
// NamedRegistration refuses, and for one that is there twice.
func DecodeRegistrations(data []byte) ([]Registration, error) {
	if len(data) > 0 && !json.Valid(data) {
		return nil, errors.New("registrations are not whole")
	}
	seen := map[string]bool{}
	return elements(data, "registrations", MaxRegistrations, func(w wireRegistration) (Registration, error) {
		r, err := w.registration()
		if err != nil {
			return r, err
		}
		if r, err = NamedRegistration(r, r.Name); err != nil {
			return r, err
		}
		if seen[r.Name] {
			return r, fmt.Errorf("%q is there twice", r.Name)
		}
		seen[r.Name] = true
		if _, err := (SetRegistration{0, r}).Apply(New()); err != nil {
			return r, fmt.Errorf("no passage can take %q on: %w", r.Name, err)
		}
		return r, nil
	})
}
