// Package musicxml exchanges charts with other programs as MusicXML: it reads
// lead sheets of versions 1.0 to 4.0 and writes version 4.0.
//
// Reading goes in stages, each of which knows only the one before:
//
//	bytes ─▶ text        read_text.go     encodings, limits
//	text  ─▶ elements    read_prolog.go   document type, entities
//	                     read_tree.go     tags that may not match
//	      ─▶ score       read_score.go    parts, measures, items (read_note.go,
//	                                      read_harmony.go, read_barline.go …)
//	      ─▶ walk        read_walk.go     every item at its exact position
//	      ─▶ chart       read_chart.go    bars, melody, chords, marks
//
// Everything a file gets wrong is settled at the stage that meets it and noted
// as a Warning; later stages trust what they are given.
package musicxml
