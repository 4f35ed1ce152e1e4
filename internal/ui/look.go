package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"organbook/internal/ui/paint"
)

// Sizes of type and the unit of spacing, in the toolkit's independent pixels.
const (
	sizeTitle   float32 = 20
	sizeHeading float32 = 15
	sizeText    float32 = 13
	sizeSmall   float32 = 11
	unit        float32 = 4
)

// Corner radii of marks, controls and panels.
const (
	radiusMark    float32 = 4
	radiusControl float32 = 8
	radiusPanel   float32 = 12
)

// captionSize is the toolkit's name for our smallest type.
const captionSize = theme.SizeNameCaptionText

// themeMode is what the user asked for.
type themeMode string

const (
	followSystem themeMode = "system"
	alwaysDark   themeMode = "dark"
	alwaysLight  themeMode = "light"
)

// look is Organbook's own theme: paint's colours and fonts for the toolkit's
// widgets, and the same colours for ours.
type look struct {
	mode   themeMode
	system func() fyne.ThemeVariant
}

func newLook(mode themeMode, system func() fyne.ThemeVariant) *look {
	if mode != alwaysDark && mode != alwaysLight {
		mode = followSystem
	}
	return &look{mode: mode, system: system}
}

// dark reports whether the dark palette is in force.
func (l *look) dark() bool {
	switch l.mode {
	case alwaysDark:
		return true
	case alwaysLight:
		return false
	}
	return l.system() != theme.VariantLight
}

// colours returns the palette in force.
func (l *look) colours() *paint.Theme {
	if l.dark() {
		return paint.Dark()
	}
	return paint.Light()
}

// Color gives the toolkit's widgets our palette.
func (l *look) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	p := l.colours()
	switch name {
	case theme.ColorNameBackground:
		return clearing(p.Ground)
	case theme.ColorNameInputBackground, theme.ColorNameHeaderBackground:
		return p.Ground
	case theme.ColorNameButton:
		return mix(p.Raised, p.Text, 0.08)
	case theme.ColorNameOverlayBackground:
		return p.Raised
	case theme.ColorNameMenuBackground: // also opens over dialogs
		return mix(p.Raised, p.Text, 0.07)
	case theme.ColorNameShadow: // the veil over the window behind a dialog
		return fade(p.Ground, 0.55)
	case theme.ColorNameForeground:
		return p.Text
	case theme.ColorNameDisabled, theme.ColorNamePlaceHolder:
		return p.Muted
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return p.Accent
	case theme.ColorNameFocus: // laid over buttons, choices and menu lines
		return fade(p.Text, 0.25)
	case theme.ColorNameForegroundOnPrimary, theme.ColorNameForegroundOnError,
		theme.ColorNameForegroundOnWarning, theme.ColorNameForegroundOnSuccess:
		return p.OnAccent
	case theme.ColorNameInputBorder: // also the frame of an empty check box
		return mix(p.Raised, p.Muted, 0.8)
	case theme.ColorNameSeparator:
		return p.Line
	case theme.ColorNameDisabledButton: // stands back behind the others
		return mix(p.Raised, p.Text, 0.03)
	case theme.ColorNameHover:
		return fade(p.Text, 0.08)
	case theme.ColorNamePressed:
		return fade(p.Text, 0.16)
	case theme.ColorNameSelection:
		return fade(p.Accent, 0.30)
	case theme.ColorNameScrollBar:
		return fade(p.Muted, 0.8)
	case theme.ColorNameScrollBarBackground:
		return color.Transparent
	case theme.ColorNameError:
		return p.Unplayable
	case theme.ColorNameWarning:
		return p.Caution
	}
	return theme.DefaultTheme().Color(name, v)
}

// Font returns the project's sans in two weights; everything printed in the
// window uses it.
func (l *look) Font(s fyne.TextStyle) fyne.Resource {
	if s.Monospace || s.Symbol {
		return theme.DefaultTheme().Font(s)
	}
	if s.Bold {
		return resourceSemiBold
	}
	return resourceRegular
}

// emptyBox is a check box that is not ticked. The toolkit's own has a frame of a
// twenty-fourth of its width, less than a pixel, which is as good as not there.
var emptyBox = fyne.NewStaticResource("organbook-empty-box.svg", []byte(
	`<svg xmlns="http://www.w3.org/2000/svg" width="24" height="24" viewBox="0 0 24 24"><path d="M3 3V21H21V3Z M5.5 5.5H18.5V18.5H5.5Z"/></svg>`))

// Icon keeps the toolkit's few icons (check marks, arrows of its dialogs) but for the
// empty box.
func (l *look) Icon(name fyne.ThemeIconName) fyne.Resource {
	if name == theme.IconNameCheckButton {
		return emptyBox
	}
	return theme.DefaultTheme().Icon(name)
}

// Size sets the type scale and a tighter spacing than the toolkit's.
func (l *look) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case theme.SizeNameText:
		return sizeText
	case theme.SizeNameInlineIcon: // of check boxes and choices
		return 16
	case theme.SizeNameCaptionText:
		return sizeSmall
	case theme.SizeNameSubHeadingText:
		return sizeHeading
	case theme.SizeNameHeadingText:
		return sizeTitle
	case theme.SizeNamePadding:
		return unit
	case theme.SizeNameInnerPadding:
		return 2 * unit
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return radiusControl
	case theme.SizeNameScrollBar:
		return 10
	case theme.SizeNameScrollBarSmall:
		return 4
	}
	return theme.DefaultTheme().Size(name)
}

// clearing is the colour to give the toolkit so that it clears a window to c:
// it takes 255 times 255 for the full brightness of a channel.
func clearing(c color.NRGBA) color.NRGBA64 {
	return color.NRGBA64{R: uint16(c.R) * 255, G: uint16(c.G) * 255, B: uint16(c.B) * 255, A: 0xFFFF}
}

// fade returns c with its opacity scaled.
func fade(c color.Color, alpha float64) color.NRGBA {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	n.A = uint8(float64(n.A)*alpha + 0.5)
	return n
}

// text makes a line of type.
func text(s string, size float32, bold bool, c color.Color) *canvas.Text {
	t := canvas.NewText(tr(s), c)
	t.TextSize, t.TextStyle = size, fyne.TextStyle{Bold: bold}
	return t
}
