// Package reach is the physical model of a player at a console: real sizes of
// keys and pedals, hands that stretch so far and move so fast, two feet. It
// fingers what each hand is given, pedals what the feet are given, and reports
// what cannot or should not be played, with ways out.
//
// Everything is a pure function of its input. The searches are dynamic
// programmes, exact for the costs in weights.go and linear in the number of
// notes.
package reach
