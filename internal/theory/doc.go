// Package theory is the musical ground everything else stands on: spelled
// pitches and intervals, keys, chord symbols, the eight-note families of
// alternating sixth and diminished chords, and the shapes a block can take.
//
// Every type is a small immutable value. Text enters through the Parse
// functions, which answer with an error; a value that exists is trusted.
package theory
