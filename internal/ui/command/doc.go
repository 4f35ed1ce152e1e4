// Package command holds the one table of everything a user can do. Menus,
// shortcuts, the searchable command list and the help are all made from it, so
// that nothing can be done by mouse alone and nothing is hidden. It knows no
// window: what only a window can do (ask for a file, open a form) goes through
// the Frontend interface.
//
// The shortcut scheme. File, edit, undo and clipboard follow the platform.
// Everything else is built on four habits:
//
//   - Plain keys write music where the caret stands: note letters, lengths by
//     the number under the fraction (4 is a quarter), the full stop for a dot.
//   - Arrows move the caret and the selection; with Shift they extend it.
//   - Alt and arrows move the music itself: up and down in pitch, left and
//     right in time.
//   - Ctrl and arrows move by bigger units: bars sideways, and through the
//     alternatives of the selected note upward and downward.
package command
