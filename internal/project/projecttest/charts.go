// Package projecttest makes random valid charts and edits for property tests
// of this and of every package that reads charts.
package projecttest

import (
	"slices"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// Size bounds a random chart.
type Size struct {
	// MaxBars is the most bars, at least 1.
	MaxBars int
	// MaxNotes is the most melody notes.
	MaxNotes int
}

// Small is large enough for every feature and small enough to shrink well.
var Small = Size{MaxBars: 12, MaxNotes: 24}

// Charts generates valid charts with everything a chart can hold: pickups and
// split bars, odd meters, tuplets, notes held over bar lines, repeats and
// endings, changes of key and tempo, chord symbols, passages, takes, pins, fingers
// and a player.
func Charts(size Size) *rapid.Generator[*project.Chart] {
	return rapid.Custom(func(t *rapid.T) *project.Chart {
		c := &project.Chart{
			Title:    Texts().Draw(t, "title"),
			Composer: Texts().Draw(t, "composer"),
			Key:      Keys().Draw(t, "key"),
			Tempo:    rapid.Float64Range(project.MinTempo, project.MaxTempo).Draw(t, "tempo"),
			Swing:    rapid.Float64Range(project.MinSwing, project.MaxSwing).Draw(t, "swing"),
			Console:  Consoles().Draw(t, "console").ID,
			Bars:     Bars(size.MaxBars).Draw(t, "bars"),
		}
		c.Changes = drawChanges(t, c)
		c.Melody = drawMelody(t, c, size.MaxNotes)
		c.Passages = drawPassages(t, len(c.Bars))
		c.Pins = drawPins(t, c.Melody)
		c.Fingerings = drawFingerings(t, c.Melody)
		c.Player = drawPlayer(t)
		c.Tone = drawTone(t)
		return drawTakes(t, c)
	})
}

// Consoles generates the known consoles and some of the user's own.
func Consoles() *rapid.Generator[project.Console] {
	return rapid.Custom(func(t *rapid.T) project.Console {
		if rapid.IntRange(0, 3).Draw(t, "own") < 3 {
			return rapid.SampledFrom(project.Consoles()).Draw(t, "console")
		}
		compass := func(name string) project.Compass {
			low := rapid.IntRange(24, 60).Draw(t, name+" from")
			return project.Compass{Lowest: low, Highest: low + rapid.IntRange(project.MinKeyboard, 61).Draw(t, name+" keys") - 1}
		}
		k := project.Console{
			Upper: compass("upper"), Lower: compass("lower"), Pedal: compass("pedal"),
			LowerOffset: rapid.IntRange(-200, 200).Draw(t, "offset"), Busy: project.Limbs(rapid.IntRange(0, 15).Draw(t, "busy")),
		}
		own, err := project.OwnConsole(k)
		if err != nil {
			t.Fatal(err)
		}
		return own
	})
}

// Texts generates short one-line texts, signs beyond ASCII included.
func Texts() *rapid.Generator[string] {
	return rapid.SampledFrom([]string{"", "Night Ferry", "Тихая ночь", `"quoted" <b>&amp;`, "Tab-less ♭♯ 曲", "a\\b/c"})
}

// Keys generates every key with a printable signature.
func Keys() *rapid.Generator[theory.Key] {
	return rapid.Custom(func(t *rapid.T) theory.Key {
		fifths := rapid.IntRange(-project.MaxSignature, project.MaxSignature).Draw(t, "fifths")
		return theory.KeyFromFifths(fifths, rapid.SampledFrom([]theory.Mode{theory.Major, theory.Minor}).Draw(t, "mode"))
	})
}

// Pitches generates spelled pitches of the range a melody moves in, with up to
// two accidentals.
func Pitches() *rapid.Generator[theory.Pitch] {
	return rapid.Custom(func(t *rapid.T) theory.Pitch {
		letter := theory.Letter(rapid.IntRange(0, 6).Draw(t, "letter"))
		alter := rapid.SampledFrom([]int{0, 0, 0, -1, 1, -2, 2}).Draw(t, "alter")
		return theory.NewPitch(theory.NewName(letter, alter), rapid.IntRange(3, 5).Draw(t, "octave"))
	})
}

// suffixes are the common qualities of lead sheets.
var suffixes = []string{
	"", "m", "6", "m6", "7", "maj7", "m7", "m7b5", "dim7", "7b9", "9", "13", "sus4", "7sus4", "aug", "6/9", "m(maj7)", "7#5", "maj9", "m9",
}

// Chords generates chord symbols on any root, with and without a slash bass,
// and now and then N.C.
func Chords() *rapid.Generator[theory.Chord] {
	return rapid.Custom(func(t *rapid.T) theory.Chord {
		if rapid.IntRange(0, 15).Draw(t, "none") == 15 {
			return theory.NoChord()
		}
		symbol := drawName(t).String() + rapid.SampledFrom(suffixes).Draw(t, "suffix")
		if rapid.IntRange(0, 5).Draw(t, "slash") == 5 {
			symbol += "/" + drawName(t).String()
		}
		return theory.MustParseChord(symbol)
	})
}

func drawName(t *rapid.T) theory.Name {
	return theory.NameFromFifths(rapid.IntRange(-8, 10).Draw(t, "name"))
}

// drawChanges puts chord symbols on beats and off-beats.
func drawChanges(t *rapid.T, c *project.Chart) []project.Change {
	var changes []project.Change
	step := rapid.SampledFrom([]project.Ticks{project.Quarter / 2, project.Quarter, 2 * project.Quarter}).Draw(t, "grid")
	at := step * project.Ticks(rapid.IntRange(0, 4).Draw(t, "first chord"))
	for at < c.Length() && len(changes) < 2*len(c.Bars) {
		changes = append(changes, project.Change{Start: at, Chord: Chords().Draw(t, "chord")})
		at += step * project.Ticks(rapid.IntRange(1, 8).Draw(t, "chord length"))
	}
	return changes
}

// durations are the values of print: plain, dotted, and exact tuplets.
var durations = []project.Ticks{
	project.Quarter, project.Quarter / 2, project.Quarter / 4, 3 * project.Quarter / 2, 3 * project.Quarter / 4,
	2 * project.Quarter, 4 * project.Quarter, 7 * project.Quarter,
	project.Quarter / 3, 2 * project.Quarter / 3, project.Quarter / 5, 2 * project.Quarter / 7, project.Quarter / 9, project.Quarter / 32,
}

// drawMelody walks through the chart with notes and rests; notes may cross bar
// lines and touch.
func drawMelody(t *rapid.T, c *project.Chart, limit int) []project.Note {
	var melody []project.Note
	at, length := project.Ticks(0), c.Length()
	for n := rapid.IntRange(0, limit).Draw(t, "notes"); n > 0 && at < length; n-- {
		if rapid.IntRange(0, 3).Draw(t, "rest") == 3 {
			at += rapid.SampledFrom(durations).Draw(t, "rest length")
		}
		if at >= length {
			break
		}
		note := project.Note{
			Start:    at,
			Duration: min(rapid.SampledFrom(durations).Draw(t, "duration"), length-at),
			Pitch:    Pitches().Draw(t, "pitch"),
		}
		melody = append(melody, note)
		at = note.End()
	}
	return melody
}

// drawPins fixes blocks for some notes.
func drawPins(t *rapid.T, melody []project.Note) []project.Pin {
	var pins []project.Pin
	for _, n := range melody {
		if rapid.IntRange(0, 4).Draw(t, "pinned") == 4 {
			pins = append(pins, drawPin(t, n))
		}
	}
	return pins
}

// drawFingerings gives some notes, and keys below them, fingers of the
// player's own.
func drawFingerings(t *rapid.T, melody []project.Note) []project.Fingering {
	var out []project.Fingering
	for _, n := range melody {
		if rapid.IntRange(0, 5).Draw(t, "fingered") < 5 {
			continue
		}
		below := rapid.IntRange(0, min(12, n.Pitch.Key())).Draw(t, "below")
		if below > 0 {
			out = append(out, project.Fingering{Start: n.Start, Key: n.Pitch.Key() - below, Finger: fingers.Draw(t, "finger")})
		}
		out = append(out, project.Fingering{Start: n.Start, Key: n.Pitch.Key(), Finger: fingers.Draw(t, "finger")})
	}
	return out
}

var fingers = rapid.IntRange(1, project.MaxFinger)

// drawPlayer makes one chart in three for a player of its own.
func drawPlayer(t *rapid.T) *project.Player {
	if rapid.IntRange(0, 2).Draw(t, "player") < 2 {
		return nil
	}
	return Players().Draw(t, "player")
}

// drawTone gives one chart in three a tone of its own.
func drawTone(t *rapid.T) *project.Tone {
	if rapid.IntRange(0, 2).Draw(t, "tone") < 2 {
		return nil
	}
	tone := Tones().Draw(t, "tone")
	return &tone
}

// Tones generates tones of every kind.
func Tones() *rapid.Generator[project.Tone] {
	return rapid.Custom(func(t *rapid.T) project.Tone {
		within := func(name string, least, most float64) float64 { return rapid.Float64Range(least, most).Draw(t, name) }
		return project.Tone{
			Click: within("click", 0, 1), Leakage: within("leakage", 0, project.MaxLeakage), Partials: within("partials", 0, project.MaxPartials),
			MicDistance: within("distance", project.MinMicDistance, project.MaxMicDistance), MicAngle: within("angle", 0, project.MaxMicAngle),
			StopAngle: within("stop", 0, 359), RoomSize: within("size", project.MinRoomSize, project.MaxRoomSize),
			Decay: within("decay", project.MinDecay, project.MaxDecay), Damping: within("damping", 0, 1),
		}
	})
}

// Players generates players of every kind.
func Players() *rapid.Generator[*project.Player] {
	return rapid.Custom(func(t *rapid.T) *project.Player {
		hand := func(name string) project.Stretch {
			most := rapid.Float64Range(project.MinStretch, project.MaxStretch).Draw(t, name)
			return project.Stretch{Comfortable: rapid.Float64Range(project.MinStretch, most).Draw(t, name+" comfort"), Maximal: most}
		}
		return &project.Player{
			Name: Texts().Draw(t, "name"), Right: hand("right"), Left: hand("left"),
			LeftFootOnly: rapid.Bool().Draw(t, "left foot"), NoFeet: rapid.Bool().Draw(t, "no feet"), Detached: rapid.Bool().Draw(t, "detached"),
			ThumbBridge: rapid.Bool().Draw(t, "bridge"), Speed: rapid.Float64Range(project.MinSpeed, project.MaxSpeed).Draw(t, "speed"),
		}
	})
}

// drawTakes puts takes on some charts' shelves.
func drawTakes(t *rapid.T, c *project.Chart) *project.Chart {
	if rapid.IntRange(0, 2).Draw(t, "takes") < 2 {
		return c
	}
	passage := rapid.IntRange(0, len(c.Passages)-1).Draw(t, "passage")
	edits := []project.Edit{project.MakeTake{Passage: passage, NewName: Texts().Draw(t, "take")}}
	if rapid.Bool().Draw(t, "third take") {
		change := project.TreatmentChange{Given: true, Treatment: Treatments().Draw(t, "treatment")}
		edits = append(edits, project.MakeTake{Passage: passage, Change: change}, project.UseTake{Passage: passage, Take: 1})
	}
	for _, e := range edits {
		d, err := e.Apply(c)
		if err != nil {
			t.Fatalf("%s on a random chart: %v", e.Name(), err)
		}
		c = d
	}
	return c
}

// drawPin fixes a block, or now and then only a voicing or technique.
func drawPin(t *rapid.T, n project.Note) project.Pin {
	switch rapid.IntRange(0, 5).Draw(t, "strength") {
	case 4:
		return project.Pin{Start: n.Start, Strength: project.PinVoicing, Voicing: Voicings().Draw(t, "voicing")}
	case 5:
		technique := theory.Technique(rapid.IntRange(0, int(theory.Alone)).Draw(t, "technique"))
		return project.Pin{Start: n.Start, Strength: project.PinTechnique, Technique: technique}
	}
	return project.Pin{Start: n.Start, Voicing: Voicings().Draw(t, "voicing"), Voices: Block(n.Pitch).Draw(t, "voices")}
}

// Voicings generates every voicing.
func Voicings() *rapid.Generator[theory.Voicing] {
	return rapid.Custom(func(t *rapid.T) theory.Voicing {
		return theory.Voicing(rapid.IntRange(0, int(theory.UnisonVoicing)).Draw(t, "voicing"))
	})
}

// Block generates one to four voices from a lead down.
func Block(lead theory.Pitch) *rapid.Generator[[]theory.Pitch] {
	return rapid.Custom(func(t *rapid.T) []theory.Pitch {
		voices := []theory.Pitch{lead}
		for range rapid.IntRange(0, 3).Draw(t, "voices") {
			key := voices[len(voices)-1].Key() - rapid.IntRange(1, 6).Draw(t, "gap")
			name := theory.MustParseKey("Eb major").Spell(key % 12)
			voices = append(voices, theory.PitchAt(name, key))
		}
		return voices
	})
}

// drawPassages partitions the bars.
func drawPassages(t *rapid.T, bars int) []project.Passage {
	firsts := rapid.SliceOfN(rapid.IntRange(0, bars-1), 0, 3).Draw(t, "borders")
	firsts = append(firsts, 0)
	slices.Sort(firsts)
	var passages []project.Passage
	for _, first := range slices.Compact(firsts) {
		p := Passages().Draw(t, "passage")
		p.First = first
		passages = append(passages, p)
	}
	return passages
}

// Passages generates the settings of a passage that starts at bar 0.
func Passages() *rapid.Generator[project.Passage] {
	return rapid.Custom(func(t *rapid.T) project.Passage {
		return project.Passage{
			Name:         Texts().Draw(t, "name"),
			Treatment:    Treatments().Draw(t, "treatment"),
			Plan:         rapid.SampledFrom(project.HandPlans).Draw(t, "plan"),
			Bass:         rapid.SampledFrom(project.BassStyles).Draw(t, "bass"),
			Registration: Registrations().Draw(t, "registration"),
		}
	})
}

// Treatments generates treatments, half of them plain.
func Treatments() *rapid.Generator[project.Treatment] {
	return rapid.Custom(func(t *rapid.T) project.Treatment {
		tr := project.Treatment{
			Voicing:       Voicings().Draw(t, "voicing"),
			TwoFiveAsFive: rapid.Bool().Draw(t, "two-five"),
			LeadOctave:    rapid.IntRange(-1, 1).Draw(t, "octave"),
		}
		if rapid.Bool().Draw(t, "plain") {
			return tr
		}
		tr.Forbid = project.FamilySet(rapid.IntRange(0, 15).Draw(t, "forbid"))
		tr.Prefer = project.FamilySet(rapid.IntRange(0, 15).Draw(t, "prefer")) &^ tr.Forbid
		tr.Borrow = rapid.SampledFrom(project.Borrows).Draw(t, "borrow")
		tr.Dominants = rapid.SampledFrom(project.DominantColours).Draw(t, "dominants")
		tr.Leaning = rapid.SampledFrom(project.Leanings).Draw(t, "leaning")
		tr.Reach = rapid.SampledFrom(project.ReachWeights).Draw(t, "reach")
		if rapid.Bool().Draw(t, "range") {
			tr.BlocksFrom, tr.BlocksTo = rapid.IntRange(48, 64).Draw(t, "from"), rapid.IntRange(72, 96).Draw(t, "to")
		}
		tr.FullRuns, tr.MoveInner = rapid.Bool().Draw(t, "full runs"), rapid.Bool().Draw(t, "move inner")
		tr.AlternateRepeats, tr.OpenAtClimax = rapid.Bool().Draw(t, "alternate"), rapid.Bool().Draw(t, "climax")
		return tr
	})
}

// Registrations generates built-in registrations and altered ones.
func Registrations() *rapid.Generator[project.Registration] {
	return rapid.Custom(func(t *rapid.T) project.Registration {
		r := rapid.SampledFrom(project.Registrations()).Draw(t, "built in")
		if rapid.Bool().Draw(t, "altered") {
			r.Name = Texts().Draw(t, "name")
			r.Upper[rapid.IntRange(0, 8).Draw(t, "drawbar")] = uint8(rapid.IntRange(0, project.MaxDrawbar).Draw(t, "setting"))
			r.Rotary = rapid.SampledFrom(project.RotarySpeeds).Draw(t, "rotary")
			r.Swell = rapid.Float64Range(0, 1).Draw(t, "swell")
			if rapid.Bool().Draw(t, "glides") {
				r = r.GlidingTo(rapid.Float64Range(0, 1).Draw(t, "swell at the end"))
			}
			r.Accent.Pitch = rapid.SampledFrom(project.AccentPitches).Draw(t, "accent")
			r.Accent.Loud, r.Accent.Long = rapid.Bool().Draw(t, "loud"), rapid.Bool().Draw(t, "long")
			r.Vibrato[rapid.IntRange(0, 2).Draw(t, "division")] = rapid.SampledFrom(project.Vibratos).Draw(t, "vibrato")
			r.Drive, r.Room = rapid.Float64Range(0, 1).Draw(t, "drive"), rapid.Float64Range(0, 1).Draw(t, "room")
		}
		return r
	})
}
