package paint

import "math"

// ControlRow is one setting as it is drawn: a label, a track and what it says.
type ControlRow struct {
	Name, Value string
	// Part is how far the track is filled, 0 to 1.
	Part float64
	// Choices, above 1, cuts the track into as many pieces, of which one is
	// filled.
	Choices int
	// Idle settings have no effect as things are.
	Idle bool
}

// ControlsLayout is the geometry of a column of settings under a title.
type ControlsLayout struct {
	Rect
	// Tracks are the full tracks, in the order of the rows.
	Tracks []Rect
	// RowHeight is the distance between rows.
	RowHeight float64
}

// Room beside the tracks, in units.
const (
	controlNameRoom  = 88.0
	controlValueRoom = 92.0
	maxControlRow    = 24.0
)

// LayoutControls places n settings in a rectangle.
func LayoutControls(r Rect, n int) *ControlsLayout {
	l := &ControlsLayout{Rect: r, RowHeight: math.Min(maxControlRow, (r.H-titleRoom)/float64(n))}
	thick := math.Max(5, math.Round(l.RowHeight*0.3))
	for i := range n {
		y := r.Y + titleRoom + l.RowHeight*float64(i) + (l.RowHeight-thick)/2
		l.Tracks = append(l.Tracks, Rect{r.X + controlNameRoom, y, r.W - controlNameRoom - controlValueRoom, thick})
	}
	return l
}

// Hit returns the setting under a point and the part of its track that a pull
// to there means. The whole row counts, so that the ends are easy to reach.
func (l *ControlsLayout) Hit(x, y float64) (row int, part float64, ok bool) {
	row = int(math.Floor((y - l.Y - titleRoom) / l.RowHeight))
	if row < 0 || row >= len(l.Tracks) || x < l.X || x >= l.Right() {
		return 0, 0, false
	}
	return row, l.Part(row, x), true
}

// Part returns how far along a setting's track a point lies, 0 to 1.
func (l *ControlsLayout) Part(row int, x float64) float64 {
	t := l.Tracks[row]
	return math.Max(0, math.Min(1, (x-t.X)/t.W))
}

// RowRect is a whole row, for the frame of the one with the keyboard.
func (l *ControlsLayout) RowRect(row int) Rect {
	return Rect{l.X + 1, l.Tracks[row].CentreY() - l.RowHeight/2, l.W - 2, l.RowHeight}
}

// PaintControls paints a column of settings.
func PaintControls(c *Canvas, l *ControlsLayout, th *Theme, title string, rows []ControlRow) {
	c.Text(l.X+controlNameRoom, l.Y+12, Shorten(title, SemiBold, SizeSmall, l.W-controlNameRoom),
		Style{SemiBold, SizeSmall, th.Text}, AlignLeft)
	size := math.Min(SizeSmall, l.RowHeight*0.85)
	for i, r := range rows {
		t := l.Tracks[i]
		base := t.CentreY() + size*capHeight/2
		name, value, mark := th.Muted, th.Text, th.Accent
		if r.Idle {
			value, mark = th.Muted, th.BarLine
		}
		c.Text(t.X-8, base, Shorten(r.Name, Regular, size, controlNameRoom-8), Style{Regular, size, name}, AlignRight)
		if r.Choices > 1 {
			paintChoice(c, t, r, th, mark)
		} else {
			paintAmount(c, t, r, th, mark)
		}
		c.Text(t.Right()+10, base, Shorten(r.Value, Regular, size, controlValueRoom-12), Style{Regular, size, value}, AlignLeft)
	}
}
