package ui

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/reach"
)

// ownHands is the name of stretches that the user gave in millimetres.
const ownHands = "own"

// player returns the player the user told about, or the default one.
func (p preferences) player() reach.Profile {
	out := reach.DefaultProfile()
	text := p.String("player")
	var kept reach.Profile
	if text == "" || json.Unmarshal([]byte(text), &kept) != nil || kept.Check() != nil ||
		kept.Feet > reach.NoFeet || kept.Touch > reach.Detached {
		return out
	}
	return kept
}

func (p preferences) setPlayer(player reach.Profile) {
	if text, err := json.Marshal(player); err == nil {
		p.SetString("player", string(text))
	}
}

// playerForm asks who plays; the answer is kept in the preferences and arranges
// every chart.
func (w *Window) playerForm() {
	now := w.session.Player()
	sizes := []string{ownHands}
	for _, p := range reach.Profiles() {
		sizes = append(sizes, p.Name)
	}
	size := choice(sizes, handsName, now.Name)
	right, left := newEscEntry(stretchText(now.Hands[0]), nil), newEscEntry(stretchText(now.Hands[1]), nil)
	feet := choice(feetNames[:], self, feetNames[now.Feet])
	touch := choice(touchNames[:], self, touchNames[now.Touch])
	speed := newEscEntry(strconv.FormatFloat(100*now.Speed, 'f', 0, 64), nil)
	bridge := widget.NewCheck("the thumb may bridge both manuals", nil)
	bridge.SetChecked(now.ThumbBridge)
	size.OnChanged = func(string) {
		if p, ok := reach.ProfileByName(sizes[size.SelectedIndex()]); ok {
			right.SetText(stretchText(p.Hands[0]))
			left.SetText(stretchText(p.Hands[1]))
		}
	}
	own := func(string) {
		p, ok := reach.ProfileByName(sizes[size.SelectedIndex()])
		if ok && (right.Text != stretchText(p.Hands[0]) || left.Text != stretchText(p.Hands[1])) {
			size.SetSelectedIndex(0)
		}
	}
	right.OnChanged, left.OnChanged = own, own
	items := []*widget.FormItem{
		hinted("Hands", size, "a small hand holds an octave with ease, a large one a tenth"),
		hinted("Right hand", right, "comfortable and widest stretch in millimetres; an octave is 165"),
		widget.NewFormItem("Left hand", left), widget.NewFormItem("Feet", feet), widget.NewFormItem("Touch", touch),
		hinted("Speed", speed, "per cent of a trained player's, 30 to 200"), widget.NewFormItem("", bridge),
	}
	w.form("Player", items, size, func() error {
		p := now
		p.Name, p.Feet, p.Touch, p.ThumbBridge = sizes[size.SelectedIndex()], reach.Feet(feet.SelectedIndex()), reach.Touch(touch.SelectedIndex()), bridge.Checked
		for i, e := range []*escEntry{right, left} {
			stretch, err := readStretch(e.Text)
			if err != nil {
				return fmt.Errorf("the %v: %w", reach.Limb(i), err)
			}
			p.Hands[i] = stretch
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(speed.Text), "%")), 64)
		if err != nil {
			return fmt.Errorf("speed %q: write per cent such as 100", speed.Text)
		}
		p.Speed = v / 100
		if err := w.session.SetPlayer(p); err != nil {
			return err
		}
		w.prefs.setPlayer(p)
		return nil
	})
}

var (
	feetNames  = [...]string{"both feet", "left foot, the right on the swell", "no feet"}
	touchNames = [...]string{"legato", "detached"}
)

func self(s string) string { return s }

func handsName(s string) string {
	if s == ownHands {
		return "my own, in millimetres"
	}
	return s
}

// hinted is a field with a line of explanation under it.
func hinted(label string, o fyne.CanvasObject, hint string) *widget.FormItem {
	item := widget.NewFormItem(label, o)
	item.HintText = hint
	return item
}

// stretchText writes a stretch as the form does: "188–212".
func stretchText(s reach.Stretch) string { return fmt.Sprintf("%.0f–%.0f", s.Comfortable, s.Maximal) }

// readStretch reads two figures in millimetres.
func readStretch(text string) (s reach.Stretch, err error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" –-,;/m", r) })
	if len(words) != 2 {
		return s, fmt.Errorf("%q: write the comfortable and the widest stretch, such as 188–212", text)
	}
	var v [2]float64
	for i, word := range words {
		if v[i], err = strconv.ParseFloat(word, 64); err != nil {
			return s, fmt.Errorf("%q is no number of millimetres", word)
		}
	}
	return reach.Stretch{Comfortable: reach.Millimetres(v[0]), Maximal: reach.Millimetres(v[1])}, nil
}
