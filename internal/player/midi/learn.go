package midi

// Learning: the next controller that is moved, or the next key that is
// pressed, is what is meant; for a switch either, or a program change. It does
// nothing else that time.

// learning says what is learned: 0 nothing, a control, or a target beyond
// keyboards.
type learning = uint32

const keyboards learning = 1 << 16

// LearnControl waits for the controller that is to work a control.
func (h *Hub) LearnControl(c Control) { h.learn.Store(learning(c)) }

// LearnKeyboard waits for a key on the channel that is to play a target.
func (h *Hub) LearnKeyboard(t Target) { h.learn.Store(keyboards + learning(t)) }

// LearnNothing gives up learning.
func (h *Hub) LearnNothing() { h.learn.Store(0) }

// Learning returns what is waited for; NoControl and Nothing when nothing is.
func (h *Hub) Learning() (c Control, t Target) {
	l := h.learn.Load()
	if l >= keyboards {
		return NoControl, Target(l - keyboards)
	}
	return Control(l), Nothing
}

// learnController takes a controller, a key or a program if one is waited for
// that can work the control.
func (h *Hub) learnController(by Controller) bool {
	l := h.learn.Load()
	if l == 0 || l >= keyboards || !by.Source.canWork(Control(l)) || !h.learn.CompareAndSwap(l, 0) {
		return false
	}
	h.note(Event{Kind: Learned, Control: Control(l), Controller: by})
	return true
}

// learnKeyboard takes a channel if one is waited for.
func (h *Hub) learnKeyboard(port string, channel byte) bool {
	l := h.learn.Load()
	if l < keyboards || !h.learn.CompareAndSwap(l, 0) {
		return false
	}
	h.note(Event{Kind: KeyboardLearned, Target: Target(l - keyboards), Channel: channel + 1, Port: port})
	return true
}
