package perform

import (
	"slices"

	"organbook/internal/project"
)

// maxPlayedBars bounds a performance: about five hours of common time at 120,
// far beyond any chart, small enough to hold in memory.
const maxPlayedBars = 10000

// unroll returns the written bars in the order they are played, and whether
// the limit cut it short. The rules are those of print:
//
//   - A repeat end plays again from the repeat start before it, or from the
//     bar after the repeat before it, or from the beginning; twice in all, or
//     as often as its bar says, or as often as the endings have numbers.
//   - An ending is played on the passes it lists and passed over on others.
//   - A jump is taken once, after any repeat that ends at the same bar. After
//     it, repeats already played are not played again and their last ending
//     is taken.
//   - Fine ends the piece after a jump, unless the jump says to go to the
//     coda; to coda leads on to the next coda sign after a jump, unless the
//     jump says to go to Fine.
//   - Marks that make no sense (a jump to a sign that is not there, an ending
//     that follows another without a repeat) are played through.
func unroll(bars []project.Bar) (order []int, cut bool) {
	w := walker{bars: bars, pass: 1, spent: map[int]bool{}, jumped: map[int]bool{}, taken: map[int]int{}}
	for w.at < len(bars) {
		if len(w.order) == maxPlayedBars {
			return w.order, true
		}
		w.step()
	}
	return w.order, false
}

// walker goes through the bars as a reader's eye does.
type walker struct {
	bars  []project.Bar
	order []int
	// at is the bar to look at next.
	at int
	// start is the bar that the next repeat end leads back to, pass the number
	// of the current pass from there.
	start, pass int
	// returning is set for the step that follows a repeat back to start.
	returning bool
	// spent holds the repeat ends played to the last pass, jumped the jumps.
	spent, jumped map[int]bool
	// taken counts how often each repeat end has led back. Since that number
	// and the jumps are bounded, every walk ends.
	taken map[int]int
	// jump is the last jump taken; coda is set once the coda was reached.
	jump project.Jump
	coda bool
}

// step looks at one bar: it plays it or passes over it.
func (w *walker) step() {
	w.enterSection()
	if w.passesOver() {
		w.at = w.endOfEnding(w.at)
		return
	}
	w.order = append(w.order, w.at)
	w.leave()
}

// enterSection notes the beginning of a repeated section: at a repeat sign,
// and behind a group of endings.
func (w *walker) enterSection() {
	b := &w.bars[w.at]
	behindEndings := w.at > 0 && !inEnding(b) && inEnding(&w.bars[w.at-1]) && w.start < w.at
	if !w.returning && (b.RepeatStart || behindEndings) {
		w.start, w.pass = w.at, 1
	}
	w.returning = false
}

// passesOver reports whether the current bar opens an ending that another
// pass plays.
func (w *walker) passesOver() bool {
	b := &w.bars[w.at]
	if !inEnding(b) {
		return false
	}
	if w.groupSpent() {
		w.pass = w.lastPass(w.at)
	}
	played := len(w.order) > 0 && w.order[len(w.order)-1] == w.at-1
	if played && inEnding(&w.bars[w.at-1]) {
		return false // inside an ending, or marks that make no sense
	}
	if w.pass == 1 && !w.groupLists(1) {
		return false // a first pass must end somehow
	}
	return !slices.Contains(b.Ending, w.pass)
}

// groupLists reports whether any ending around the current bar is for a pass.
func (w *walker) groupLists(pass int) bool {
	for k := w.groupStart(w.at); k < len(w.bars) && inEnding(&w.bars[k]); k++ {
		if slices.Contains(w.bars[k].Ending, pass) {
			return true
		}
	}
	return false
}

// leave decides where to go after the bar just played.
func (w *walker) leave() {
	i := w.at
	b := &w.bars[i]
	switch {
	case w.repeats(i):
		w.at, w.returning = w.start, true
		w.pass++
	case w.jumps(i):
		w.takeJump(i)
	case b.Fine && w.fineCounts():
		w.at = len(w.bars)
	case b.ToCoda && w.toCodaCounts() && w.find(i+1, 1, isCoda) >= 0:
		w.at, w.coda = w.find(i+1, 1, isCoda), true
		w.start, w.pass = w.at, 1
	default:
		w.at = i + 1
		if b.RepeatEnd && !w.endingFollows(i) {
			w.start, w.pass = w.at, 1
		}
	}
}

