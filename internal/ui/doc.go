// Package ui is the window. It shows a session (package session), runs its
// commands (package command) and paints with package paint; no music is worked
// out here. Only package desktop, which starts the real toolkit driver, needs a
// screen: everything here builds and is tested without one.
//
// What the window is made of: the frame lays out the top bar, the passage
// strip, the bar grid, the status line, the bench and the console. Grid, bench
// and console each show one picture that paint draws into an image; only the
// picture whose content changed is drawn again. A session's changes are
// collected and flushed once a turn of the event loop (refresh.go), and one
// tick at 30 Hz moves the cursor and lights the keys while the transport runs.
package ui
