package ui

import (
	"strings"

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
	command.BuffersAutomatic: {"automatic", "buffers.automatic", "Sound buffer: automatic. It is short for keys, so that they answer at once, and longer for a chart that plays, as far as the machine allows.", player.AutomaticProfile},
	command.BuffersShortest:  {"shortest", "buffers.shortest", "Sound buffer: shortest. Gaps mean that it is too short for this machine.", player.ShortestProfile},
	command.BuffersShort:     {"short", "buffers.short", "Sound buffer: short. Gaps mean that it is too short for this machine.", player.ShortProfile},
	command.BuffersUsual:     {"usual", "buffers.usual", "Sound buffer: as usual.", player.LiveProfile},
	command.BuffersSafe:      {"safe", "buffers.safe", "Sound buffer: safe. Keys answer later.", player.SafeProfile},
}

// buffers is the choice that is in force.
func (p preferences) buffers() command.Buffers {
	word := p.String("sound buffer")
	for b, of := range bufferings {
		if of.word == word {
			return b
		}
	}
	return command.BuffersAutomatic
}

func (p preferences) setBuffers(b command.Buffers) { p.SetString("sound buffer", bufferings[b].word) }

// Buffers returns the sound's buffers that an app's user has chosen.
func Buffers(app fyne.App) player.Profile {
	return bufferings[preferences{app.Preferences()}.buffers()].profile
}

// learnedBuffers is what the automatic choice has learned of the machine.
func (p preferences) learnedBuffers() player.Learned {
	return player.ParseLearned(p.String("sound buffer learned"))
}

func (p preferences) setLearnedBuffers(l player.Learned) {
	if l != p.learnedBuffers() {
		p.SetString("sound buffer learned", l.String())
	}
}

// LearnedBuffers returns what the automatic choice of buffers has learned in an
// earlier run.
func LearnedBuffers(app fyne.App) player.Learned {
	return preferences{app.Preferences()}.learnedBuffers()
}

// keepLearnedBuffers remembers it for the next start.
func (w *Window) keepLearnedBuffers() {
	if s, ok := w.opts.Sound.(buffered); ok && w.prefs.buffers() == command.BuffersAutomatic {
		w.prefs.setLearnedBuffers(s.learned())
	}
}

// buffered is a sound with buffers that can be changed.
type buffered interface {
	setBuffers(player.Profile)
	// buffers are those in force, which the sound may have chosen itself.
	buffers() player.Profile
	// learned is what it knows of the machine where it chooses itself.
	learned() player.Learned
}

func (h heard) setBuffers(p player.Profile) { h.p.SetProfile(p) }
func (h heard) buffers() player.Profile     { return h.p.Status().Buffers }
func (h heard) learned() player.Learned     { return h.p.Learned() }

// chosenBuffers names the buffers that the sound has chosen itself, as their
// own line in the menu does; it is empty where they are the user's choice, or
// there is no device.
func (w *Window) chosenBuffers() string {
	s, ok := w.opts.Sound.(buffered)
	if !ok || w.prefs.buffers() != command.BuffersAutomatic {
		return ""
	}
	for _, of := range bufferings {
		if of.profile == s.buffers() {
			_, name, _ := strings.Cut(w.commands.Find(of.command).Title, ": ")
			return name
		}
	}
	return ""
}

// SetBuffers chooses the sound's buffers, at once, and remembers them.
func (w *Window) SetBuffers(b command.Buffers) {
	w.prefs.setBuffers(b)
	if s, ok := w.opts.Sound.(buffered); ok {
		s.setBuffers(bufferings[b].profile)
	}
	w.session.Say(bufferings[b].says)
}
