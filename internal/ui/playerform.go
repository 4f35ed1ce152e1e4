package ui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/reach"
	"organbook/internal/ui/shelf"
)

// ownHands is the name of stretches that the user gave in millimetres.
const ownHands = "own"

// player returns the player the user told about, or the default one.
func (w *Window) player() reach.Profile {
	if p := w.shelf.Now().Player; p != nil {
		return *p
	}
	return reach.DefaultProfile()
}

func (w *Window) keepPlayer(p reach.Profile) error {
	return w.shelf.Change(func(c *shelf.Content) error { c.Player = &p; return nil })
}

// playerFields are the fields of the form that asks who plays.
type playerFields struct {
	size, feet, touch  *escSelect
	sizes              []string
	right, left, speed *escEntry
	bridge, own        *escCheck
	filling            bool // the program fills fields in, not the user
}

// playerForm asks who plays. The answer is kept on the shelf and arranges
// every chart, or it is kept in the chart as its own player.
func (w *Window) playerForm() {
	f := newPlayerFields(w.session.Performer())
	f.own.SetChecked(w.session.HasOwnPlayer())
	f.own.OnChanged = func(own bool) {
		if !own { // what every chart is arranged for
			f.show(w.session.Player())
		}
	}
	items := []*widget.FormItem{
		hinted("Hands", f.size, "a small hand holds an octave with ease, a large one a tenth"),
		hinted("Right hand", f.right, "comfortable and widest stretch: 188–212 millimetres, or 9th–10th"),
		widget.NewFormItem("Left hand", f.left), widget.NewFormItem("Feet", f.feet), widget.NewFormItem("Touch", f.touch),
		hinted("Speed", f.speed, "per cent of a trained player's, 30 to 200"), widget.NewFormItem("", f.bridge),
		hinted("", f.own, "saved with the chart; other charts keep their player"),
	}
	w.form("Player", items, f.size, func() error { return w.takePlayer(f) })
}

// takePlayer gives the chart, or all charts, the player of the form.
func (w *Window) takePlayer(f *playerFields) error {
	s := w.session
	if f.own.Checked {
		p, err := f.read(s.Performer())
		if err != nil {
			return err
		}
		return s.SetOwnPlayer(p)
	}
	p, err := f.read(s.Player())
	if err != nil {
		return err
	}
	if err := s.SetPlayer(p); err != nil {
		return err
	}
	if err := s.DropOwnPlayer(); err != nil {
		return err
	}
	return w.keepPlayer(p)
}

func newPlayerFields(p reach.Profile) *playerFields {
	f := &playerFields{sizes: []string{ownHands}}
	for _, p := range reach.Profiles() {
		f.sizes = append(f.sizes, p.Name)
	}
	f.size = choice(f.sizes, handsName, p.Name)
	f.right, f.left, f.speed = newEscEntry("", nil), newEscEntry("", nil), newEscEntry("", nil)
	f.feet, f.touch = choice(feetNames[:], tr, feetNames[0]), choice(touchNames[:], tr, touchNames[0])
	f.bridge = newEscCheck("the thumb may bridge both manuals")
	f.own = newEscCheck("this chart has its own player")
	f.show(p)
	f.size.OnChanged = func(string) {
		if p, ok := f.preset(); ok {
			f.filling = true
			f.right.SetText(stretchText(p.Hands[0]))
			f.left.SetText(stretchText(p.Hands[1]))
			f.filling = false
		}
	}
	own := func(string) {
		p, ok := f.preset()
		if ok && !f.filling && (f.right.Text != stretchText(p.Hands[0]) || f.left.Text != stretchText(p.Hands[1])) {
			f.size.SetSelectedIndex(0)
		}
	}
	f.right.OnChanged, f.left.OnChanged = own, own
	return f
}

// preset returns the player whose hands are chosen; ok is false for hands of
// one's own.
func (f *playerFields) preset() (p reach.Profile, ok bool) {
	return reach.ProfileByName(f.sizes[f.size.SelectedIndex()])
}

// show fills the fields in.
func (f *playerFields) show(p reach.Profile) {
	f.filling = true
	defer func() { f.filling = false }()
	f.size.SetSelectedIndex(max(0, slices.Index(f.sizes, p.Name)))
	f.right.SetText(stretchText(p.Hands[0]))
	f.left.SetText(stretchText(p.Hands[1]))
	f.feet.SetSelectedIndex(int(p.Feet))
	f.touch.SetSelectedIndex(int(p.Touch))
	f.speed.SetText(strconv.FormatFloat(100*p.Speed, 'f', 0, 64))
	f.bridge.SetChecked(p.ThumbBridge)
}

// read returns the player of the form; what it does not ask about is p's.
func (f *playerFields) read(p reach.Profile) (reach.Profile, error) {
	p.Name, p.Feet, p.Touch, p.ThumbBridge = f.sizes[f.size.SelectedIndex()], reach.Feet(f.feet.SelectedIndex()), reach.Touch(f.touch.SelectedIndex()), f.bridge.Checked
	for i, e := range []*escEntry{f.right, f.left} {
		stretch, err := readStretch(e.Text)
		if err != nil {
			return p, fmt.Errorf("the %v: %w", reach.Limb(i), err)
		}
		p.Hands[i] = stretch
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(f.speed.Text), "%")), 64)
	if err != nil {
		return p, fmt.Errorf("speed %q: write per cent such as 100", f.speed.Text)
	}
	p.Speed = v / 100
	return p, nil
}

var (
	feetNames  = [...]string{"both feet", "left foot, the right on the swell", "no feet"}
	touchNames = [...]string{"legato", "detached"}
)

func handsName(s string) string {
	if s == ownHands {
		return tr("my own, in millimetres")
	}
	return tr(s)
}

// hinted is a field with a line of explanation under it.
func hinted(label string, o fyne.CanvasObject, hint string) *widget.FormItem {
	item := widget.NewFormItem(label, o)
	item.HintText = hint
	return item
}

// stretchText writes a stretch as the form does: "188–212".
func stretchText(s reach.Stretch) string { return fmt.Sprintf("%.0f–%.0f", s.Comfortable, s.Maximal) }

// readStretch reads the comfortable and the widest stretch, each in millimetres
// or as an interval of naturals.
func readStretch(text string) (s reach.Stretch, err error) {
	words := strings.FieldsFunc(strings.ReplaceAll(text, "mm", " "), func(r rune) bool { return strings.ContainsRune(" –-,;/", r) })
	if len(words) != 2 {
		return s, fmt.Errorf("%q: write the comfortable and the widest stretch, such as 188–212 or 9th–10th", text)
	}
	if s.Comfortable, err = readWidth(words[0]); err != nil {
		return s, err
	}
	s.Maximal, err = readWidth(words[1])
	return s, err
}

// readWidth reads "188" or "9th".
func readWidth(word string) (reach.Millimetres, error) {
	digits := strings.TrimRight(strings.ToLower(word), "abcdefghijklmnopqrstuvwxyz")
	if n, err := strconv.Atoi(digits); err == nil && digits != word {
		if n < 2 || n > 15 {
			return 0, fmt.Errorf("%q: a hand opens to an interval such as 9th", word)
		}
		return reach.Naturals(n), nil
	}
	v, err := strconv.ParseFloat(word, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is neither millimetres such as 188 nor an interval such as 9th", word)
	}
	return reach.Millimetres(v), nil
}
