package ui

import (
	"testing"
	"time"

	"organbook/internal/project"
	"organbook/internal/ui/rescue"
)

// TestRecoveredWorkIsNamedInGerman asks about charts by title, file and time; what a
// user has named is never translated, also where it is a word of the window.
func TestRecoveredWorkIsNamedInGerman(t *testing.T) {
	inGerman(t)
	when := time.Date(2031, time.March, 3, 9, 5, 0, 0, time.Local)
	for _, tc := range []struct{ title, file, want string }{
		{"", "", "ein Blatt ohne Titel"},
		{"Slow Ferry", "", "„Slow Ferry“"},
		{"Slow Ferry", "/home/a/ferry.organbook", "„Slow Ferry“ („ferry.organbook“)"},
		{"", "/home/a/ferry.organbook", "„ferry.organbook“"},
		{"Undo", "/home/a/Save.organbook", "„Undo“ („Save.organbook“)"},
		{"Undo", "/home/a/Undo", "„Undo“ („Undo“)"},
		{"Slow, last changed", "/home/a/Bridge: two; three.organbook", "„Slow, last changed“ („Bridge: two; three.organbook“)"},
	} {
		chart := project.New()
		chart.Title = tc.title
		text := recoveryText(rescue.Found{Recovered: project.Recovered{Chart: chart, Original: tc.file}, When: when})
		if want := "Das Programm endete mit ungesicherter Arbeit: " + tc.want + ", zuletzt geändert am 3. März um 09:05. Öffnen?"; tr(text) != want {
			t.Errorf("%q is %q, want %q", text, tr(text), want)
		}
	}
}
