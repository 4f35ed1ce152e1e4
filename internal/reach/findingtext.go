package reach

import "organbook/internal/phrase"

// The sentences of findings. Each says what is asked and what the limit is.

// subjects are the limbs as a sentence speaks of them.
var subjects = [limbs]phrase.Phrase{
	phrase.Of("the right hand"), phrase.Of("the left hand"), phrase.Of("the left foot"), phrase.Of("the right foot"),
}

// keyboards are the divisions as a sentence speaks of what it does on them.
var keyboards = [...]phrase.Phrase{phrase.Of("the upper manual"), phrase.Of("the lower manual"), phrase.Of("the pedalboard")}

func offKeysText(n *Note, k Compass) phrase.Phrase {
	if k.Keys() == 0 {
		return phrase.Of("%s is for %s, which this console does not have", keyName(n.Key), keyboards[n.Division])
	}
	return phrase.Of("%s is off %s, which goes from %s to %s", keyName(n.Key), keyboards[n.Division], keyName(k.Lowest), keyName(k.Highest))
}

func tooManyText(f *Finding) phrase.Phrase {
	if f.Limb.IsHand() {
		return phrase.Of("%s is asked for %d keys at once, from %s to %s; it has %d fingers",
			subjects[f.Limb], f.Keys, keyName(f.Low), keyName(f.High), f.MaxKeys)
	}
	return phrase.Of("the feet are asked for %d pedals at once; they take %d", f.Keys, f.MaxKeys)
}

func wideText(f *Finding) phrase.Phrase {
	form := "%s is asked to stretch from %s to %s, %d semitones or %.0f mm; its comfortable stretch is %.0f mm"
	if f.Severity == Unplayable {
		form = "%s is asked to stretch from %s to %s, %d semitones or %.0f mm; its widest stretch is %.0f mm"
	}
	return phrase.Of(form, subjects[f.Limb], keyName(f.Low), keyName(f.High), f.High-f.Low, f.Asked, f.Limit)
}

func shapeText(f *Finding, a, b int) phrase.Phrase {
	return phrase.Of("no fingers of %s fit this chord: from %s to %s are %d semitones, %.0f mm, and fingers %d and %d span %.0f mm at most",
		subjects[f.Limb], keyName(f.Low), keyName(f.High), f.High-f.Low, f.Asked, a, b, f.Limit)
}

func fastText(f *Finding, tempo float64) phrase.Phrase {
	limb, time, need := subjects[f.Limb], 1000*f.Time, 1000*f.Need
	text := phrase.Of("%s has %.0f ms to get to %s, %.0f mm away; it needs %.0f ms", limb, time, keysText(f), f.Asked, need)
	if f.OtherManual {
		text = phrase.Of("%s has %.0f ms to get to %s on %s; it needs %.0f ms", limb, time, keysText(f), keyboards[f.Division], need)
	} else if f.Asked < 1 {
		text = phrase.Of("%s has %.0f ms from stroke to stroke at %s; it needs %.0f ms", limb, time, keysText(f), need)
	}
	if f.TempoRatio > 0 && tempo > 0 {
		return phrase.Of("%s: playable up to %d", text, int(tempo*f.TempoRatio))
	}
	return text
}

func keysText(f *Finding) string {
	if f.Low == f.High {
		return keyName(f.Low)
	}
	return keyName(f.Low) + "–" + keyName(f.High)
}

func numbersText(f *Finding) phrase.Phrase {
	return phrase.Of("your finger numbers cross in %s at %s; they are kept", subjects[f.Limb], keysText(f))
}

func twoManualsText(f *Finding) phrase.Phrase {
	if f.Severity == Demanding {
		return phrase.Of("%s bridges both manuals, its thumb on the lower one", subjects[f.Limb])
	}
	return phrase.Of("%s is asked to be on both manuals at once, at %s", subjects[f.Limb], keysText(f))
}

func sameKeyText(a, b *Note) phrase.Phrase {
	return phrase.Of("%s is asked for %s on %s, which %s holds", subjects[b.Limb], keyName(b.Key), keyboards[b.Division], subjects[a.Limb])
}

func crossedText(f *Finding) phrase.Phrase {
	return phrase.Of("the hands cross on %s: the left hand reaches %s, %.0f mm above the right hand's %s",
		keyboards[f.Division], keyName(f.High), f.Asked, keyName(f.Low))
}

func noLimbText(f *Finding, notes int) phrase.Phrase {
	if !f.Limb.IsHand() {
		return phrase.Of("the feet are not free, and %d notes are for the pedals", notes)
	}
	return phrase.Of("%s is not free, and %d notes are for it", subjects[f.Limb], notes)
}

func wideFeetText(f *Finding) phrase.Phrase {
	if f.Severity == Demanding {
		return phrase.Of("%s takes %s and %s with toe and heel", subjects[f.Limb], keyName(f.Low), keyName(f.High))
	}
	return phrase.Of("%s is asked for %s and %s at once, %.0f mm apart; toe and heel span %.0f mm between naturals",
		subjects[f.Limb], keyName(f.Low), keyName(f.High), f.Asked, f.Limit)
}

func controlText(f *Finding, a Action) phrase.Phrase {
	switch {
	case f.Time == 0:
		return phrase.Of("%s: %s plays through and has no time for it", a.What, subjects[f.Limb])
	case f.Severity == Demanding:
		return phrase.Of("%s: %s has to let go early; it needs %.0f ms", a.What, subjects[f.Limb], 1000*f.Need)
	}
	return phrase.Of("%s: %s has %.0f ms, letting go early; it needs %.0f ms", a.What, subjects[f.Limb], 1000*f.Time, 1000*f.Need)
}

// byHand says, by kind, why no way out may be left and what the player can do.
var byHand = [...]string{
	Wide:       "no other block, plan or take that was tried lies in the hand; take a voice out on the bench, or move the melody note",
	Shape:      "no other block, plan or take that was tried fits the fingers; take a voice out on the bench, or move the melody note",
	TooMany:    "every plan and take that was tried asks for too many keys; take voices out on the bench",
	Fast:       "no other block, plan or tempo that was tried leaves the time; leave a note out, or make the one before it shorter",
	Numbers:    "without your finger numbers the place is no easier; change its notes",
	TwoManuals: "every plan and octave that was tried needs both manuals in one hand; leave one of its notes out",
	SameKey:    "both hands want this key in all that was tried; take it out of one hand's block on the bench",
	Crossed:    "the hands cross in all that was tried; give one of them the other manual, or another octave",
	OffKeys:    "no octave and no console of the program's has the key; move the note",
	NoLimb:     "no plan that was tried does without this limb; free it in the form of the player or of the console",
	WideFeet:   "every bass that was tried keeps the pedals too far apart; give the chords here basses that lie nearer to each other",
	Control:    "no bar nearby leaves a limb free for it; make a rest before the change, or move the border of the passage",
	Strain:     "nothing that was tried makes it lighter; put in rests, or plan these bars differently",
}

// ByHand says why no way out may be left for the finding, and what its player can
// do all the same.
func (f *Finding) ByHand() phrase.Phrase { return phrase.Of(byHand[f.Kind]) }
