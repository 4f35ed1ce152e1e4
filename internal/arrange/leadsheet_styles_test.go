package arrange

import "organbook/internal/project"

// sheetStyle is how tunes of one kind are made.
type sheetStyle struct {
	name   string
	meter  project.Meter
	tempos [2]int
	minor  bool
	// sections are changes in C, bars between bars; "%" repeats the bar before.
	sections []string
	// rhythms are the bars of a melody in eighths; negative numbers are rests.
	rhythms []string
	// chromatic is how many in a hundred notes come by semitone, blue how many
	// turn to a blue note over a dominant, odd how many symbols are spelled out.
	chromatic, blue, odd int
}

var sheetStyles = []sheetStyle{
	{"ballad", project.CommonTime, [2]int{54, 76}, false, []string{
		"Cmaj7 | E7 | Am7 D7 | Gm7 C7 | Fmaj7 | Fm7 Bb7 | Em7 A7 | Dm7 G7",
		"Dm7 | G7 | Em7 | A7 | Dm7 | Fm6 G7 | C6 Ab7 | G7",
		"C Cmaj7/B | Am7 Am7/G | F#m7b5 B7 | Em7 A7 | Dm7 Dm7/C | Bm7b5 E7 | Am7 D7 | Dm7/G G7",
		"Fmaj7 | Bb7 | Cmaj7 | Ebdim7 | Dm7 | F/G | C6 | %",
	}, []string{"4 2 2", "6 2", "8", "3 1 4", "2 2 4", "4 -2 2", "2 1 1 4", "1 1 2 4", "4 3 1"}, 12, 4, 40},
	{"swing", project.CommonTime, [2]int{120, 210}, false, []string{
		"C6 A7 | Dm7 G7 | Em7 A7 | Dm7 G7 | C7 | F7 F#dim7 | C6/G A7 | Dm7 G7",
		"E7 | % | A7 | % | D7 | % | G7 | %",
		"C6 | % | Dm7 | G7 | Em7b5 | A7b9 | D7 | G7",
		"Fmaj7 | Fm7 Bb7 | Cmaj7 | Bbm7 Eb7 | Abmaj7 | Dm7b5 G7 | C6 | C#dim7 Dm7",
	}, []string{"1 1 1 1 1 1 2", "2 1 1 3 1", "-1 1 2 1 3", "3 1 -4", "2 2 1 1 2", "1 1 2 -1 1 2", "1 2 1 4", "4 4", "-2 1 1 1 1 1 1"}, 14, 8, 30},
	{"blues", project.CommonTime, [2]int{90, 180}, false, []string{
		"C7 | F7 | C7 | Gm7 C7 | F7 | F#dim7 | C7 | A7 | Dm7 | G7 | C7 A7 | Dm7 G7",
		"C7 | F7 | C7 | % | F7 | % | C7 | % | G7 | F7 | C7 | G7",
		"C7 | F7 | C7 | Gb7 | F7 | Bb7 | C7 | Em7b5 A7 | Dm7 | Ab7 G7 | C7 A7 | Ab7 Db7",
	}, []string{"1 1 2 4", "3 1 1 3", "-1 1 1 1 4", "2 2 4", "4 -4", "1 1 1 1 2 2", "1 1 6", "-2 2 1 1 2"}, 8, 30, 30},
	{"minor", project.CommonTime, [2]int{100, 200}, true, []string{
		"Cm6 | Dm7b5 G7 | Cm6 | % | Fm7 | Bb7 | Ebmaj7 | Dm7b5 G7",
		"Cm | Cm(maj7)/B | Cm7/Bb | Am7b5 | Abmaj7 | Dm7b5 G7alt | Cm6 | %",
		"Cm7 F7 | Bb6 | Bbm7 Eb7 | Ab6 | Abm7 Db7 | Gbmaj7 | Dm7b5 | G7b9",
		"Cm7 | Fm7 | Cm7 | % | Ab7 | G7 | Cm6 | Dm7b5 G7",
	}, []string{"1 1 1 1 1 1 2", "2 1 1 3 1", "4 4", "3 1 4", "-1 1 2 1 3", "2 2 2 2", "6 2", "8"}, 12, 6, 30},
	{"waltz", project.Meter{Beats: 3, Unit: 4}, [2]int{110, 190}, false, []string{
		"Cmaj7 | Fmaj7 | Em7 | A7 | Dm7 | G7 | C6 | %",
		"Am7 | D7 | Gmaj7 | Em7 | Am7 | D7b9 | Bm7b5 | E7",
		"Cmaj7 | Bm7b5 E7 | Am7 | Gm7 C7 | Fmaj7 | Fm6 | Em7 A7 | Dm7 G7",
	}, []string{"2 2 2", "4 2", "6", "3 1 2", "1 1 2 2", "2 1 1 2", "-2 2 2", "1 1 1 1 1 1"}, 10, 2, 30},
	{"bossa", project.CommonTime, [2]int{110, 150}, false, []string{
		"Cmaj7 | % | D7 | % | Dm7 | Db7 | Cmaj7 | Db7",
		"Cm7 | % | Fm7 | % | Dm7b5 | G7b13 | Cm7 | %",
		"Cmaj9 | F#m7b5 B7b9 | Em7 | A7b13 | Dm9 | Fm7 Bb9 | C6/9 | Dm7 G7sus4",
		"Gmaj7 | Gm7 C9 | Fmaj7 | Fm7 Bb9 | Em7 | Ebdim7 | Dm7 | Db7#11",
	}, []string{"3 3 2", "1 2 1 4", "-1 2 1 3 1", "3 5", "2 1 1 1 3", "-1 1 2 2 2", "3 1 2 2", "8"}, 8, 2, 40},
	{"modal", project.CommonTime, [2]int{110, 220}, true, []string{
		"Cm7 | % | % | % | % | % | % | %",
		"Dbm7 | % | % | % | % | % | % | %",
		"Csus4 | % | Ebmaj7/C | % | Cm11 | % | F7/C | %",
		"Cm7 | F7 | Cm7 | F7 | Dbmaj7#11 | % | Cm7 | %",
	}, []string{"2 1 1 4", "3 1 4", "1 1 1 1 4", "-2 2 1 3", "4 4", "1 1 6", "2 2 2 2", "-1 1 1 1 1 1 2"}, 6, 4, 10},
	{"hymn", project.CommonTime, [2]int{70, 100}, false, []string{
		"C | F C | G/B | C | C7/E F | C/G A7 | D7 G7 | C",
		"C C/E | F F#dim7 | C/G Am | Dm G | C Caug | F Fm | C/G G7 | F/C C",
		"F | C/E Am | D7 | G | Em Am | Dm7 G7sus4 G7 | Csus4 | C",
	}, []string{"2 2 2 2", "4 4", "4 2 2", "6 2", "8", "3 1 4", "2 1 1 2 2"}, 4, 0, 6},
	{"shuffle in six", project.Meter{Beats: 6, Unit: 8}, [2]int{60, 120}, false, []string{
		"C | F7 | C | G7 | Am | D7 | G7 | C",
		"C6 A7 | Dm7 G7 | C7 | F6 Fdim7 | C6/G | A7 | Dm7 G7 | C6",
	}, []string{"3 3", "2 1 2 1", "6", "1 1 1 3", "3 2 1", "-3 1 1 1"}, 8, 8, 20},
	{"bebop", project.CommonTime, [2]int{180, 280}, false, []string{
		"Cmaj7 | Bm7b5 E7 | Am7 D7 | Gm7 C7 | F7 | Fm7 Bb7 | Em7 A7 | Ebm7 Ab7",
		"Dm7 | G7 | Cmaj7 | Cm7 F7 | Bbmaj7 | Bm7 E7 | Amaj7 A7 | Ab7 G7",
		"C6 Eb7 | Abmaj7 B7 | Emaj7 G7 | Cmaj7 | Am7 D7 | Dm7 G7alt | C6 | %",
	}, []string{"1 1 1 1 1 1 1 1", "-1 1 1 1 1 1 1 1", "1 1 1 1 2 -2", "2 1 1 1 1 1 1", "-2 1 1 1 1 2", "1 1 1 1 1 3"}, 22, 4, 30},
}

// spelledOut are the ways a sheet may spell a plain symbol out.
var spelledOut = map[string][]string{
	"maj7": {"maj9", "6/9", "maj7#11", "6", "maj13", "add9"},
	"6":    {"6/9", "maj7", ""},
	"m7":   {"m9", "m11", "m7add11", "m6", "m7"},
	"m6":   {"m(maj7)", "m6/9", "m"},
	"7":    {"9", "13", "7b9", "7#9", "7#5", "7alt", "13b9", "9sus4", "7b13", "7#11", "9#11", "7b5", "7sus4", "13#11", "7b9b13"},
	"m7b5": {"m7b5", "m9b5", "m7b5add11"},
	"":     {"add9", "6", "maj7", "sus2"},
	"m":    {"m6", "madd9", "m7"},
	"dim7": {"dim7", "dim"},
}
