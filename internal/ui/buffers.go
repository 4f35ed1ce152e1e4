package ui

import (
	"fyne.io/fyne/v2"

	"organbook/internal/player"
	"organbook/internal/ui/command"
)

// buffering is one choice of the sound's buffers: its word in the preferences,
// its command, and what the status line says when it is chosen.
type buffering struct {
	word, command, says string
	profile             player.Profile
}

var bufferings = map[command.Buffers]buffering{
	command.BuffersShortest: {"shortest", "buffers.shortest", "Sound buffer: shortest. Gaps mean that it is too short for this machine.", player.ShortestProfile},
	command.BuffersShort:    {"short", "buffers.short", "Sound buffer: short. Gaps mean that it is too short for this machine.", player.ShortProfile},
	command.BuffersUsual:    {"usual", "buffers.usual", "Sound buffer: as usual.", player.LiveProfile},
	command.BuffersSafe:     {"safe", "buffers.safe", "Sound buffer: safe. Keys answer later.", player.SafeProfile},
}

// buffers is the choice that is in force.
func (p preferences) buffers() command.Buffers {
	word := p.String("sound buffer")
	for b, of := range bufferings {
		if of.word == word {
			return b
		}
	}
	return command.BuffersUsual
}

func (p preferences) setBuffers(b command.Buffers) { p.SetString("sound buffer", bufferings[b].word) }

// Buffers returns the sound's buffers that an app's user has chosen.
func Buffers(app fyne.App) player.Profile {
	return bufferings[preferences{app.Preferences()}.buffers()].profile
}

// buffered is a sound with buffers that can be changed.
type buffered interface{ setBuffers(player.Profile) }

func (h heard) setBuffers(p player.Profile) { h.p.SetProfile(p) }

// SetBuffers chooses the sound's buffers, at once, and remembers them.
func (w *Window) SetBuffers(b command.Buffers) {
	w.prefs.setBuffers(b)
	if s, ok := w.opts.Sound.(buffered); ok {
		s.setBuffers(bufferings[b].profile)
	}
	w.session.Say(bufferings[b].says)
}
