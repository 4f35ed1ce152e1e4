//go:build race

package ui

// raceDetector says that the test looks for races, which makes every pixel ten times as dear.
const raceDetector = true
