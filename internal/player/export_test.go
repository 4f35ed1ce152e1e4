package player

// Quiet returns a player without a device, as on a machine that has none.
func Quiet() *Player { return start(Options{Click: -1}, noDevice) }
