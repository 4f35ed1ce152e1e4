// Package midi lets keyboards, pedals and faders outside the program play it,
// and lets it play organs outside.
//
// A Hub watches the ports of a System. Three kinds of goroutines meet in it,
// and none waits for another: the driver's threads, which bring what was
// played and pass it to the instrument through a queue without a lock; the
// hub's own, which alone calls the driver to look for ports and to open and
// close them, so that a driver that hangs holds up nothing else; and the
// window's, which reads a State and takes Events.
//
// A port that disappears releases the keys it held. An organ outside that
// disappears gives its division back to the program's own sound.
package midi
