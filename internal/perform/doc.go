// Package perform turns a realisation into what happens at the instrument,
// in order: which bars are played, when each key goes down and comes up, and
// when a registration, the rotary speaker or the expression pedal changes.
//
// Three clocks appear. Written ticks are positions on the page, as in the
// chart. Performed ticks run on without a break while repeats, endings and
// jumps are played out, and already contain the swing. Seconds follow from
// performed ticks by the tempo map. Every event carries all three.
//
// The performance of a realisation is a pure function of it: the same input
// gives the same events.
package perform
