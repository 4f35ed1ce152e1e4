// Package arrange turns a chart into a realisation: why each block is what it
// is, and who plays what. Realise is pure and deterministic, never writes to
// the chart, and takes time in proportion to the chart's length. It works in
// four stages:
//
//   - The changes are cut into spans and read (functions.go, serve.go): what
//     each chord leads to, and which families serve it there.
//   - Each melody note is placed in its surroundings (spot.go, anticipation.go):
//     the chord it takes, and how much it asks for rest.
//   - Each note gets its candidates (candidate*.go), each candidate its own
//     cost and each pair of neighbours theirs (cost.go, with every weight in
//     weights.go), and the cheapest path is found exactly (search.go). The same
//     costs rank the alternatives of the bench (alternatives.go).
//   - The voices go to limbs (hands.go, play.go), with comp and bass found by
//     small searches of their own (comp.go, bass.go, feet.go), registration cues
//     and findings.
//
// Prose is written last and only for blocks that are shown (reasons.go,
// remarks.go, explain.go).
package arrange
