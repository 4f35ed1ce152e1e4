// Package desktop opens the window on a screen. It alone imports the toolkit's
// graphics driver, so that the rest of the program builds and is tested
// without one.
package desktop

import (
	"math"
	"os"
	"path/filepath"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"github.com/go-gl/glfw/v3.3/glfw"

	"organbook/internal/player"
	"organbook/internal/player/midi"
	"organbook/internal/player/midi/device"
	"organbook/internal/ui"
)

// Options say what the window opens with.
type Options = ui.Options

// appID names the program's preferences.
const appID = "org.organbook.Organbook"

// Run opens the window and returns when it is closed.
func Run(o Options) error {
	calmSoftwareGL()
	trustGoroutines(o.Version)
	a := app.NewWithID(appID)
	var frames frameHold
	if o.Sound == nil {
		p := player.New(player.Options{Profile: ui.Buffers(a), Learned: ui.LearnedBuffers(a)})
		o.Sound = ui.NewSound(p, func() { frames.giveWay(p) })
		o.Keyboards = func(s midi.Setup) *midi.Hub { return midi.New(&device.System{}, p, s) }
	}
	if o.Journal == "" {
		o.Journal = journalFolder()
	}
	if o.Own == "" {
		o.Own = ownFile()
	}
	o.Scale, o.SetScale = startScale(a), setScale
	w, err := ui.New(a, o)
	if err != nil {
		return err
	}
	plainFrameBuffer()
	plainPictures()
	promptEvents(&frames)
	defer w.Settle() // also when the program is about to end by a panic
	w.Show()
	if m := glfw.GetPrimaryMonitor(); m != nil {
		_, _, width, height := m.GetWorkarea()
		w.Fit(width, height)
	}
	a.Run()
	return nil
}

// scaleVariable is how the toolkit is told the size of everything, as a factor;
// it reads it whenever it measures a window.
const scaleVariable = "FYNE_SCALE"

// startScale sets the size that the user chose in an earlier run and returns
// what is in force, in percent. The variable of the environment goes before it,
// and the toolkit's own setting stands where neither is there.
func startScale(a fyne.App) int {
	if f, err := strconv.ParseFloat(os.Getenv(scaleVariable), 64); err == nil && f > 0 {
		return int(math.Round(100 * f))
	}
	if chosen := ui.ScaleOf(a); chosen > 0 {
		setScale(chosen)
		return chosen
	}
	if f := a.Settings().Scale(); f > 0 {
		return int(math.Round(100 * float64(f)))
	}
	return 100
}

func setScale(percent int) {
	os.Setenv(scaleVariable, strconv.FormatFloat(float64(percent)/100, 'f', 2, 64))
}

// calmSoftwareGL keeps the software renderer, where there is no graphics
// card, from spreading each frame over extra threads: that costs more than it
// gains while the transport plays. A card's driver does not read the variable.
func calmSoftwareGL() {
	if _, set := os.LookupEnv("LP_NUM_THREADS"); !set {
		os.Setenv("LP_NUM_THREADS", "0")
	}
}

// checkVariable has the toolkit check that its objects are used on its own
// goroutine only, and print where they are not; the tests of the real window set it.
const checkVariable = "ORGANBOOK_CHECK_GOROUTINES"

// trustGoroutines tells the toolkit that nothing but fyne.Do brings the program's
// goroutines to the window. Else it finds out on which goroutine it is for each
// object that is to be drawn anew, by printing a part of the stack: a hundred
// times an edit, which took a sixth of it. It asks once, before the first window.
func trustGoroutines(version string) {
	app.SetMetadata(fyne.AppMetadata{ID: appID, Name: "Organbook", Version: version,
		Migrations: map[string]bool{"fyneDo": os.Getenv(checkVariable) == ""}})
}

// plainFrameBuffer asks for a frame buffer without depth and stencil, which the
// toolkit clears in every frame but never uses: drawn by software at 1600×1000
// that alone takes 3 ms. The hints hold for windows opened after this; the
// toolkit must have been started by a window made before.
func plainFrameBuffer() {
	glfw.WindowHint(glfw.DepthBits, 0)
	glfw.WindowHint(glfw.StencilBits, 0)
}

// ownFile is where what the user makes outside charts is kept; "" where there is
// no place for it.
func ownFile() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "organbook", "own.json")
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
