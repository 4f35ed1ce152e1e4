// Package paint draws the program's pictures into plain images: the bar grid,
// the console, the bench's keyboard and staff. It knows no window: a widget
// shows the images, the command line writes them to files, and both get the
// same picture.
//
// Geometry is kept apart from painting. A layout (GridLayout, ConsoleLayout)
// is computed once from a realisation or a console, answers where things are
// and what lies under a point, and is never changed; painters read it. All
// lengths are logical units: one is a pixel at scale 1, two pixels at scale 2.
package paint
