package ui

import (
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/paint"
)

// soundingKeys returns the keys that are down at a written position.
func soundingKeys(r *arrange.Realisation, t project.Ticks) []paint.LitKey {
	var keys []paint.LitKey
	for i := range r.Notes {
		n := &r.Notes[i]
		if n.Start > t {
			break
		}
		if t < n.Start+n.Duration {
			keys = append(keys, litKey(n))
		}
	}
	return keys
}

func litKey(n *arrange.Note) paint.LitKey {
	return paint.LitKey{Division: n.Division, Key: n.Key, Limb: n.Limb, Finger: n.Finger, Then: n.Then, Glide: n.Glide, Part: n.Part, Cross: n.Cross}
}

// playedKeys returns the keys to show while the transport is at a written position:
// the next block in outline, where no key of it is down, under what sounds and what
// is held by hand. In a count-in nothing sounds.
func (w *Window) playedKeys(t project.Ticks) []paint.LitKey {
	var down []paint.LitKey
	if _, _, counted := w.session.Counted(); !counted {
		down = soundingKeys(w.session.Sounding(), t)
	}
	down = append(down, w.heldKeys()...)
	var keys []paint.LitKey
	for _, n := range w.session.Next() {
		if !slices.ContainsFunc(down, func(k paint.LitKey) bool { return k.Division == n.Division && k.Key == n.Key }) {
			k := litKey(&n)
			k.Ghost = true
			keys = append(keys, k)
		}
	}
	return append(keys, down...)
}

// heldKeys returns the keys that are played by hand.
func (w *Window) heldKeys() (keys []paint.LitKey) {
	limbs := [...]arrange.Limb{arrange.RightHand, arrange.LeftHand, arrange.LeftFoot}
	for _, k := range w.session.Held() {
		keys = append(keys, paint.LitKey{Division: k.Division, Key: k.Key, Limb: limbs[k.Division]})
	}
	return keys
}

// showKeys lights the keys that are held and shows the stops under the hands.
func (w *Window) showKeys() {
	if !w.session.Playing() {
		w.console.light(w.selectedKeys())
	}
	w.console.showLive()
	w.keyboards.meter()
}

// selectedKeys returns the keys of the bench's note: what the limbs play when
// it starts, or, for an alternative that is only being looked at, its keys in
// outline.
func (w *Window) selectedKeys() []paint.LitKey {
	if held := w.heldKeys(); len(held) > 0 {
		return held
	}
	step, ok := w.session.Step()
	if !ok {
		return nil
	}
	keys := soundingKeys(w.session.Realisation(), step.Start)
	shown, _ := w.session.Shown()
	if samePitches(shown, step.Block) {
		return keys
	}
	var out []paint.LitKey
	for _, k := range keys {
		if k.Division == arrange.Pedal {
			out = append(out, k)
		}
	}
	for _, v := range shown.Voices {
		out = append(out, paint.LitKey{Division: arrange.Upper, Key: v.Key(), Limb: arrange.RightHand, Ghost: true})
	}
	return out
}

func samePitches(a, b arrange.Block) bool {
	if len(a.Voices) != len(b.Voices) {
		return false
	}
	for i := range a.Voices {
		if a.Voices[i].Key() != b.Voices[i].Key() {
			return false
		}
	}
	return true
}

func sameKeys(a, b []paint.LitKey) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
