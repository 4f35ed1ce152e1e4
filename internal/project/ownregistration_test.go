package project_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

func TestNamesOfOwnRegistrations(t *testing.T) {
	for _, tc := range []struct {
		name, want string // "" for refused
	}{
		{"Sunday reeds", "Sunday reeds"}, {"  Sunday\treeds ", "Sunday reeds"}, {"reeds 2", "reeds 2"},
		{"", ""}, {" \n", ""}, {"reeds", ""}, {" Reeds ", ""}, {"SHOUT BRASS", ""}, {"Sunday reeds, changed", ""},
		{strings.Repeat("x", 2*project.MaxLabel), strings.Repeat("x", project.MaxLabel)},
	} {
		r, err := project.NamedRegistration(project.Registrations()[3], tc.name)
		if (err != nil) != (tc.want == "") || err == nil && r.Name != tc.want {
			t.Errorf("%q becomes %q, %v", tc.name, r.Name, err)
		}
	}
}

// ownRegistrations draws what a user may keep.
func ownRegistrations(t *rapid.T) (list []project.Registration) {
	for range rapid.IntRange(0, 4).Draw(t, "n") {
		r, err := project.NamedRegistration(projecttest.Registrations().Draw(t, "registration"), projecttest.Texts().Draw(t, "name"))
		if err == nil && !slices.ContainsFunc(list, func(o project.Registration) bool { return o.Name == r.Name }) {
			list = append(list, r)
		}
	}
	return list
}

// TestRegistrationsSurviveBeingKept writes registrations and reads them back,
// every setting the same.
func TestRegistrationsSurviveBeingKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := ownRegistrations(t)
		data, err := project.EncodeRegistrations(list)
		if err != nil {
			t.Fatal(err)
		}
		back, err := project.DecodeRegistrations(data)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(back, list) {
			t.Fatalf("%+v became %+v", list, back)
		}
	})
}

// ownReeds is a registration of a user's own with everything off its rest.
func ownReeds(t testing.TB) project.Registration {
	t.Helper()
	r, _ := project.RegistrationByName("reeds")
	r.Effects = project.Effects{
		Accent: project.Accent{Pitch: project.AccentOctave, Loud: true}, Drive: 0.5, Room: 0.4,
		Vibrato: [3]project.Vibrato{project.ChorusDeep, project.NoVibrato, project.VibratoLight},
	}
	r.Swell = 0.6
	r, err := project.NamedRegistration(r, "Sunday reeds")
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestDamagedRegistrationsAreRefused(t *testing.T) {
	whole, err := project.EncodeRegistrations([]project.Registration{ownReeds(t)})
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct{ from, to string }{
		{`[{`, `{`}, {`"name"`, `"nome"`}, {`Sunday reeds`, `reeds`}, {`Sunday reeds`, ` `}, {`"pedal":[6,`, `"pedal":[9,`},
		{`"upper":[2,`, `"upper":[`}, {`"upper":[2,`, `"upper":[-1,`}, {`"slow"`, `"fastest"`}, {`"swell":0.6`, `"swell":60`},
		{`"drive":0.5`, `"drive":-1`}, {`"room":0.4`, `"room":1e400`}, {`"octave"`, `"ninth"`}, {`"deep with dry"`, `"steep"`}, {`}]`, `}`},
	} {
		text := strings.Replace(string(whole), tc.from, tc.to, 1)
		if text == string(whole) {
			t.Fatalf("%s is not in %s", tc.from, whole)
		}
		list, err := project.DecodeRegistrations([]byte(text))
		if err == nil {
			t.Errorf("%s is accepted as %+v", text, list)
		} else if strings.Contains(err.Error(), "\n") {
			t.Errorf("the refusal is not one sentence: %v", err)
		}
	}
}

func TestRegistrationsAreBounded(t *testing.T) {
	var list []project.Registration
	for i := range project.MaxRegistrations + 1 {
		r := ownReeds(t)
		r.Name += strings.Repeat("i", i%20) + strings.Repeat("v", i/20)
		list = append(list, r)
	}
	for n, ok := range map[int]bool{project.MaxRegistrations: true, project.MaxRegistrations + 1: false} {
		data, err := project.EncodeRegistrations(list[:n])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := project.DecodeRegistrations(data); (err == nil) != ok {
			t.Errorf("%d registrations: %v", n, err)
		}
	}
	twice, err := project.EncodeRegistrations([]project.Registration{list[0], list[0]})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := project.DecodeRegistrations(twice); err == nil {
		t.Error("one name is accepted twice")
	}
}

// TestChartCarriesAnOwnRegistration saves a chart that uses one and reads it
// where nothing else is known of it.
func TestChartCarriesAnOwnRegistration(t *testing.T) {
	want := ownReeds(t)
	c, err := (project.SetRegistration{Registration: want}).Apply(project.New())
	if err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	if err := project.Write(&file, c); err != nil {
		t.Fatal(err)
	}
	back, err := project.Read(&file)
	if err != nil {
		t.Fatal(err)
	}
	if got := back.Passages[0].Registration; got != want {
		t.Errorf("%+v came back as %+v", want, got)
	}
}

func FuzzDecodeRegistrations(f *testing.F) {
	whole, err := project.EncodeRegistrations([]project.Registration{ownReeds(f)})
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range []string{string(whole), "", "null", "[]", "[{}]", `[{"name":"x","upper":[9]}]`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := project.DecodeRegistrations(data)
		if err != nil {
			return
		}
		again, err := project.EncodeRegistrations(list)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := project.DecodeRegistrations(again); err != nil || !slices.Equal(back, list) {
			t.Fatalf("%+v became %+v, %v", list, back, err)
		}
	})
}
