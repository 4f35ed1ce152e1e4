package ui

// staffRoom is the height of the small staff, and cell the pin's button.
const staffRoom, cell float32 = 78, 24

// arrange walks down the page and returns its end.
func (v *benchPage) arrange(y, inner float32, set placing) float32 {
	y = v.arrangeHead(y, inner, set)
	if len(v.block.Voices) == 0 && !v.several {
		return y + 8
	}
	y = v.arrangePictures(y, inner, set)
	if v.fingers.shown() {
		v.fingers.arrange(y, inner, set)
		y += fingerRoom
	}
	y = v.arrangeTitle(y, inner, set)
	for i, r := range v.rows[:v.listed] {
		set(r, benchPad, y, inner, rowHeight)
		y += rowHeight + 5
		if v.showsCosts() && i == v.at {
			h := wrappedHeight(v.charges, inner+8)
			set(v.charges, benchPad, y-6, inner+8, h)
			y += h - 6
		}
	}
	if v.listed == 0 {
		h := wrappedHeight(v.none, inner+16)
		set(v.none, benchPad-8, y, inner+16, h)
		y += h
	}
	reach := wrappedHeight(v.reach, inner+16)
	set(v.reach, benchPad-8, y, inner+16, reach)
	return v.families.arrange(y+reach, inner, set) + 4
}

// arrangeHead places what the note is and why its block is what it is.
func (v *benchPage) arrangeHead(y, inner float32, set placing) float32 {
	place := v.place.MinSize()
	room := inner - place.Width - 10
	v.heading.TextSize = sizeTitle
	if v.heading.MinSize().Width > room {
		v.heading.TextSize = sizeHeading
	}
	if v.heading.MinSize().Width > room { // the place goes under it then
		room = inner
		set(v.place, benchPad, y+24, place.Width, place.Height)
	} else {
		set(v.place, benchPad+inner-place.Width, y+9, place.Width, place.Height)
	}
	set(v.heading, benchPad, y, room, 26)
	y += 28
	if v.function.Text != "" {
		x := benchPad
		if room == inner {
			x += place.Width + 10
		}
		v.function.Text = fitText(v.function.Text, v.function, benchPad+inner-x)
		set(v.function, x, y-4, benchPad+inner-x, 16)
		y += 16
	} else if room == inner {
		y += 16
	}
	if len(v.block.Voices) > 0 {
		v.arrangeName(y, inner, set)
		y += 30
	}
	reason := wrappedHeight(v.reason, inner+16)
	set(v.reason, benchPad-8, y, inner+16, reason)
	return y + reason
}

// arrangeName places the technique, what the block sounds as, and the pin.
func (v *benchPage) arrangeName(y, inner float32, set placing) {
	x, pin := benchPad, v.pin.MinSize().Width
	if !v.several {
		size := v.technique.MinSize()
		set(v.technique, x, y, size.Width, 26)
		x += size.Width + 10
	}
	room := benchPad + inner - pin - cell - 10 - x
	if v.several {
		v.sounds.Text = fitText(v.sounds.Text, v.sounds, room)
	} else {
		v.sounds.Text = fitText(soundsAs(v.block, room, v.sounds), v.sounds, room)
	}
	set(v.sounds, x, y+5, room, 16)
	set(v.pin, benchPad+inner-pin-cell-2, y+1, pin, cell)
	set(v.pins, benchPad+inner-cell, y+1, cell, cell)
}

// arrangePictures places staff and keys side by side; for several notes the staff
// has the width for itself.
func (v *benchPage) arrangePictures(y, inner float32, set placing) float32 {
	if len(v.block.Voices) == 0 {
		return y
	}
	if v.several {
		set(v.staff.raster, benchPad, float32(int(y)), float32(int(inner)), staffRoom)
		v.caption.Text = fitText(v.caption.Text, v.caption, inner)
		set(v.caption, benchPad, y+staffRoom, inner, 16)
		return y + staffRoom + 24
	}
	half := float32(int((inner - 12) * 0.44))
	set(v.staff.raster, benchPad, float32(int(y)), half, staffRoom)
	set(v.keys.raster, float32(int(benchPad+half+12)), float32(int(y+8)), float32(int(inner-half-12)), staffRoom-18)
	return y + staffRoom + 8
}

// arrangeTitle places the title of the list with its buttons, the filter and
// the keys.
func (v *benchPage) arrangeTitle(y, inner float32, set placing) float32 {
	set(v.listTitle, benchPad, y+1, inner, 16)
	x := benchPad + inner
	for _, b := range []*button{v.why, v.narrow} {
		if b == v.why && v.several {
			continue
		}
		width := b.MinSize().Width
		x -= width
		set(b, x, y-3, width, 22)
		x -= unit
	}
	y += 24
	if v.filter.Text != "" {
		width := v.widen.MinSize().Width
		set(v.filter, benchPad, y, inner-width-8, 16)
		set(v.widen, benchPad+inner-width, y-3, width, 22)
		y += 24
	}
	hint := v.listHint.MinSize()
	set(v.listHint, benchPad, y-3, hint.Width, hint.Height)
	return y + 18
}
