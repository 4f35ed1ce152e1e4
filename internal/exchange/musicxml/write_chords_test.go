package musicxml

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"

	"pgregory.net/rapid"
)

// lineText writes what a voice plays: value, pitches, ties and accidentals.
func lineText(chords []*chord) string {
	var out []string
	for _, c := range chords {
		s := valueLetters[c.value.name]
		if c.value.dotted {
			s += "."
		}
		for _, h := range c.heads {
			s += ":"
			if h.tieStop {
				s += "~"
			}
			s += h.pitch.String()
			if h.tieStart {
				s += "~"
			}
		}
		out = append(out, s)
	}
	return strings.Join(out, " ")
}

func arranged(start, duration project.Ticks, pitch string, layer arrange.Layer, d arrange.Division, l arrange.Limb) arrange.Note {
	p := theory.MustParsePitch(pitch)
	return arrange.Note{Start: start, Duration: duration, Key: p.Key(), Pitch: p, Layer: layer, Division: d, Limb: l}
}

func TestVoices(t *testing.T) {
	const lead, block, comp, bass = arrange.LayerLead, arrange.LayerBlock, arrange.LayerComp, arrange.LayerBass
	const upper, lower, pedal = arrange.Upper, arrange.Lower, arrange.Pedal
	const rh, lh, lf, rf = arrange.RightHand, arrange.LeftHand, arrange.LeftFoot, arrange.RightFoot
	tests := []struct {
		name  string
		notes []arrange.Note
		// want holds "staff: bar" for each voice, in order.
		want []string
	}{
		{"nothing", nil, []string{"1: w", "2: w", "3: w"}},
		{"block under the lead", []arrange.Note{
			arranged(0, 4*q, "G4", lead, upper, rh), arranged(0, 4*q, "E4", block, upper, rh), arranged(0, 4*q, "D4", block, upper, rh),
		}, []string{"1: w:G4:E4:D4", "2: w", "3: w"}},
		{"held against the lead", []arrange.Note{
			arranged(0, 2*q, "G4", lead, upper, rh), arranged(0, 4*q, "D4", block, upper, rh), arranged(2*q, 2*q, "A4", lead, upper, rh),
		}, []string{"1: h:G4 h:A4", "1: w:D4", "2: w", "3: w"}},
		{"above the lead", []arrange.Note{
			arranged(0, 4*q, "G4", lead, upper, rh), arranged(0, 4*q, "B4", block, upper, rh),
		}, []string{"1: w:G4", "1: w:B4", "2: w", "3: w"}},
		{"left hand on the same manual", []arrange.Note{
			arranged(0, 4*q, "G4", lead, upper, rh), arranged(0, 4*q, "G3", arrange.LayerDouble, upper, lh),
		}, []string{"1: w:G4", "1: w:G3", "2: w", "3: w"}},
		{"lengths that cross are tied", []arrange.Note{
			arranged(0, 2*q, "C3", comp, lower, lh), arranged(q, 2*q, "E3", comp, lower, lh),
		}, []string{"1: w", "2: q:C3~ q:E3~:~C3 q:~E3 q", "3: w"}},
		{"struck again while held", []arrange.Note{
			arranged(0, 4*q, "C3", comp, lower, lh), arranged(2*q, q, "C3", comp, lower, lh),
		}, []string{"1: w", "2: h:C3 q:C3 q", "3: w"}},
		{"two of one key are one", []arrange.Note{
			arranged(0, 2*q, "C3", comp, lower, lh), arranged(0, 4*q, "C3", comp, lower, lh),
		}, []string{"1: w", "2: w:C3", "3: w"}},
		{"the feet share a voice", []arrange.Note{
			arranged(0, 2*q, "C2", bass, pedal, lf), arranged(2*q, 2*q, "G2", bass, pedal, rf),
		}, []string{"1: w", "2: w", "3: h:C2 h:G2"}},
		{"beyond the bar", []arrange.Note{
			arranged(3*q, 2*q, "G4", lead, upper, rh),
		}, []string{"1: h. q:G4~", "2: w", "3: w"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := project.New()
			g := newGrid(project.CommonTime, 4*q, 0)
			var got []string
			for i, v := range voicesOf(&arrange.Realisation{Chart: c, Notes: tt.notes}) {
				if v.number != i+1 {
					t.Errorf("voice %d has number %d", i+1, v.number)
				}
				got = append(got, fmt.Sprintf("%d: %s", v.staff, lineText(v.barOf(0, &g))))
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("got  %q\nwant %q", got, tt.want)
			}
		})
	}
}

