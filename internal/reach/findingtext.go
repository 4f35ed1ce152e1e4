package reach

import "fmt"

// The sentences of findings. Each says what is asked and what the limit is.

func offKeysText(n *Note, k Compass) string {
	if k.Keys() == 0 {
		return fmt.Sprintf("%s is for the %s, which this console does not have", keyName(n.Key), keyboardName(n.Division))
	}
	return fmt.Sprintf("%s is off the %s, which goes from %s to %s", keyName(n.Key), keyboardName(n.Division), keyName(k.Lowest), keyName(k.Highest))
}

func keyboardName(d Division) string {
	if d == Pedal {
		return "pedalboard"
	}
	return d.String() + " manual"
}

func tooManyText(f *Finding) string {
	if f.Limb.IsHand() {
		return fmt.Sprintf("the %v is asked for %d keys at once, from %s to %s; it has %d fingers", f.Limb, f.Keys, keyName(f.Low), keyName(f.High), f.MaxKeys)
	}
	return fmt.Sprintf("the feet are asked for %d pedals at once; they take %d", f.Keys, f.MaxKeys)
}

func wideText(f *Finding) string {
	kind := "comfortable"
	if f.Severity == Unplayable {
		kind = "widest"
	}
	return fmt.Sprintf("the %v is asked to stretch from %s to %s, %d semitones or %.0f mm; its %s stretch is %.0f mm",
		f.Limb, keyName(f.Low), keyName(f.High), f.High-f.Low, f.Asked, kind, f.Limit)
}

func shapeText(f *Finding, a, b int) string {
	return fmt.Sprintf("no fingers of the %v fit this chord: from %s to %s are %d semitones, %.0f mm, and fingers %d and %d span %.0f mm at most",
		f.Limb, keyName(f.Low), keyName(f.High), f.High-f.Low, f.Asked, a, b, f.Limit)
}

func fastText(f *Finding, tempo float64) string {
	text := fmt.Sprintf("the %v has %.0f ms to get to %s, %.0f mm away; it needs %.0f ms",
		f.Limb, 1000*f.Time, keysText(f), f.Asked, 1000*f.Need)
	if f.OtherManual {
		text = fmt.Sprintf("the %v has %.0f ms to get to %s on the %s; it needs %.0f ms",
			f.Limb, 1000*f.Time, keysText(f), keyboardName(f.Division), 1000*f.Need)
	} else if f.Asked < 1 {
		text = fmt.Sprintf("the %v has %.0f ms from stroke to stroke at %s; it needs %.0f ms", f.Limb, 1000*f.Time, keysText(f), 1000*f.Need)
	}
	if f.TempoRatio > 0 && tempo > 0 {
		text += fmt.Sprintf(": playable up to %d", int(tempo*f.TempoRatio))
	}
	return text
}

func keysText(f *Finding) string {
	if f.Low == f.High {
		return keyName(f.Low)
	}
	return keyName(f.Low) + "–" + keyName(f.High)
}

func numbersText(f *Finding) string {
	return fmt.Sprintf("your finger numbers cross in the %v at %s; they are kept", f.Limb, keysText(f))
}

func twoManualsText(f *Finding) string {
	if f.Severity == Demanding {
		return fmt.Sprintf("the %v bridges both manuals, its thumb on the lower one", f.Limb)
	}
	return fmt.Sprintf("the %v is asked to be on both manuals at once, at %s", f.Limb, keysText(f))
}

func sameKeyText(a, b *Note) string {
	return fmt.Sprintf("the %v is asked for %s on the %s, which the %v holds", b.Limb, keyName(b.Key), keyboardName(b.Division), a.Limb)
}

func crossedText(f *Finding) string {
	return fmt.Sprintf("the hands cross on the %s: the left hand reaches %s, %.0f mm above the right hand's %s",
		keyboardName(f.Division), keyName(f.High), f.Asked, keyName(f.Low))
}

func noLimbText(f *Finding, notes int) string {
	if !f.Limb.IsHand() {
		return fmt.Sprintf("the feet are not free, and %d notes are for the pedals", notes)
	}
	return fmt.Sprintf("the %v is not free, and %d notes are for it", f.Limb, notes)
}

func wideFeetText(f *Finding) string {
	if f.Severity == Demanding {
		return fmt.Sprintf("the %v takes %s and %s with toe and heel", f.Limb, keyName(f.Low), keyName(f.High))
	}
	return fmt.Sprintf("the %v is asked for %s and %s at once, %.0f mm apart; toe and heel span %.0f mm between naturals",
		f.Limb, keyName(f.Low), keyName(f.High), f.Asked, f.Limit)
}

func controlText(f *Finding, a Action) string {
	switch {
	case f.Time == 0:
		return fmt.Sprintf("%s: the %v plays through and has no time for it", a.What, f.Limb)
	case f.Severity == Demanding:
		return fmt.Sprintf("%s: the %v has to let go early; it needs %.0f ms", a.What, f.Limb, 1000*f.Need)
	}
	return fmt.Sprintf("%s: the %v has %.0f ms, letting go early; it needs %.0f ms", a.What, f.Limb, 1000*f.Time, 1000*f.Need)
}
