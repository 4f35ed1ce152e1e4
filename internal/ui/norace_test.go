//go:build !race

package ui

// raceDetector says that the test looks for races, which it does not.
const raceDetector = false
