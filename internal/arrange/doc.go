// Package arrange turns a chart into a realisation: it reads the functions of
// the changes, gives each chord its family, finds a block for every melody
// note by the cheapest path through the candidates, and hands the voices to
// limbs. Realise is pure and deterministic and never writes to the chart.
package arrange
