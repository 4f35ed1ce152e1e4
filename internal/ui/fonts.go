package ui

import (
	"fyne.io/fyne/v2"

	"organbook/assets/fonts"
)

// The window's type, as the toolkit wants it.
var (
	resourceRegular  = fyne.NewStaticResource("OrganbookSans-Regular.ttf", fonts.Regular)
	resourceSemiBold = fyne.NewStaticResource("OrganbookSans-SemiBold.ttf", fonts.SemiBold)
)
