package ui

import (
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"organbook/internal/perform"
	"organbook/internal/ui/command"
)

// maxRecent is how many recent files are remembered.
const maxRecent = 10

// preferences are what the program remembers between runs.
type preferences struct{ fyne.Preferences }

func (p preferences) theme() themeMode {
	return themeMode(p.StringWithFallback("theme", string(followSystem)))
}

func (p preferences) setTheme(m themeMode) { p.SetString("theme", string(m)) }

// language is the code of the language of the window's texts, "" as the system.
func (p preferences) language() string { return p.String("language") }

func (p preferences) setLanguage(code string) { p.SetString("language", code) }

// lessMotion says that the cursor jumps from beat to beat.
func (p preferences) lessMotion() bool { return p.Bool("less motion") }

func (p preferences) setLessMotion(on bool) { p.SetBool("less motion", on) }

// zoom returns the grid's scale steps, columns and rows.
func (p preferences) zoom() (columns, rows int) {
	return p.IntWithFallback("zoom columns", 0), p.IntWithFallback("zoom rows", 0)
}

func (p preferences) setZoom(columns, rows int) {
	p.SetInt("zoom columns", columns)
	p.SetInt("zoom rows", rows)
}

// scale returns the size of everything in percent, 0 where none was chosen.
func (p preferences) scale() int { return p.Int("scale") }

func (p preferences) setScale(percent int) { p.SetInt("scale", percent) }

// folded returns whether a panel is folded away.
func (p preferences) folded(panel command.Panel) bool { return p.Bool("fold " + panel.String()) }

func (p preferences) setFolded(panel command.Panel, on bool) { p.SetBool("fold "+panel.String(), on) }

// effects returns whether the effects stand beside the drawbars.
func (p preferences) effects() bool { return p.Bool("effects") }

func (p preferences) setEffects(on bool) { p.SetBool("effects", on) }

// grid returns what recordings are rounded to.
func (p preferences) grid(now perform.Grid) perform.Grid {
	return perform.Grid{Value: p.IntWithFallback("record value", now.Value), Triplets: perform.Triplets(p.IntWithFallback("record triplets", int(now.Triplets)))}
}

func (p preferences) setGrid(g perform.Grid) {
	if g != p.grid(perform.Grid{}) {
		p.SetInt("record value", g.Value)
		p.SetInt("record triplets", int(g.Triplets))
	}
}

// adds returns whether recordings leave the notes that they do not touch.
func (p preferences) adds() bool { return p.Bool("record adds") }

func (p preferences) setAdds(on bool) {
	if on != p.adds() {
		p.SetBool("record adds", on)
	}
}

// clickLevel returns the loudness of the metronome in decibels.
func (p preferences) clickLevel() float64 { return p.Float("click level") }

func (p preferences) setClickLevel(db float64) {
	if db != p.clickLevel() {
		p.SetFloat("click level", db)
	}
}

// recent returns the recent files, newest first.
func (p preferences) recent() []string { return p.StringList("recent") }

// addRecent puts a file on top of the recent ones.
func (p preferences) addRecent(path string) {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	list := slices.DeleteFunc(slices.Clone(p.recent()), func(s string) bool { return s == path })
	list = append([]string{path}, list...)
	p.SetStringList("recent", list[:min(len(list), maxRecent)])
}

// dropRecent forgets a file that is not there any more.
func (p preferences) dropRecent(path string) {
	p.SetStringList("recent", slices.DeleteFunc(slices.Clone(p.recent()), func(s string) bool { return s == path }))
}

// guidePlace returns the page of the handbook that was read last, and where in it.
func (p preferences) guidePlace() (page int, y float32) {
	return p.Int("handbook page"), float32(p.Float("handbook place"))
}

func (p preferences) setGuidePlace(page int, y float32) {
	p.SetInt("handbook page", page)
	p.SetFloat("handbook place", float64(y))
}

// folder returns where the last file was, "" at first.
func (p preferences) folder() string { return p.String("folder") }

func (p preferences) setFolder(dir string) { p.SetString("folder", dir) }

// isChartPath reports whether a file is a chart of our own by its ending.
func isChartPath(path string) bool { return strings.EqualFold(filepath.Ext(path), ".organbook") }