// repeats reports whether the repeat end of bar i leads back once more.
func (w *walker) repeats(i int) bool {
	b := &w.bars[i]
	if !b.RepeatEnd || w.spent[i] {
		return false
	}
	total := max(b.Times, w.lastPass(i))
	if b.Times == 0 && total < 2 {
		total = 2
	}
	if w.pass < total && w.taken[i] < total-1 {
		w.taken[i]++
		return true
	}
	w.spent[i] = true
	return false
}

// jumps reports whether bar i has a jump to take, with a place to go to.
func (w *walker) jumps(i int) bool {
	j := w.bars[i].Jump
	if j == project.NoJump || w.jumped[i] {
		return false
	}
	return !toSegno(j) || w.find(i, -1, isSegno) >= 0
}

// takeJump goes where the jump of bar i says.
func (w *walker) takeJump(i int) {
	w.jump, w.jumped[i], w.coda = w.bars[i].Jump, true, false
	w.at = 0
	if toSegno(w.jump) {
		w.at = w.find(i, -1, isSegno)
	}
	w.spend(i)
	w.start, w.pass = w.at, 1
}

// spend marks the repeats up to bar i as played: also those whose last pass
// was cut short by the jump.
func (w *walker) spend(i int) {
	for _, k := range w.order {
		if w.bars[k].RepeatEnd {
			w.spent[k] = true
		}
	}
}

func (w *walker) fineCounts() bool {
	alCoda := w.jump == project.DaCapoAlCoda || w.jump == project.DalSegnoAlCoda
	return w.jump != project.NoJump && (!alCoda || w.coda)
}

func (w *walker) toCodaCounts() bool {
	alFine := w.jump == project.DaCapoAlFine || w.jump == project.DalSegnoAlFine
	return w.jump != project.NoJump && !alFine && !w.coda
}

// endOfEnding returns the bar after the ending that contains bar i.
func (w *walker) endOfEnding(i int) int {
	list := w.bars[i].Ending
	for i++; i < len(w.bars); i++ {
		b := &w.bars[i]
		if b.EndingStart || !slices.Equal(b.Ending, list) {
			break
		}
	}
	return i
}

// endingFollows reports whether another ending of the same group comes after
// bar i.
func (w *walker) endingFollows(i int) bool {
	return inEnding(&w.bars[i]) && i+1 < len(w.bars) && inEnding(&w.bars[i+1])
}

// lastPass returns the highest number in the group of endings around bar i,
// 0 outside endings.
func (w *walker) lastPass(i int) (last int) {
	for k := w.groupStart(i); k < len(w.bars) && inEnding(&w.bars[k]); k++ {
		last = max(last, slices.Max(w.bars[k].Ending))
	}
	return last
}

// groupStart returns the first bar of the group of endings around bar i.
func (w *walker) groupStart(i int) int {
	for i > 0 && inEnding(&w.bars[i]) && inEnding(&w.bars[i-1]) {
		i--
	}
	return i
}

// groupSpent reports whether the repeats of the endings around the current
// bar have been played, which is so when the piece came back by a jump.
func (w *walker) groupSpent() bool {
	spent := false
	for k := w.groupStart(w.at); k < len(w.bars) && inEnding(&w.bars[k]); k++ {
		if w.bars[k].RepeatEnd && w.spent[k] {
			spent = true
		}
	}
	return spent && w.jump != project.NoJump
}

// find looks from bar i in the direction of step for a bar with a sign and
// returns -1 when there is none.
func (w *walker) find(i, step int, sign func(*project.Bar) bool) int {
	for ; i >= 0 && i < len(w.bars); i += step {
		if sign(&w.bars[i]) {
			return i
		}
	}
	return -1
}

func inEnding(b *project.Bar) bool { return len(b.Ending) > 0 }

func isSegno(b *project.Bar) bool { return b.Segno }
func isCoda(b *project.Bar) bool  { return b.Coda }

func toSegno(j project.Jump) bool {
	return j == project.DalSegno || j == project.DalSegnoAlFine || j == project.DalSegnoAlCoda
}
