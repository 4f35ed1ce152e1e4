package reach

import "testing"

// blockEighths returns 64 bars of eighth notes, each a four-note block.
func blockEighths() []Note {
	shapes := [][]int{{0, 4, 7, 9}, {0, 3, 5, 8}, {0, 2, 5, 9}, {0, 3, 6, 9}}
	var chords [][]int
	for i := range 64 * 8 {
		var c []int
		for _, s := range shapes[i%len(shapes)] {
			c = append(c, 58+(i*5)%13+s)
		}
		chords = append(chords, c)
	}
	return blocks(RightHand, 0.25, chords...)
}

func BenchmarkFinger64BarsOfBlocks(b *testing.B) {
	notes := blockEighths()
	of := allOf(notes)
	for b.Loop() {
		newHand(notes, of, RightHand, FullConsole, DefaultProfile()).solve()
	}
}

func BenchmarkFinger64BarsOfLine(b *testing.B) {
	var keys []int
	for i := range 64 * 8 {
		keys = append(keys, 60+(i*7)%17)
	}
	notes := line(RightHand, 0.15, keys...)
	of := allOf(notes)
	for b.Loop() {
		newHand(notes, of, RightHand, FullConsole, DefaultProfile()).solve()
	}
}

// melodyEighths is a line as a left hand doubles it: steps, chromatic turns
// and few leaps, in which thumbs have many ways to go.
func melodyEighths() []Note {
	turn := []int{63, 62, 60, 58, 57, 60, 58, 55, 54, 57, 60, 63, 62, 58, 55, 58, 57, 58, 59, 60, 62, 65, 64, 63, 62, 60, 58, 56, 55, 53, 55, 57}
	var keys []int
	for i := range 64 * 8 {
		keys = append(keys, turn[i%len(turn)])
	}
	return line(LeftHand, 0.18, keys...)
}

func BenchmarkFinger64BarsOfMelody(b *testing.B) {
	notes := melodyEighths()
	of := allOf(notes)
	b.ReportAllocs()
	for b.Loop() {
		newHand(notes, of, LeftHand, FullConsole, DefaultProfile()).solve()
	}
}

func BenchmarkCheck64BarsOfBlocks(b *testing.B) {
	notes := blockEighths()
	for b.Loop() {
		Check(Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: notes, Tempo: 120})
	}
}

func BenchmarkSpanCost(b *testing.B) {
	p := DefaultProfile()
	for b.Loop() {
		SpanCost(p, RightHand, 67, 64, 62, 58)
	}
}

func BenchmarkPedal64Bars(b *testing.B) {
	var keys []int
	for i := range 64 * 4 {
		keys = append(keys, 36+(i*5)%22)
	}
	notes := line(LeftFoot, 0.35, keys...)
	for i := range notes {
		notes[i].Division = Pedal
	}
	of := allOf(notes)
	b.ReportAllocs()
	for b.Loop() {
		newFeet(notes, of, FullConsole, DefaultProfile()).solve()
	}
}
