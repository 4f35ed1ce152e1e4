package midi

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/arrange"
)

func TestControlsHaveNamesOfTheirOwn(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Controls() {
		var back Control
		if err := back.UnmarshalText([]byte(c.String())); err != nil || back != c || seen[c.String()] {
			t.Errorf("%d %q reads back as %d, %v", c, c, back, err)
		}
		seen[c.String()] = true
	}
	if len(seen) != 2+drawbars+5 {
		t.Errorf("%d controls", len(seen))
	}
	for d, bars := range map[arrange.Division]int{arrange.Upper: 9, arrange.Lower: 9, arrange.Pedal: 2} {
		for bar := range bars {
			if gotD, gotBar, ok := DrawbarControl(d, bar).Drawbar(); !ok || gotD != d || gotBar != bar {
				t.Errorf("%v %d comes back as %v %d", d, bar, gotD, gotBar)
			}
		}
	}
	for _, c := range []Control{Swell, Rotary, Play, Silence} {
		if _, _, ok := c.Drawbar(); ok {
			t.Errorf("%v is no drawbar", c)
		}
	}
}

func setups() *rapid.Generator[Setup] {
	return rapid.Custom(func(t *rapid.T) Setup {
		s := DefaultSetup()
		for range rapid.IntRange(0, 12).Draw(t, "changes") {
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0:
				s = s.WithChannel(uint8(rapid.IntRange(1, 16).Draw(t, "channel")), rapid.SampledFrom(Targets).Draw(t, "target"))
			case 1:
				s = s.WithRule(PortRule{Name: rapid.StringMatching(`[A-Za-z ]{1,8}`).Draw(t, "port"), Off: rapid.Bool().Draw(t, "off"),
					All: rapid.SampledFrom(Targets).Draw(t, "all"), Split: uint8(rapid.IntRange(0, 127).Draw(t, "split")), Octaves: rapid.IntRange(-4, 4).Draw(t, "octaves")})
			case 2:
				by := Controller{uint8(rapid.IntRange(0, 119).Draw(t, "number")), uint8(rapid.IntRange(0, 16).Draw(t, "on")), Source(rapid.IntRange(0, 2).Draw(t, "source"))}
				s = s.WithBinding(rapid.SampledFrom(Controls()).Draw(t, "control"), by)
			case 3:
				s = s.WithOutlet(arrange.Division(rapid.IntRange(0, 2).Draw(t, "division")), Outlet{Port: "organ", Channel: uint8(rapid.IntRange(1, 16).Draw(t, "out")), Alone: rapid.Bool().Draw(t, "alone")})
			}
		}
		return s
	})
}

// TestSetupsAreKept writes setups made of the user's choices and reads them
// again; whatever was chosen, it can be used.
func TestSetupsAreKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups().Draw(t, "setup")
		back, err := ReadSetup(s.Write())
		if err != nil {
			t.Fatalf("%s: %v", s.Write(), err)
		}
		if !reflect.DeepEqual(back, s) && back.Write() != s.Write() {
			t.Fatalf("read back %s, wrote %s", back.Write(), s.Write())
		}
	})
}

func TestDefaultSetupIsReadable(t *testing.T) {
	text := DefaultSetup().Write()
	for _, want := range []string{`"upper","lower","pedal","nothing"`, `{"Control":"swell","Controller":"CC 11"}`, `{"Control":"upper 16′","Controller":"CC 102"}`} {
		if !strings.Contains(text, want) {
			t.Errorf("%s lacks %s", text, want)
		}
	}
}

func TestBindingTakesOver(t *testing.T) {
	s := DefaultSetup().WithBinding(Rotary, Controller{Number: ExpressionPedal, Channel: 2})
	if _, bound := s.Bound(Swell); bound {
		t.Error("the swell keeps a controller that now means the speaker")
	}
	if by, _ := s.Bound(Rotary); by != (Controller{Number: ExpressionPedal, Channel: 2}) {
		t.Errorf("the speaker is worked by %v", by)
	}
	if _, bound := DefaultSetup().Without(Swell).Bound(Swell); bound {
		t.Error("the swell is still bound")
	}
}

