package project

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// A console of the user's own is described by its ID, so that a chart can name
// it like any other:
//
//	own upper:36-96 lower:36-84 pedal:36-67 offset:-40 busy:right-foot
//
// Compasses are MIDI keys, both ends included. Without a pedal there is no
// pedalboard; split:K makes one manual of both divisions, the upper one from
// key K on; offset:N is where the lower manual stands, in millimetres to the
// right; busy lists limbs that cannot play, with commas between.

// ownConsole is the word such an ID starts with.
const ownConsole = "own"

// Limbs is a set of limbs that cannot play.
type Limbs uint8

// The limbs.
const (
	BusyRightHand Limbs = 1 << iota
	BusyLeftHand
	BusyLeftFoot
	BusyRightFoot
)

var limbNames = []string{"right-hand", "left-hand", "left-foot", "right-foot"}

// names lists the limbs of the set.
func (l Limbs) names() (out []string) {
	for i, n := range limbNames {
		if l&(1<<i) != 0 {
			out = append(out, n)
		}
	}
	return out
}

// Limits of a console of one's own: every pitch class must be somewhere on
// each keyboard, and no keyboard is wider than a concert grand's.
const (
	MinKeyboard, MaxKeyboard = 12, 88
	// MaxOffset bounds how far manuals are staggered, in millimetres.
	MaxOffset = 500
)

// OwnConsole completes a console of the user's own: its ID and Name follow
// from the rest. It fails for keyboards no arrangement can be made for.
func OwnConsole(k Console) (Console, error) {
	for _, kb := range []struct {
		name    string
		k       Compass
		missing bool
	}{{"upper", k.Upper, false}, {"lower", k.Lower, false}, {"pedal", k.Pedal, true}} {
		n := kb.k.Keys()
		if n == 0 && kb.missing {
			continue
		}
		if n < MinKeyboard || n > MaxKeyboard || kb.k.Lowest < 0 || kb.k.Highest > 127 {
			return k, fmt.Errorf("the %s keyboard from %d to %d is outside %d to %d keys of 0 to 127", kb.name, kb.k.Lowest, kb.k.Highest, MinKeyboard, MaxKeyboard)
		}
	}
	if k.Pedal.Keys() == 0 {
		k.Pedal = noCompass
	}
	if k.Split != 0 && (k.Split != k.Upper.Lowest || k.Lower.Highest != k.Split-1) {
		return k, fmt.Errorf("a manual split at %d has its lower division end, and its upper one begin, there", k.Split)
	}
	if k.LowerOffset < -MaxOffset || k.LowerOffset > MaxOffset {
		return k, fmt.Errorf("an offset of %d mm is outside -%d to %d", k.LowerOffset, MaxOffset, MaxOffset)
	}
	if k.Busy >= 1<<len(limbNames) {
		return k, fmt.Errorf("there are no such limbs")
	}
	k.ID, k.Name = k.ownID(), k.ownName()
	return k, nil
}

func (k Console) ownID() string {
	words := []string{ownConsole, "upper:" + k.Upper.text(), "lower:" + k.Lower.text()}
	if k.Pedal.Keys() > 0 {
		words = append(words, "pedal:"+k.Pedal.text())
	}
	if k.Split > 0 {
		words = append(words, fmt.Sprintf("split:%d", k.Split))
	}
	if k.LowerOffset != 0 {
		words = append(words, fmt.Sprintf("offset:%d", k.LowerOffset))
	}
	if k.Busy != 0 {
		words = append(words, "busy:"+strings.Join(k.Busy.names(), ","))
	}
	return strings.Join(words, " ")
}

func (k Compass) text() string { return fmt.Sprintf("%d-%d", k.Lowest, k.Highest) }

func (k Console) ownName() string {
	if k.Pedal.Keys() == 0 {
		return fmt.Sprintf("Own: %d and %d keys", k.Upper.Keys(), k.Lower.Keys())
	}
	return fmt.Sprintf("Own: %d, %d and %d keys", k.Upper.Keys(), k.Lower.Keys(), k.Pedal.Keys())
}

// ParseConsole reads the ID of a console of the user's own.
func ParseConsole(id string) (Console, error) {
	words := strings.Fields(id)
	if len(words) == 0 || words[0] != ownConsole {
		return Console{}, fmt.Errorf("%q is not a console; one of your own reads %q", id, "own upper:36-96 lower:36-96 pedal:36-60")
	}
	k := Console{Upper: noCompass, Lower: noCompass, Pedal: noCompass}
	for _, w := range words[1:] {
		if err := k.read(w); err != nil {
			return Console{}, err
		}
	}
	return OwnConsole(k)
}

// read takes one word of an ID.
func (k *Console) read(word string) (err error) {
	name, value, _ := strings.Cut(word, ":")
	switch name {
	case "upper":
		k.Upper, err = parseCompass(value)
	case "lower":
		k.Lower, err = parseCompass(value)
	case "pedal":
		k.Pedal, err = parseCompass(value)
	case "split":
		k.Split, err = strconv.Atoi(value)
	case "offset":
		k.LowerOffset, err = strconv.Atoi(value)
	case "busy":
		k.Busy, err = parseLimbs(value)
	default:
		return fmt.Errorf("console: %q is not upper, lower, pedal, split, offset or busy", name)
	}
	if err != nil {
		return fmt.Errorf("console: %q cannot be read", word)
	}
	return nil
}

func parseCompass(s string) (k Compass, err error) {
	low, high, _ := strings.Cut(s, "-")
	if k.Lowest, err = strconv.Atoi(low); err != nil {
		return noCompass, err
	}
	k.Highest, err = strconv.Atoi(high)
	return k, err
}

func parseLimbs(s string) (l Limbs, err error) {
	for _, name := range strings.Split(s, ",") {
		i := slices.Index(limbNames, name)
		if i < 0 {
			return 0, fmt.Errorf("there is no limb %q", name)
		}
		l |= 1 << i
	}
	return l, nil
}

// ConsolesWith lists the known consoles and, behind them, the one with an ID
// of the user's own.
func ConsolesWith(id string) []Console {
	list := Consoles()
	if k, ok := ConsoleByID(id); ok && !slices.Contains(list, k) {
		list = append(list, k)
	}
	return list
}
