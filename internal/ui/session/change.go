package session

import "organbook/internal/phrase"

// Change says what a notification is about; several may come at once.
type Change uint8

// The kinds of change.
const (
	// ChartChanged: the chart, and with it the realisation.
	ChartChanged Change = 1 << iota
	// SelectionChanged: caret, selected notes, chord or passage.
	SelectionChanged
	// EntryChanged: the length of the next note.
	EntryChanged
	// TransportChanged: playing, loop, tempo, click, layers.
	TransportChanged
	// FileChanged: the path or whether everything is saved.
	FileChanged
	// MessageChanged: the line of text that answers the last action.
	MessageChanged
	// KeysChanged: keys that are held, and faders outside.
	KeysChanged
)

// Has reports whether c includes k.
func (c Change) Has(k Change) bool { return c&k != 0 }

// OnChange adds a listener, called after each change on the goroutine that
// made it.
func (s *Session) OnChange(f func(Change)) { s.listeners = append(s.listeners, f) }

func (s *Session) notify(c Change) {
	for _, f := range s.listeners {
		f(c)
	}
}

// Message is the line of text that answers the last action, "" when there is
// nothing to say.
func (s *Session) Message() string { return s.message.String() }

// Said is the message as a phrase, for a window in another language.
func (s *Session) Said() phrase.Phrase { return s.message }

// Say sets the message.
func (s *Session) Say(text string) { s.Tell(phrase.Of(text)) }

// Tell sets the message to a phrase.
func (s *Session) Tell(p phrase.Phrase) {
	if s.message.String() != p.String() {
		s.message = p
		s.notify(MessageChanged)
	}
}
