package project_test

import (
	"bytes"
	"strings"
	"testing"

	"organbook/internal/project"
)

// TestEffectsInFiles writes a chart with every effect, reads it back, and
// reads the same file without them and with each of them spoilt.
func TestEffectsInFiles(t *testing.T) {
	c := project.New()
	want := project.Effects{
		Accent:  project.Accent{Pitch: project.AccentTwelfth, Loud: true, Long: true},
		Vibrato: [3]project.Vibrato{project.ChorusDeep, project.VibratoLight, project.NoVibrato},
		Drive:   0.25, Room: 0.5,
	}
	c.Passages[0].Registration.Effects = want
	var file bytes.Buffer
	if err := project.Write(&file, c); err != nil {
		t.Fatal(err)
	}
	text := file.String()
	read := func(text string) (project.Effects, error) {
		c, err := project.Read(strings.NewReader(text))
		if err != nil {
			return project.Effects{}, err
		}
		return c.Passages[0].Registration.Effects, nil
	}
	if got, err := read(text); err != nil || got != want {
		t.Errorf("read back %+v, %v; want %+v", got, err, want)
	}
	const fields = `,"accent":{"pitch":"twelfth","loud":true,"long":true},"vibrato":["deep with dry","light","none"],"drive":0.25,"room":0.5`
	if !strings.Contains(text, fields) {
		t.Fatalf("the file has not the expected fields:\n%s", text)
	}
	if got, err := read(strings.Replace(text, fields, "", 1)); err != nil || got != (project.Effects{}) {
		t.Errorf("a file without effects gives %+v, %v", got, err)
	}
	for _, bad := range [][2]string{
		{`"twelfth"`, `"tenth"`}, {`"light",`, `"wild",`}, {`,"none"]`, `]`},
		{`"drive":0.25`, `"drive":2`}, {`"room":0.5`, `"room":-1`}, {`"loud"`, `"loudly"`},
	} {
		if _, err := read(strings.Replace(text, bad[0], bad[1], 1)); err == nil {
			t.Errorf("%s in place of %s is accepted", bad[1], bad[0])
		}
	}
}