func TestThroughPortsAreOffUntilChosen(t *testing.T) {
	s := DefaultSetup()
	if !s.Rule("Midi Through Port-0").Off || s.Rule("A keyboard").Off {
		t.Error("only ports that hand through are off at first")
	}
	s = s.WithRule(PortRule{Name: "Midi Through Port-0"})
	if s.Rule("Midi Through Port-0").Off {
		t.Error("the user's choice counts")
	}
}

func TestSetupsThatCannotBeUsed(t *testing.T) {
	good := DefaultSetup()
	for name, text := range map[string]string{
		"no JSON":          "{",
		"another control":  strings.Replace(good.Write(), `"swell"`, `"bellows"`, 1),
		"a mode":           strings.Replace(good.Write(), "CC 11\"", "CC 123\"", 1),
		"shared":           strings.Replace(good.Write(), "CC 103\"", "CC 102\"", 1),
		"channel":          strings.Replace(good.Write(), `"Channel":3`, `"Channel":17`, 1),
		"another division": strings.Replace(good.Write(), `"lower"`, `"choir"`, 1),
	} {
		if text == good.Write() {
			t.Fatalf("%s: the setup was not spoilt", name)
		}
		if _, err := ReadSetup(text); err == nil || !strings.Contains(err.Error(), "MIDI setup") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzReadSetup(f *testing.F) {
	f.Add(DefaultSetup().Write())
	f.Add(`{"Controls":[{"Control":"swell","Controller":"CC 7, channel 3"}],"Outputs":[{"Channel":1},{"Channel":1},{"Channel":1}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ReadSetup(text)
		if err != nil {
			return
		}
		if _, err := ReadSetup(s.Write()); err != nil {
			t.Fatalf("%q was read, its copy is not: %v", text, err)
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add([]byte{0x90, 60, 100})
	f.Add([]byte{0xC3, 5})
	f.Fuzz(func(t *testing.T, b []byte) {
		m, ok := Read(b)
		if !ok {
			return
		}
		if m.Channel > 15 || m.A > 127 || m.B > 127 || m.Status < 0x80 || m.Status > 0xE0 {
			t.Fatalf("% x reads as %+v", b, m)
		}
		var three [3]byte
		w := m.write(&three)
		if m.Status == Program && len(w) != 2 {
			t.Fatalf("% x is written as % x, with %d bytes", b, w, len(w))
		}
		if m.Status != 0xD0 && m.Status != NoteOff && !bytes.Equal(w, b[:len(w)]) {
			t.Fatalf("% x is written as % x", b, w)
		}
	})
}

func TestWhatWorksAControlIsWritten(t *testing.T) {
	for text, want := range map[string]Controller{
		"CC 11": {Number: 11}, "CC 102, channel 2": {Number: 102, Channel: 2}, "key 127": {Number: 127, Source: Keys},
		"program 1, channel 16": {Channel: 16, Source: Programs}, "program 128": {Number: 127, Source: Programs},
	} {
		var c Controller
		if err := c.UnmarshalText([]byte(text)); err != nil || c != want || c.String() != text {
			t.Errorf("%q reads as %+v and writes %q, %v", text, c, c, err)
		}
	}
	for _, text := range []string{"", "CC", "CC 120", "key 128", "program 0", "program 129", "pedal 3", "key 3, channel 0", "key 3, channel 17"} {
		var c Controller
		if c.UnmarshalText([]byte(text)) == nil {
			t.Errorf("%q reads as %v", text, c)
		}
	}
	s := DefaultSetup()
	if by, _ := s.WithBinding(Swell, Controller{Number: 3, Source: Keys}).Bound(Swell); by.Source != Controllers {
		t.Error("a key works the swell")
	}
	if _, err := ReadSetup(strings.Replace(s.Write(), `"CC 11"`, `"key 11"`, 1)); err == nil {
		t.Error("a setup in which a key works the swell is read")
	}
}
