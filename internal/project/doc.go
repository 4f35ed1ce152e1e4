// Package project holds the document: one chart with its changes, melody and
// the decisions about its arrangement; the edits that turn a chart into the
// next one; the history that undoes them; and the native file.
//
// A *Chart is an immutable value. Nothing outside this package's edits and
// the importers that build a fresh chart may write to its fields; an edit
// returns a new chart that shares every slice it did not change, so keeping
// all past charts is cheap and comparing a shared slice by address tells that
// it did not change.
//
// Where things are: chart.go the document, time.go its positions, limits.go
// and check.go what makes a chart sound; locate.go and query.go answer what is
// where (a Ruler answers many such questions fast); edit.go what an edit is,
// line.go and timeline.go what all edits of notes and of bars are made from,
// *_edit.go and note_*.go the edits; history.go undo and redo; wire.go the
// file's layout, encode.go and decode.go its conversion, file.go and replace.go
// how it is kept safe, journal.go how unsaved work survives a crash.
package project
