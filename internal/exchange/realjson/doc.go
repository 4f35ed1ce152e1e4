// Package realjson writes a realisation as one JSON document, for programs
// that read what Organbook decided. The document is a stable interface: names
// and meanings stay, later versions only add.
//
// Positions and lengths are written ticks, 10080 a quarter note; repeats are
// not unrolled. Keys are MIDI key numbers. Names are ASCII: "Bb3", "F#".
package realjson
