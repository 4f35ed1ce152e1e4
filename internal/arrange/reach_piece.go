package arrange

import (
	"sort"
	"strings"

	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
)

// clock tells the time at which limbs play written positions: the tempo of
// each bar, and the swing of its beats.
type clock struct {
	swung   *Swung
	starts  []project.Ticks
	seconds []float64 // of each bar's start
	perTick []float64
}

func newClock(c *project.Chart, notes []Note) *clock {
	k := &clock{swung: NewSwung(c, notes)}
	tempo, at, time := c.Tempo, project.Ticks(0), 0.0
	for i := range c.Bars {
		if c.Bars[i].Tempo > 0 {
			tempo = c.Bars[i].Tempo
		}
		if !(tempo > 0) {
			tempo = 120
		}
		perTick := 60 / tempo / float64(project.Quarter)
		k.starts, k.seconds, k.perTick = append(k.starts, at), append(k.seconds, time), append(k.perTick, perTick)
		at += c.Bars[i].Length
		time += float64(c.Bars[i].Length) * perTick
	}
	return k
}

// playedIn returns the time at which a limb plays a position of a bar.
func (k *clock) playedIn(bar int, t project.Ticks, limb Limb) float64 {
	if bar >= len(k.starts) {
		return k.at(t)
	}
	if !k.swung.even() {
		t = k.swung.bendIn(bar, t, limb)
	}
	return k.seconds[bar] + float64(t-k.starts[bar])*k.perTick[bar]
}

// at returns the time of a written position in seconds from the start, without
// swing.
func (k *clock) at(t project.Ticks) float64 {
	i := sort.Search(len(k.starts), func(i int) bool { return k.starts[i] > t }) - 1
	if i < 0 {
		return 0
	}
	return k.seconds[i] + float64(t-k.starts[i])*k.perTick[i]
}

// ReachConsole returns a console as the reach model knows it.
func ReachConsole(c project.Console) reach.Console {
	of := func(k project.Compass) reach.Compass { return reach.Compass{Lowest: k.Lowest, Highest: k.Highest} }
	out := reach.Console{Upper: of(c.Upper), Lower: of(c.Lower), Pedal: of(c.Pedal), Split: c.Split, LowerOffset: reach.Millimetres(c.LowerOffset)}
	if c.Pedal.Keys() > 30 { // boards that wide are built concave
		out.Board = reach.Concave
	}
	return out
}

// onConsole returns a player at a console: limbs that are not free there are
// busy.
func onConsole(p reach.Profile, console project.Console) reach.Profile {
	for limb := range p.BusyLimbs {
		p.BusyLimbs[limb] = p.BusyLimbs[limb] || console.Busy>>limb&1 == 1
	}
	return p
}

// pieceOf is what a realisation asks of a player.
func pieceOf(r *Realisation, p reach.Profile) reach.Piece {
	console, known := project.ConsoleByID(r.Chart.Console)
	if !known {
		console, _ = project.ConsoleByID(project.DefaultConsole)
	}
	k := newClock(r.Chart, r.Notes)
	piece := reach.Piece{Console: ReachConsole(console), Profile: onConsole(p, console), Tempo: r.Chart.Tempo}
	piece.Notes = make([]reach.Note, len(r.Notes))
	bar := 0
	for i := range r.Notes {
		n := &r.Notes[i]
		end := n.Start + n.Duration
		bar = k.swung.barFrom(bar, n.Start)
		piece.Notes[i] = reach.Note{
			Start: k.playedIn(bar, n.Start, n.Limb), End: k.playedIn(k.swung.barFrom(bar, end), end, n.Limb), At: reach.Ticks(n.Start), Until: reach.Ticks(end),
			Key: n.Key, Division: n.Division, Limb: n.Limb, Finger: ownFinger(r.Chart, n),
		}
	}
	piece.Controls, piece.Swelling = actionsOf(r.Cues, k), swellingOf(r.Chart)
	return piece
}

// swellingOf lists the passages in which the expression pedal moves.
func swellingOf(c *project.Chart) (out []reach.Span) {
	for i := range c.Passages {
		if c.Passages[i].Registration.Glide != 0 {
			start, end := c.PassageTime(i)
			out = append(out, reach.Span{At: reach.Ticks(start), Until: reach.Ticks(end)})
		}
	}
	return out
}

// ownFinger returns the finger that the player chose for a note of a hand; 0
// for none.
func ownFinger(c *project.Chart, n *Note) int {
	if n.Division == Pedal || len(c.Fingerings) == 0 {
		return 0
	}
	return c.FingerOf(n.Start, n.Key)
}

// actionsOf lists what the cues ask of the limbs. A registration that is set
// already asks for nothing.
func actionsOf(cues []Cue, k *clock) (out []reach.Action) {
	var set project.Registration
	for _, q := range cues {
		same := q.Kind == CueRegistration && q.Registration.Upper == set.Upper &&
			q.Registration.Lower == set.Lower && q.Registration.Pedal == set.Pedal
		set = q.Registration
		if a, ok := actionOf(q, k); ok && !same {
			out = append(out, a)
		}
	}
	return out
}

// stored reports whether one push sets a registration: it is kept under its name.
// What was changed since, or has no name, is pulled by hand.
func stored(r project.Registration) bool {
	return r.Name != "" && !strings.HasSuffix(r.Name, project.ChangedMark)
}

// actionOf returns what a cue asks of a limb. What is set at the start is set
// before playing.
func actionOf(q Cue, k *clock) (reach.Action, bool) {
	if q.Start == 0 {
		return reach.Action{}, false
	}
	a := reach.Action{At: reach.Ticks(q.Start), Start: k.at(q.Start), Limb: reach.LeftHand, EitherHand: true, Switch: q.Kind != CueRegistration || stored(q.Registration), What: phrase.Of("%s %s", phrase.Of(q.Kind.String()), q.Words())}
	if q.Kind == CueExpression {
		a.Limb, a.EitherHand = reach.RightFoot, false
	}
	return a, true
}
