package project

// Bars of five and seven beats are felt in groups, which the click, the grid, the bass
// and the arranger's strong beats follow. Bars whose beats fall into equal parts need
// none.

// usualGroups is how the beats of a meter that says nothing stand together; "" where
// they fall into equal parts.
func (m Meter) usualGroups() string {
	switch {
	case m.Beats == 5:
		return "3+2"
	case m.Beats == 7 && m.Unit >= 8:
		return "2+2+3"
	case m.Beats == 7:
		return "4+3"
	}
	return ""
}

// grouping is how the beats stand together, "" where they fall into equal parts.
func (m Meter) grouping() string {
	if m.Groups != "" {
		return m.Groups
	}
	return m.usualGroups()
}

// IsGrouped reports whether the beats stand together in groups of their own.
func (m Meter) IsGrouped() bool { return m.grouping() != "" }

// StartsGroup reports whether a group of beats begins at a position in the bar, the
// first one included.
func (m Meter) StartsGroup(in Ticks) bool {
	beat := m.Beat()
	for at, rest := 0, m.grouping(); rest != "" && Ticks(at)*beat <= in; {
		if Ticks(at)*beat == in {
			return true
		}
		n, after := nextGroup(rest)
		at, rest = at+n, after
	}
	return false
}

// FirstHalf returns how long the first of a bar's two halves lasts: two of four felt
// beats, two of three, and of groups as many as come nearest to the middle.
func (m Meter) FirstHalf() Ticks {
	if !m.IsGrouped() {
		pulses := m.Length() / m.Pulse()
		return (pulses + 1) / 2 * m.Pulse()
	}
	best, at := m.Beats, 0
	for rest := m.grouping(); rest != ""; {
		n, after := nextGroup(rest)
		if at += n; abs(2*at-m.Beats) < abs(2*best-m.Beats) {
			best = at
		}
		rest = after
	}
	return Ticks(best) * m.Beat()
}

// nextGroup returns the first number of groups such as "2+2+3" and the rest of them;
// 0 where there is no number.
func nextGroup(groups string) (n int, rest string) {
	for i := 0; i < len(groups); i++ {
		c := groups[i]
		if c == '+' {
			return n, groups[i+1:]
		}
		if c < '0' || c > '9' || n > 64 {
			return 0, ""
		}
		n = 10*n + int(c-'0')
	}
	return n, ""
}

// groupsFit reports whether the groups, if any, are two or more, written as print has
// them, and add up to the beats.
func (m Meter) groupsFit() bool {
	if m.Groups == "" {
		return true
	}
	sum, count := 0, 0
	for rest := m.Groups; rest != ""; count++ {
		n, after := nextGroup(rest)
		if n == 0 || rest[0] == '0' {
			return false
		}
		sum, rest = sum+n, after
	}
	return sum == m.Beats && count > 1 && m.Groups[len(m.Groups)-1] != '+'
}

// inThrees reports whether the groups are all of three beats, as without any.
func (m Meter) inThrees() bool {
	for rest := m.Groups; rest != ""; {
		n, after := nextGroup(rest)
		if n != 3 {
			return false
		}
		rest = after
	}
	return true
}
