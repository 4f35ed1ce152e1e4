// Package player makes a performance sound: a transport that plays, loops and
// seeks, keys and blocks sounded by hand, and the way to the sound card, or to
// a file.
//
// Two sides meet here. The caller's side (Player) may be used from any
// goroutine; it turns each request into a command and puts it into a queue.
// The rendering side (transport) runs on the thread that feeds the sound card;
// it takes the commands at the start of each block and neither locks nor
// allocates. What the caller wants to know of it (position, level) it publishes
// in atomic variables.
//
// Without a sound device everything works the same, in silence: a timer takes
// the place of the device, so that the cursor still moves.
package player
