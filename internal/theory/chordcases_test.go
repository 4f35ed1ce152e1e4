package theory

import "strings"

// chordCase is a chord with the ways lead sheets, theory texts and notation
// files write it. One table feeds the tests of the parser and of the printer
// and the seeds of the fuzzer.
type chordCase struct {
	printed, tones string
	spellings      string // separated by "|"
}

func (c chordCase) all() []string {
	return append(strings.Split(c.spellings, "|"), c.printed)
}

var chordCases = []chordCase{
	// Triads.
	{"C", "C E G", "C|CM|Cmaj|CMaj|CMAJ|Cma|C major|C Major|(C)| C |C/C|c maj"},
	{"Bb", "Bb D F", "Bb|B♭|BbM|B♭maj"},
	{"F#", "F# A# C#", "F#|F♯|F#major"},
	{"Cm", "C Eb G", "Cm|C-|C−|C–|Cmi|CMi|Cmin|CMIN|Cminor|C minor|C min|cm|cmin|Cmin."},
	{"F#m", "F# A C#", "F#m|F♯m|F♯-|f#m"},
	{"Ebm", "Eb Gb Bb", "Ebm|E♭-|ebm"},
	{"Caug", "C E G#", "C+|Caug|C augmented|CAug|C(#5)|C+5|C(+5)|Cmaj#5|C5+|C aug."},
	{"Cdim", "C Eb Gb", "Cdim|Co|C°|Cº|C diminished|CDIM|Cm(b5)|Cmb5|Cm-5|Cm♭5|C-b5"},
	{"C(b5)", "C E Gb", "C(b5)|C-5|C(♭5)|C(-5)|Cmajb5|CM-5|C (b5)|C[b5]"},
	{"C5", "C G", "C5|C(5)|C(no3)|Cno3|C no3rd|Comit3|C(omit 3)|C (no 3rd)"},
	{"Cb5", "Cb Gb", "Cb5|C♭5"},
	{"Cno5", "C E", "Cno5|C(no5)|C(omit5)"},

	// Sixths.
	{"C6", "C E G A", "C6|CM6|Cmaj6|Cma6|C(6)|C add6|Cadd6|Cmajor6|C(add6)"},
	{"Cm6", "C Eb G A", "Cm6|C-6|Cmin6|Cmi6|Cm(6)|C minor 6|Cmadd6"},
	{"C6/9", "C E G A D", "C6/9|C69|C6(9)|C6add9|C6(add9)|C6 9|C6,9|Cmaj6/9|CM69|C(6/9)|Cadd6add9|C6/add9"},
	{"Cm6/9", "C Eb G A D", "Cm6/9|Cm69|C-69|C-6/9|Cmi6(add9)|Cmin69"},
	{"C6/9/G", "C E G A D", "C6/9/G|C69/G|C6(9)/G"},
	{"C6b5", "C E Gb A", "C6b5|C6(b5)|C6-5"},
	{"C6/9#11", "C E G A D F#", "C6/9#11|C69(#11)|C6/9(+11)"},

	// Sevenths.
	{"C7", "C E G Bb", "C7|Cdom7|Cdom|C dominant 7|C7th|C(7)|C 7|Caddb7|Cadd7|C(b7)|C dom.7"},
	{"Cmaj7", "C E G B", "Cmaj7|CMaj7|CMAJ7|Cma7|CMa7|CM7|Cj7|Cj|CΔ|CΔ7|C∆|C∆7|C△|C△7|C▵7|C^|C^7|C7M|C major 7|C major7th|C(maj7)|C maj7|Caddmaj7|C(#7)"},
	{"Cm7", "C Eb G Bb", "Cm7|C-7|C−7|Cmi7|Cmin7|CMIN7|Cminor7|C minor 7th|Cm(7)|C m7|cm7|C(m7)"},
	{"Cm(maj7)", "C Eb G B", "Cm(maj7)|Cmmaj7|CmMaj7|CmM7|Cm(M7)|Cm△7|CmΔ|C-Δ|C-Δ7|C-^7|C-maj7|C-M7|Cminmaj7|Cmin(maj7)|Cmi(ma7)|Cmi/ma7|Cm/maj7|Cm/M7|Cm(#7)|Cm#7|Cm+7|Cm7M|Cm(addmaj7)"},
	{"Cm7b5", "C Eb Gb Bb", "Cm7b5|Cm7(b5)|Cm7♭5|Cm7-5|C-7b5|C-7(b5)|C-7♭5|Cmin7b5|Cmi7(b5)|Cø|Cø7|CØ|CØ7|C∅7|Ch|Ch7|C half-diminished|C half-diminished 7|Chalfdim7|Chdim7|Cm7(♭5)|Cmin7(-5)|Cm7(5-)|Cm7/5-|Cmin.7(b5)"},
	{"Cm7b5/Gb", "C Eb Gb Bb", "Cm7b5/Gb|Cø/G♭|Cø7/Gb|C-7(b5)/Gb"},
	{"Cdim7", "C Eb Gb Bbb", "Cdim7|Co7|C°7|Cº7|C diminished 7|C dim7|Cdim(7)|Cm(b5)(bb7)"},
	{"Bdim7", "B D F Ab", "Bdim7|B°7|Bo7"},
	{"C7#5", "C E G# Bb", "C7#5|C7(#5)|C7♯5|C7+5|C+7|Caug7|C7+|C7aug|C7(+5)|C augmented 7|C7(5+)|C7/5+"},
	{"C7b5", "C E Gb Bb", "C7b5|C7(b5)|C7-5|C7♭5|Cdom7b5"},
	{"Cmaj7#5", "C E G# B", "Cmaj7#5|CM7#5|C△7#5|Cmaj7(#5)|C+maj7|C+M7|C+Δ|Caugmaj7|Caug(maj7)|Cmaj7+|Cmaj7+5|CΔ#5"},
	{"Cmaj7b5", "C E Gb B", "Cmaj7b5|CM7(b5)|CΔ7♭5|Cmaj7-5"},
	{"Cm(maj7)b5", "C Eb Gb B", "Cdim(maj7)|C°maj7|C°Δ|CoM7|Cdimmaj7|Cm(maj7)b5|CmM7b5"},
	{"Cm7#5", "C Eb G# Bb", "Cm7#5|Cm7(#5)|Cm7+5|C-7#5|Cm7+"},

	// Suspensions.
	{"Csus4", "C F G", "Csus4|Csus|C sus|C(sus4)|Csuspended4|C4|Csus 4|CSUS4"},
	{"Csus2", "C D G", "Csus2|C sus2|C(sus2)|Csuspended2"},
	{"Csus2sus4", "C D F G", "Csus2sus4|Csus24|Csus2/4|Csus4sus2|C(sus2,sus4)"},
	{"C7sus4", "C F G Bb", "C7sus4|C7sus|C7(sus4)|C7 sus|C7 sus 4|Csus7|Csus4/7|Cm7sus4|C7suspended4|C4/7|C7/4|C7(4)"},
	{"C9sus4", "C F G Bb D", "C9sus4|C9sus|C9(sus4)|Csus9|C7sus4(9)|C7sus4add9|C11sus4"},
	{"C13sus4", "C F G Bb D A", "C13sus4|C13sus|C13(sus4)|Csus13|C9sus4(13)"},
	{"C7sus2", "C D G Bb", "C7sus2|C7(sus2)"},
	{"C7sus4b9", "C F G Bb Db", "C7sus4b9|C7susb9|C7sus(b9)|C7sus4(b9)|C7(b9)sus4|C7b9sus|C7b9sus4"},
	{"C13sus4b9", "C F G Bb Db A", "C13sus4b9|C13sus(b9)|C13b9sus4"},
	{"Cmaj7sus4", "C F G B", "Cmaj7sus4|CM7sus|CΔsus4"},

	// Extensions.
	{"C9", "C E G Bb D", "C9|C7(9)|C7add9|Cdom9|C9th|C7/9|C7 9"},
	{"Cmaj9", "C E G B D", "Cmaj9|CM9|Cma9|CΔ9|C△9|C^9|Cmaj7(9)|Cmaj7add9|Cmaj7/9|Cj9"},
	{"Cm9", "C Eb G Bb D", "Cm9|C-9|Cmin9|Cmi9|Cm7(9)|Cm7add9"},
	{"Cm(maj9)", "C Eb G B D", "Cm(maj9)|CmM9|CmMaj9|C-Δ9|Cmin(maj9)|Cm(maj7)add9|Cm9(maj7)|Cm9maj7|C-9(Δ7)|Cm9(M7)"},
	{"Cm9b5", "C Eb Gb Bb D", "Cm9b5|Cø9|Cm9(b5)|C-9b5|Ch9"},
	{"C11", "C E G Bb D F", "C11|C9(11)|Cdom11|C7(9,11)"},
	{"Cmaj11", "C E G B D F", "Cmaj11|CM11|CΔ11"},
	{"Cm11", "C Eb G Bb D F", "Cm11|C-11|Cmin11|Cm9(11)|Cm7(9,11)"},
	{"Cm11b5", "C Eb Gb Bb D F", "Cm11b5|Cø11|C-11b5"},
	{"C13", "C E G Bb D A", "C13|C9(13)|C7(9,13)|Cdom13|C9/13|C9add13|C13th"},
	{"Cmaj13", "C E G B D A", "Cmaj13|CM13|CΔ13|Cmaj9(13)"},
	{"Cm13", "C Eb G Bb D F A", "Cm13|C-13|Cmin13|Cm11(13)"},
	{"Cdim7add9", "C Eb Gb Bbb D", "Cdim9|C°9|Cdim7add9|C°7(9)"},
	{"C7add13", "C E G Bb A", "C7add13|C7(13)|C7/13|C7 13|C7(add13)"},
	{"C7add6", "C E G A Bb", "C7/6|C7(6)|C7add6|C67|C6/7"},
	{"Cm7add11", "C Eb G Bb F", "Cm7add11|Cm7(11)|C-7(11)|Cm7(add11)|Cm7/11"},
	{"C9#5", "C E G# Bb D", "C9#5|C9(#5)|C+9|Caug9|C9+5|C9+"},
	{"C9b5", "C E Gb Bb D", "C9b5|C9(b5)|C9-5"},
	{"C9#11", "C E G Bb D F#", "C9#11|C9(#11)|C9+11|C9♯11"},
	{"C13#11", "C E G Bb D F# A", "C13#11|C13(#11)|C13+11|C9#11add13"},
	{"Cmaj7#11", "C E G B F#", "Cmaj7#11|CM7#11|CΔ#11|CΔ7(#11)|Cmaj7(#11)|Cmaj7+11|C^7#11"},
	{"Cmaj9#11", "C E G B D F#", "Cmaj9#11|CM9(#11)|CΔ9#11"},
	{"Cmaj13#11", "C E G B D F# A", "Cmaj13#11|CM13(#11)"},

	// Altered dominants.
	{"C7b9", "C E G Bb Db", "C7b9|C7(b9)|C7♭9|C7-9|C7(-9)|C9b9|Cdom7b9|C7addb9|C7(9-)|C7/9-|C7 (b9)"},
	{"D7b9", "D F# A C Eb", "D7b9|D7-9|D7(♭9)"},
	{"C7#9", "C E G Bb D#", "C7#9|C7(#9)|C7♯9|C7+9|C7(+9)|C7(9+)"},
	{"C7b9#9", "C E G Bb Db D#", "C7b9#9|C7#9b9|C7(b9,#9)|C7(b9#9)"},
	{"C7#11", "C E G Bb F#", "C7#11|C7(#11)|C7+11|C7♯11"},
	{"C7b13", "C E G Bb Ab", "C7b13|C7(b13)|C7-13|C7♭13"},
	{"C7b9#5", "C E G# Bb Db", "C7b9#5|C7#5b9|C7(b9#5)|C7(b9,#5)|C7(#5,b9)|C7b9+5|C+7b9|Caug7(b9)|C7#5(b9)|C7(#5)(b9)|C7♭9♯5|C7+5-9"},
	{"C7#9#5", "C E G# Bb D#", "C7#9#5|C7#5#9|C+7#9|C7(#5#9)|C+7(#9)|C7+9+5|C7+#9"},
	{"C7b9b5", "C E Gb Bb Db", "C7b9b5|C7b5b9|C7(b5,b9)|C7-5-9"},
	{"C7#9b5", "C E Gb Bb D#", "C7#9b5|C7b5#9|C7(b5/#9)|C7b5/#9"},
	{"C7b9#11", "C E G Bb Db F#", "C7b9#11|C7(b9,#11)|C7(b9/#11)|C7(b9 #11)|C7#11b9|C7[b9,#11]"},
	{"C7b9b13", "C E G Bb Db Ab", "C7b9b13|C7(b9b13)|C7(b9,b13)|C7(b13,b9)|C7-9-13"},
	{"C7#9b13", "C E G Bb D# Ab", "C7#9b13|C7(#9,b13)|C7b13#9"},
	{"C13b9", "C E G Bb Db A", "C13b9|C13(b9)|C13-9|C7b9/13|C7(b9,13)|C7b9add13|C7b9(13)"},
	{"C13#9", "C E G Bb D# A", "C13#9|C13(#9)|C13+9"},
	{"C13b9#11", "C E G Bb Db F# A", "C13b9#11|C13(b9,#11)|C13#11b9"},
	{"C9b13", "C E G Bb D Ab", "C9b13|C9(b13)|C9-13"},
	{"C7alt", "C E Gb G# Bb Db D#", "C7alt|Calt|C7(alt)|C7 alt|Caltered|C7altered|C alt|Cdom7alt|C7(b9,#9,b5,#5)|C7alt.|C7 (alt.)"},
	{"C7b9no5", "C E Bb Db", "C7b9no5|C7no5b9"},

	// Added and missing degrees.
	{"Cadd9", "C E G D", "Cadd9|C(add9)|C add9|C add 9|C(9)|C/9|C/add9|CMadd9|Cmajadd9|Cadd9th"},
	{"Cmadd9", "C Eb G D", "Cmadd9|Cm(add9)|C-add9|Cm add9|Cmin(add9)|CmAdd9|Cm(9)|Cmiadd9"},
	{"Cadd2", "C D E G", "Cadd2|C2|C(add2)|C add 2"},
	{"Cmadd2", "C D Eb G", "Cmadd2|Cm2|Cm(add2)"},
	{"Cadd4", "C E F G", "Cadd4|C(add4)"},
	{"Cmadd4", "C Eb F G", "Cmadd4|Cm4|Cm(add4)"},
	{"Cadd11", "C E G F", "Cadd11|C(add11)|C(11)"},
	{"Cmadd11", "C Eb G F", "Cmadd11|Cm(11)"},
	{"Cadd#11", "C E G F#", "Cadd#11|C(#11)|C(add#11)|C(+11)|Cmaj#11"},
	{"Caddb9", "C E G Db", "Caddb9|C(b9)|C(addb9)|C(-9)"},
	{"Cmaddb6", "C Eb G Ab", "Cmaddb6|Cm(b6)|Cmb6|Cm♭6|C-(b6)"},
	{"C5add9", "C G D", "C5add9|C5(add9)|C(add9,no3)|Cadd9no3|Cno3add9|Cadd9(omit3)"},
	{"C7no3", "C G Bb", "C7no3|C7(no3)|C7omit3|C7(omit3)|C7 no 3rd"},
	{"C7no5", "C E Bb", "C7no5|C7(no5)|C7(omit5)|C7omit 5"},
	{"Cm7no5", "C Eb Bb", "Cm7no5|Cm7(omit5)"},
	{"Cmaj7no3", "C G B", "Cmaj7no3|CM7(omit3)"},
	{"C7no1", "E G Bb", "C7no1|C7noroot|C7(no root)"},
	{"C7add4", "C E F G Bb", "C7sus4add3|C7add4|C7(add4)"},
	{"Cno3no5", "C", "Cno3no5|C(no3)(no5)|C5no5"},

	// Other roots, double accidentals, slashes.
	{"C/E", "C E G", "C/E|C / E|C/e|CM/E|(C/E)"},
	{"Cm7/Bb", "C Eb G Bb", "Cm7/Bb|C-7/B♭|Cmin7/bb"},
	{"Cb/Eb", "Cb Eb Gb", "Cb/Eb|C♭/E♭"},
	{"F#7/A#", "F# A# C# E", "F#7/A#|F♯7/A♯"},
	{"Fb", "Fb Ab Cb", "Fb|F♭"},
	{"Fbmaj7", "Fb Ab Cb Eb", "Fbmaj7|F♭Δ"},
	{"Bbbmaj7", "Bbb Db Fb Ab", "Bbbmaj7|B𝄫maj7|B♭♭Δ7"},
	{"F##dim7", "F## A# C# E", "F##dim7|Fx°7|F𝄪dim7|F♯♯°7"},
	{"C/F##", "C E G", "C/F##|C/Fx|C/F𝄪"},
	{"Am7/Abb", "A C E G", "Am7/Abb|A-7/A𝄫"},
	{"Bbm7b5/Ab", "Bb Db Fb Ab", "Bbm7b5/Ab|B♭ø/A♭|bbm7b5/ab"},
	{"Ab7", "Ab C Eb Gb", "Ab7|A♭7|ab7"},
	{"Ebmaj7", "Eb G Bb D", "Ebmaj7|E♭Δ|ebmaj7"},
	{"G#m7", "G# B D# F#", "G#m7|G♯-7|g#m7"},
	{"Dbdim7", "Db Fb Abb Cbb", "Dbdim7|D♭°7"},
	{"G#7b9#5", "G# B# D## F# A", "G#7b9#5|G♯7(♭9,♯5)"},
	{"C#7b9", "C# E# G# B D", "C#7b9|C#7(b9)|C♯7-9"},
	{"C#addb9", "C# E# G# D", "C#b9|C#(b9)|C♯♭9"},
	{"E7#9", "E G# B D F##", "E7#9|E7(#9)"},

	// No chord.
	{"N.C.", "", "N.C.|NC|N.C|n.c.|nc|No Chord|no chord|NO CHORD|N. C."},
}