func TestPrintableSpellings(t *testing.T) {
	key := theory.MustParseKey("Eb major")
	tests := []struct {
		pitch string
		key   int
		want  string
	}{
		{"Bb4", 70, "Bb4"}, {"F##4", 67, "F##4"}, {"F###4", 68, "Ab4"}, {"Cbbb4", 57, "A3"},
		{"", 61, "Db4"}, {"", 0, "C0"}, {"", 11, "Cb0"}, {"Cb0", 11, "Cb0"}, {"B#-1", 12, "C0"}, {"G9", 127, "G9"},
	}
	for _, tt := range tests {
		n := arrange.Note{Key: tt.key}
		if tt.pitch != "" {
			n.Pitch = theory.MustParsePitch(tt.pitch)
		}
		if got := printable(&n, key).String(); got != tt.want {
			t.Errorf("%s, key %d: got %s, want %s", tt.pitch, tt.key, got, tt.want)
		}
	}
}

func TestAccidentals(t *testing.T) {
	tests := []struct{ name, key, notes, want string }{
		{"as the signature says", "G minor", "Bb4 Eb5 F4", "  "},
		{"against the signature", "G minor", "B4 F#4 E5", "natural sharp natural"},
		{"once a bar", "C major", "F#4 F#4 F4 F4 F#4", "sharp  natural  sharp"},
		{"each octave for itself", "C major", "F#4 F#5", "sharp sharp"},
		{"doubles", "C major", "F##4 Bbb4 F#4", "double-sharp flat-flat sharp"},
		{"tied over", "C major", "~F#4 F#4", " sharp"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var chords []*chord
			for i, f := range strings.Fields(tt.notes) {
				pitch, tied := strings.CutPrefix(f, "~")
				h := &head{pitch: theory.MustParsePitch(pitch), staff: 1, tieStop: tied}
				chords = append(chords, &chord{span: span{from: project.Ticks(i)}, heads: []*head{h}})
			}
			setAccidentals(chords, theory.MustParseKey(tt.key))
			var got []string
			for _, c := range chords {
				got = append(got, c.heads[0].accidental)
			}
			if s := strings.Join(got, " "); s != tt.want {
				t.Errorf("got %q, want %q", s, tt.want)
			}
		})
	}
}

// The signature's alterations are those of the key's scale.
func TestSignatures(t *testing.T) {
	for fifths := -7; fifths <= 7; fifths++ {
		key := theory.KeyFromFifths(fifths, theory.Major)
		for step := range 7 {
			n := theory.NameFromFifths(fifths - 1 + step)
			if got := signatureAlter(key, n.Letter()); got != n.Alter() {
				t.Errorf("%s: %s is altered by %d, want %d", key, n.Letter(), got, n.Alter())
			}
		}
	}
}

func TestBeams(t *testing.T) {
	tests := []struct {
		name    string
		lengths []project.Ticks
		want    string
	}{
		{"pairs within the beats", []project.Ticks{q / 2, q / 2, q / 2, q / 2, 2 * q}, "begin end begin end -"},
		{"alone", []project.Ticks{q / 2, q, q / 2, 2 * q}, "- - - -"},
		{"dotted", []project.Ticks{3 * q / 4, q / 4, q / 4, 3 * q / 4, 2 * q}, "begin end/backward hook begin/forward hook end -"},
		{"sixteenths in eighths", []project.Ticks{q / 2, q / 4, q / 4, 3 * q}, "begin continue/begin end/end -"},
		{"triplet", []project.Ticks{q / 3, q / 3, q / 3, 3 * q}, "begin continue end -"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := newGrid(project.CommonTime, 4*q, 0)
			v := &voice{}
			at := project.Ticks(0)
			for _, l := range tt.lengths {
				v.notes = append(v.notes, voiceNote{start: at, end: at + l, pitch: theory.MustParsePitch("G4")})
				at += l
			}
			v.longest = 4 * q
			var got []string
			for _, c := range v.barOf(0, &g) {
				got = append(got, strings.Join(c.beams, "/"))
				if len(c.beams) == 0 {
					got[len(got)-1] = "-"
				}
			}
			if s := strings.Join(got, " "); s != tt.want {
				t.Errorf("got  %s\nwant %s", s, tt.want)
			}
		})
	}
}

func TestSwingRatio(t *testing.T) {
	tests := []struct {
		swing         float64
		first, second int64
	}{{0.5, 1, 1}, {2.0 / 3, 2, 1}, {0.6, 3, 2}, {0.75, 3, 1}, {0.8, 4, 1}, {0.625, 5, 3}}
	for _, tt := range tests {
		if f, s := swingRatio(tt.swing); f != tt.first || s != tt.second {
			t.Errorf("swing %v is written as %d to %d, want %d to %d", tt.swing, f, s, tt.first, tt.second)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		swing := rapid.Float64Range(0.5, 0.8).Draw(t, "swing")
		f, s := swingRatio(swing)
		if got := float64(f) / float64(f+s); got-swing > 0.0006 || swing-got > 0.0006 {
			t.Fatalf("swing %v is written as %d to %d, which is %v", swing, f, s, got)
		}
	})
}
