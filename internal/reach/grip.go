package reach

// grip assigns a finger to each key of a moment, in the order of the keys.
type grip [fingers]uint8

// plainGrips holds, by number of keys, every way to take ascending keys by
// ascending fingers.
var plainGrips = makePlainGrips()

func makePlainGrips() (all [fingers + 1][]grip) {
	for mask := range 1 << fingers {
		var g grip
		n := 0
		for f := range fingers {
			if mask>>f&1 == 1 {
				g[n] = uint8(f + 1)
				n++
			}
		}
		all[n] = append(all[n], g)
	}
	all[1] = []grip{{3}, {2}, {4}, {1}, {5}} // where all is equal, the middle
	return all
}

// gripsOf lists the grips a moment may be taken by. Without the player's own
// numbers fingers ascend with the keys; with them any distinct fingers may
// take the other keys, so that there always is a grip that keeps the numbers.
func gripsOf(m *moment) []grip {
	n := len(m.presses)
	if !m.hasFixed() {
		return plainGrips[n]
	}
	var out []grip
	for _, g := range plainGrips[n] {
		if m.keeps(g) {
			out = append(out, g)
		}
	}
	if len(out) > 0 {
		return out
	}
	var g grip
	m.permute(g, 0, &out)
	return out
}

func (m *moment) hasFixed() bool {
	for i := range m.presses {
		if m.presses[i].fixed != 0 {
			return true
		}
	}
	return false
}

func (m *moment) keeps(g grip) bool {
	for i := range m.presses {
		if f := m.presses[i].fixed; f != 0 && f != int(g[i]) {
			return false
		}
	}
	return true
}

// permute lists all ways to take the keys from i on that keep the player's
// numbers and give every other key a finger of its own.
func (m *moment) permute(g grip, i int, out *[]grip) {
	if i == len(m.presses) {
		*out = append(*out, g)
		return
	}
	if f := m.presses[i].fixed; f != 0 {
		g[i] = uint8(f)
		m.permute(g, i+1, out)
		return
	}
	for f := uint8(1); f <= fingers; f++ {
		if !m.taken(g, i, f) {
			g[i] = f
			m.permute(g, i+1, out)
		}
	}
}

// taken reports whether a finger serves a key before i or is fixed to one.
func (m *moment) taken(g grip, i int, f uint8) bool {
	for k := range m.presses {
		if k < i && g[k] == f || m.presses[k].fixed == int(f) {
			return true
		}
	}
	return false
}
