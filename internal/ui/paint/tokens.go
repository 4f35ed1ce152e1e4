package paint

import (
	"image/color"

	"organbook/internal/arrange"
)

// Theme is one set of colours by role. Every pair that carries text or
// meaning is held to a contrast of 4.5:1 (text) or 3:1 (marks) by
// TestContrast; Faint, Hair and Line are decoration and carry nothing alone.
type Theme struct {
	// Name is "dark" or "light".
	Name string
	// Ground is the floor of the window, Panel of its panels (the same: see
	// newHair in the window), Raised a control or a chosen card.
	Ground, Panel, Raised color.NRGBA
	// Line divides, Hair divides more quietly; BarLine is read as notation.
	Line, Hair, BarLine color.NRGBA
	// Text is read, Muted is read second, Faint decorates.
	Text, Muted, Faint color.NRGBA
	// HomeRow and AwayRow tint the rows of pitch; AwayHatch is the pattern
	// that tells away from home without colour. All are opaque: mixed with
	// Ground beforehand.
	HomeRow, AwayRow, AwayHatch color.NRGBA
	// Home and Away are the pure hues of the two, for marks and words.
	Home, Away color.NRGBA
	// The limbs' colours, each with a fill pattern of its own.
	RightHand, LeftHand, LeftFoot, RightFoot color.NRGBA
	// OnLimb is for letters and patterns upon a limb's colour.
	OnLimb color.NRGBA
	// Lead is the melody's bar, OnLead its letter.
	Lead, OnLead color.NRGBA
	// Accent marks the playhead, the selection and the one main action;
	// OnAccent is for letters upon it.
	Accent, OnAccent color.NRGBA
	// Caution and Unplayable mark findings, always with their shapes.
	Caution, Unplayable color.NRGBA
	// WhiteKey, BlackKey and KeyLine draw the keyboards; OnWhiteKey is for
	// letters upon a white key. Pedals have no white keys behind their sharps,
	// so PedalSharp stands out from Panel.
	WhiteKey, BlackKey, PedalSharp, KeyLine, OnWhiteKey color.NRGBA
}

// darkTheme and lightTheme are the tokens of the two themes.
var (
	darkTheme  = newDark()
	lightTheme = newLight()
)

// Dark returns the dark theme. The result is shared and must not be changed.
func Dark() *Theme { return darkTheme }

// Light returns the light theme. The result is shared and must not be changed.
func Light() *Theme { return lightTheme }

func newDark() *Theme {
	t := &Theme{
		Name:   "dark",
		Ground: hex(0x12181D), Panel: hex(0x12181D), Raised: hex(0x212B34),
		Line: hex(0x33414D), Hair: hex(0x26323C), BarLine: hex(0x5F717F),
		Text: hex(0xEDE8DC), Muted: hex(0xA3B0BA), Faint: hex(0x6F7E8A),
		Home: hex(0xE3A857), Away: hex(0x4FA6A8),
		RightHand: hex(0xF0B54A), LeftHand: hex(0x63BEDB), LeftFoot: hex(0xEF8262), RightFoot: hex(0xBFA0EC),
		OnLimb: hex(0x14181C),
		Lead:   hex(0xF7F3E8), OnLead: hex(0x1A1A1A),
		Accent: hex(0xF0B54A), OnAccent: hex(0x1A1A1A),
		Caution: hex(0xF2D06B), Unplayable: hex(0xFF7A8A),
		WhiteKey: hex(0xE8E3D6), BlackKey: hex(0x1B232B), PedalSharp: hex(0x6B7A87), KeyLine: hex(0x12181D), OnWhiteKey: hex(0x4A535B),
	}
	t.tintRows(0.34, 0.20, 0.40)
	return t
}

func newLight() *Theme {
	t := &Theme{
		Name:   "light",
		Ground: hex(0xF5F1E8), Panel: hex(0xF5F1E8), Raised: hex(0xFFFFFF),
		Line: hex(0xCFC6B4), Hair: hex(0xE3DCCD), BarLine: hex(0x8A8272),
		Text: hex(0x22282D), Muted: hex(0x59646D), Faint: hex(0x8B949B),
		Home: hex(0xB67A20), Away: hex(0x2C8082),
		RightHand: hex(0xA56400), LeftHand: hex(0x1A7796), LeftFoot: hex(0xC6502F), RightFoot: hex(0x7A55B8),
		OnLimb: hex(0xFFFFFF),
		Lead:   hex(0x22282D), OnLead: hex(0xFFFFFF),
		Accent: hex(0xA25F00), OnAccent: hex(0xFFFFFF),
		Caution: hex(0xA87B00), Unplayable: hex(0xC22A45),
		WhiteKey: hex(0xFFFFFF), BlackKey: hex(0x2A3238), PedalSharp: hex(0x2A3238), KeyLine: hex(0xB4AA96), OnWhiteKey: hex(0x59646D),
	}
	t.tintRows(0.27, 0.18, 0.38)
	return t
}

// tintRows mixes the row colours with the ground, so that painting them is a
// plain copy.
func (t *Theme) tintRows(home, away, hatch float64) {
	t.HomeRow = mix(t.Ground, t.Home, home)
	t.AwayRow = mix(t.Ground, t.Away, away)
	t.AwayHatch = mix(t.Ground, t.Away, hatch)
}

// Limb returns the colour of a limb.
func (t *Theme) Limb(l arrange.Limb) color.NRGBA {
	switch l {
	case arrange.RightHand:
		return t.RightHand
	case arrange.LeftHand:
		return t.LeftHand
	case arrange.LeftFoot:
		return t.LeftFoot
	}
	return t.RightFoot
}

// Severity returns the colour of a finding.
func (t *Theme) Severity(s arrange.Severity) color.NRGBA {
	if s == arrange.Unplayable {
		return t.Unplayable
	}
	return t.Caution
}

// hex reads a colour written as in a design document.
func hex(rgb uint32) color.NRGBA {
	return color.NRGBA{uint8(rgb >> 16), uint8(rgb >> 8), uint8(rgb), 255}
}

// mix returns the opaque colour of b laid over a with the given opacity.
func mix(a, b color.NRGBA, opacity float64) color.NRGBA {
	m := func(x, y uint8) uint8 { return uint8(float64(x)*(1-opacity) + float64(y)*opacity + 0.5) }
	return color.NRGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), 255}
}

// withAlpha returns the colour at an opacity from 0 to 1.
func withAlpha(c color.NRGBA, opacity float64) color.NRGBA {
	c.A = uint8(opacity*255 + 0.5)
	return c
}