// badChords are texts that are no chord, with the place of the offence.
var badChords = []struct {
	in string
	at int
}{
	{"", 0}, {"  ", 2}, {"H7#q", 0}, {"H7", 0}, {"♭7", 0}, {"7", 0}, {"/E", 0}, {"Ça", 0}, {"sus4", 0},
	{"C7#q", 3}, {"C7b", 3}, {"C7b8", 3}, {"C♭7#q", 4}, {"B♭7♯♯", 5}, {"Cmq", 2}, {"Cm7x", 3}, {"C7xyz", 2},
	{"Cmaj7q", 5}, {"C7(b9", 2}, {"C7b9)", 4}, {"C7[b9", 2}, {"C/", 2}, {"C/H", 2}, {"C/E/G", 3}, {"C/Em", 3}, {"C/m", 2}, {"C/o7", 2}, {"C.", 1}, {".C", 0}, {"C++b", 4},
	{"C/E7", 3}, {"C8", 1}, {"C12", 1}, {"C7 5", 3}, {"Cm5", 2}, {"Cmm7", 2}, {"C7maj7m", 5}, {"C7m", 2},
	{"Cdimaug", 4}, {"Csus5", 4}, {"Cadd", 4}, {"Cadd8", 4}, {"Cno8", 3}, {"Comit", 5}, {"C7-", 2},
	{"a", 0}, {"bb", 0}, {"dimension", 1}, {"Cbbbb", 0}, {"C/Dbbbb", 2},
	{"C13alt", 6}, {"Cmalt", 5}, {"Cno1no3no5", 10}, {"N.C.7", 0}, {"C\x00", 1}, {"C7\xff", 2}, {"C7 \U0001F3B9", 3},
	{"C7b9 and more", 5}, {"(C", 0}, {"C)", 1}, {"verse", 0}, {"Chorus", 2}, {"Bridge", 1}, {"Fine", 1}, {"D.C.", 1},
}
