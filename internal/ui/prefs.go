package ui

import (
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

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

// zoom returns the grid's scale steps, columns and rows.
func (p preferences) zoom() (columns, rows int) {
	return p.IntWithFallback("zoom columns", 0), p.IntWithFallback("zoom rows", 0)
}

func (p preferences) setZoom(columns, rows int) {
	p.SetInt("zoom columns", columns)
	p.SetInt("zoom rows", rows)
}

// folded returns whether a panel is folded away.
func (p preferences) folded(panel command.Panel) bool { return p.Bool("fold " + panel.String()) }

func (p preferences) setFolded(panel command.Panel, on bool) { p.SetBool("fold "+panel.String(), on) }

// ownKeys returns the commands whose keys the user changed.
func (p preferences) ownKeys() []string { return p.StringList("own keys") }

func (p preferences) keys(id string) []command.Stroke {
	return command.ReadStrokes(p.String("keys of " + id))
}

func (p preferences) setKeys(id string, keys []command.Stroke) {
	p.forgetKeys(id)
	p.SetString("keys of "+id, command.WriteStrokes(keys))
	p.SetStringList("own keys", append(p.ownKeys(), id))
}

func (p preferences) forgetKeys(id string) {
	p.RemoveValue("keys of " + id)
	p.SetStringList("own keys", slices.DeleteFunc(slices.Clone(p.ownKeys()), func(s string) bool { return s == id }))
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

// folder returns where the last file was, "" at first.
func (p preferences) folder() string { return p.String("folder") }

func (p preferences) setFolder(dir string) { p.SetString("folder", dir) }

// isChartPath reports whether a file is a chart of our own by its ending.
func isChartPath(path string) bool { return strings.EqualFold(filepath.Ext(path), ".organbook") }
