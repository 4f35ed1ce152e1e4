package ui

import (
	"fmt"
	"strconv"

	"fyne.io/fyne/v2"
)

// fingerRow is the bench's row of fingers: the key they are for, the five
// fingers, and the way back to the program's choice.
type fingerRow struct {
	v      *benchPage
	key    *button
	digits [5]*button
	free   *button
}

func newFingerRow(v *benchPage) *fingerRow {
	top := v.b.w.top
	r := &fingerRow{v: v, key: top.command("", "finger.next"), free: top.command("free", "finger.0")}
	r.key.compact, r.free.compact = true, true
	for i := range r.digits {
		d := strconv.Itoa(i + 1)
		r.digits[i] = top.command(d, "finger."+d)
		r.digits[i].compact = true
	}
	return r
}

// shown reports whether a hand plays the block that is shown.
func (r *fingerRow) shown() bool {
	step, ok := r.v.b.w.session.Step()
	return ok && !r.v.several && r.v.b.w.session.HasFingerKeys() && samePitches(r.v.block, step.Block)
}

// update follows the picked key; the finger that plays it is on.
func (r *fingerRow) update() {
	at := r.v.b.w.session.PickedFinger()
	if at < 0 {
		return
	}
	k := r.v.b.w.session.FingerKeys()[at]
	whose := ""
	if k.Own {
		whose = " · own"
	}
	r.key.setLabel(fmt.Sprintf("%s · %s%s", k.Name, limbLetters[k.Limb], whose), k.Own)
	for i := range r.digits {
		r.digits[i].setLabel(strconv.Itoa(i+1), i+1 == k.Finger)
	}
	r.free.setOff(!k.Own)
}

func (r *fingerRow) objects() []fyne.CanvasObject {
	o := []fyne.CanvasObject{r.key, r.free}
	for _, d := range r.digits {
		o = append(o, d)
	}
	return o
}

// fingerRoom is the height of the row with what parts it from the next.
const fingerRoom float32 = 30

// arrange places the row at a height in a width.
func (r *fingerRow) arrange(y, inner float32, set placing) {
	set(r.key, benchPad, y, r.key.MinSize().Width, 24)
	free := r.free.MinSize().Width
	x := benchPad + inner - free
	set(r.free, x, y, free, 24)
	for i := len(r.digits) - 1; i >= 0; i-- {
		w := r.digits[i].MinSize().Width
		x -= w + unit
		set(r.digits[i], x, y, w, 24)
	}
}
