package ui

import (
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
			keys = append(keys, paint.LitKey{Division: n.Division, Key: n.Key, Limb: n.Limb, Finger: n.Finger, Part: n.Part})
		}
	}
	return keys
}

// selectedKeys returns the keys of the bench's note: what the limbs play when
// it starts, or, for an alternative that is only being looked at, its keys in
// outline.
func (w *Window) selectedKeys() []paint.LitKey {
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
