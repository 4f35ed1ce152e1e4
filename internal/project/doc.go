// Package project holds the document: one chart with its changes, melody and
// the decisions about its arrangement; the edits that turn a chart into the
// next one; the history that undoes them; and the native file.
//
// A *Chart is an immutable value. Nothing outside this package's edits and
// the importers that build a fresh chart may write to its fields; an edit
// returns a new chart that shares every slice it did not change, so keeping
// all past charts is cheap and comparing a shared slice by address tells that
// it did not change.
package project
