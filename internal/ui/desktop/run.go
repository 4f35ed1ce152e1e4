// Package desktop opens the window on a screen. It alone imports the toolkit's
// graphics driver, so that the rest of the program builds and is tested
// without one.
package desktop

import (
	"os"
	"path/filepath"

	"fyne.io/fyne/v2/app"

	"organbook/internal/player"
	"organbook/internal/ui"
)

// Options say what the window opens with.
type Options = ui.Options

// appID names the program's preferences.
const appID = "org.organbook.Organbook"

// Run opens the window and returns when it is closed.
func Run(o Options) error {
	if o.Sound == nil {
		o.Sound = ui.NewSound(player.New(player.Options{}))
	}
	if o.Journal == "" {
		o.Journal = journalFolder()
	}
	calmSoftwareGL()
	a := app.NewWithID(appID)
	w, err := ui.New(a, o)
	if err != nil {
		return err
	}
	w.Show()
	a.Run()
	return nil
}

// calmSoftwareGL keeps the software renderer, where there is no graphics
// card, from spreading each frame over extra threads: that costs more than it
// gains while the transport plays. A card's driver does not read the variable.
func calmSoftwareGL() {
	if _, set := os.LookupEnv("LP_NUM_THREADS"); !set {
		os.Setenv("LP_NUM_THREADS", "0")
	}
}

// journalFolder is where unsaved work is kept; "" where there is no place for
// it.
func journalFolder() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "organbook")
}
