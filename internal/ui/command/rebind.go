package command

import (
	"fmt"
	"slices"
	"strings"
)

// Rebind gives a command other keys in the place of its own; none leaves it
// without. A stroke that already means something where the command's keys work
// is refused, and so is one that would hide another command in one panel.
func (t *Table) Rebind(id string, keys []Stroke) error {
	c := t.byID[id]
	if c == nil {
		return fmt.Errorf("there is no command %q", id)
	}
	for _, k := range keys {
		if other := t.inTheWay(c, k); other != nil {
			return fmt.Errorf("%s already means “%s”", k.Label(), other.Title)
		}
	}
	t.setKeys(c, keys)
	return nil
}

// inTheWay returns another command that a stroke means where c's keys work.
func (t *Table) inTheWay(c *Command, k Stroke) *Command {
	for panel, keys := range t.byKey {
		if other := keys[k]; other != nil && other != c && (panel == c.In || panel == Anywhere || c.In == Anywhere) {
			return other
		}
	}
	return nil
}

func (t *Table) setKeys(c *Command, keys []Stroke) {
	for _, k := range c.Keys {
		delete(t.byKey[c.In], k)
	}
	c.Keys = slices.Clone(keys)
	for _, k := range keys {
		t.bind(c, k)
	}
}

// Usual returns the keys a command had at first.
func (t *Table) Usual(id string) []Stroke { return t.usual[id] }

// WriteStrokes writes keys as one line; ReadStrokes reads it.
func WriteStrokes(keys []Stroke) string {
	words := make([]string, len(keys))
	for i, k := range keys {
		words[i] = string(k)
	}
	return strings.Join(words, " ")
}

// ReadStrokes reads what WriteStrokes wrote.
func ReadStrokes(line string) []Stroke {
	var keys []Stroke
	for _, word := range strings.Fields(line) {
		keys = append(keys, Stroke(word))
	}
	return keys
}
