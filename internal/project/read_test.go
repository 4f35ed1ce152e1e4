package project_test

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

func TestSaveThenLoadIsTheIdentity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		d := reload(t, c)
		if again := reload(t, d); !again.Equal(c) {
			t.Fatal("a second round changed the chart")
		}
	})
}

// text returns the file of a chart.
func text(t testing.TB, c *project.Chart) string {
	var b bytes.Buffer
	if err := project.Write(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestFileIsReadable(t *testing.T) {
	c := tune()
	c.Title = "Night <Ferry>"
	got := text(t, c)
	for _, line := range []string{
		` "format": "organbook-chart",`,
		` "title": "Night <Ferry>",`,
		` "key": "C major",`,
		"  {\"meter\":\"4/4\"},\n  {},",
		`  {"start":0,"chord":"C6"},`,
		`  {"start":80640,"duration":20160,"pitch":"F#5"}`,
		`  {"start":10080,"voicing":"close","voices":["D5","B4","Ab4","F4"]}`,
		`"plan":"two-hand-block","bass":"roots","registration":{"name":"muted brass","upper":[0,2,6,`,
	} {
		if !strings.Contains(got, line) {
			t.Errorf("the file lacks %s in\n%s", line, got)
		}
	}
}

// lists make charts out of the lists that matter to a case.
func chartText(lists string) string {
	return `{"format":"organbook-chart","version":1,"key":"C","tempo":120,"swing":0.5,"console":"full",` + lists + `}`
}

const onePassage = `"passages":[{"firstBar":0,"voicing":"close","plan":"shout","bass":"roots","registration":{"upper":[0,0,0,0,0,0,0,0,0],"lower":[0,0,0,0,0,0,0,0,0],"pedal":[0,0],"rotary":"slow","swell":0.5}}]`

func TestReadByHand(t *testing.T) {
	c, err := project.Read(strings.NewReader("\ufeff\r\n" + chartText(`"bars":[{"meter":"3/4"},{},{"length":10080}],`+onePassage)))
	if err != nil || len(c.Bars) != 3 || c.Length() != 7*q || c.Melody != nil {
		t.Fatalf("%+v, %v", c, err)
	}
}

func TestReadRefuses(t *testing.T) {
	whole := text(t, tune())
	bars := `"bars":[{"meter":"4/4"}],`
	for _, tt := range []struct {
		name, in string
		is       error
		want     string
	}{
		{"empty", "", project.ErrDamaged, "the file is empty"},
		{"blank", " \n", project.ErrForeign, "not an Organbook chart"},
		{"text", "Dear organist,", project.ErrForeign, "not an Organbook chart"},
		{"zip", "PK\x03\x04", project.ErrForeign, "not an Organbook chart"},
		{"foreign JSON", `{"format":"something","version":1}`, project.ErrForeign, "not an Organbook chart"},
		{"foreign brace", `{ int main; }`, project.ErrForeign, "not an Organbook chart"},
		{"JSON list", `[1,2]`, project.ErrForeign, "not an Organbook chart"},
		{"newer", `{"format":"organbook-chart","version":2,"what":[]}`, project.ErrNewer, "newer version"},
		{"no version", `{"format":"organbook-chart"}`, project.ErrDamaged, "version"},
		{"odd version", `{"format":"organbook-chart","version":"one"}`, project.ErrDamaged, "version"},
		{"truncated", whole[:len(whole)/2], project.ErrDamaged, "ends too early, in line"},
		{"typing error", strings.Replace(whole, "[", "(", 1), project.ErrDamaged, "line "},
		{"something behind", whole + "{}", project.ErrDamaged, "line "},
		{"unknown field", chartText(`"takes":[]`), project.ErrDamaged, `unknown field "takes"`},
		{"unknown field of a note", chartText(bars + `"melody":[{"start":0,"dots":1}]`), project.ErrDamaged, `melody, entry 1: unknown field "dots"`},
		{"text for a number", chartText(`"tempo":"fast"`), project.ErrDamaged, `"tempo" cannot be a string`},
		{"list for an object", chartText(`"bars":{}`), project.ErrDamaged, "bars is not a list"},
		{"no bars", chartText(onePassage), project.ErrDamaged, "at least one bar"},
		{"bars null", chartText(`"bars":null,` + onePassage), project.ErrDamaged, "at least one bar"},
		{"no meter", chartText(`"bars":[{}]`), project.ErrDamaged, "bars, entry 1: the first bar has no meter"},
		{"bad meter", chartText(`"bars":[{"meter":"4/5"}]`), project.ErrDamaged, `bars, entry 1: meter "4/5"`},
		{"bad bar key", chartText(`"bars":[{"meter":"4/4","key":"H"}]`), project.ErrDamaged, `bars, entry 1: key "H"`},
		{"bad jump", chartText(`"bars":[{"meter":"4/4","jump":"up"}]`), project.ErrDamaged, `jump "up"`},
		{"bad chord", chartText(bars + `"changes":[{"start":0,"chord":"H7#q"}]`), project.ErrDamaged, "changes, entry 1: "},
		{"bad pitch", chartText(bars + `"melody":[{"start":0,"duration":1,"pitch":"C4"},{"start":9,"duration":1,"pitch":"X"}]`), project.ErrDamaged, `melody, entry 2: pitch "X"`},
		{"bad pin", chartText(bars + `"pins":[{"start":0,"voicing":"close","voices":["?"]}]`), project.ErrDamaged, `pins, entry 1: pitch "?"`},
		{"bad pin voicing", chartText(bars + `"pins":[{"start":0,"voicing":"wide"}]`), project.ErrDamaged, `pins, entry 1: voicing "wide"`},
		{"bad voicing", chartText(bars + strings.Replace(onePassage, "close", "wide", 1)), project.ErrDamaged, `passages, entry 1: voicing "wide"`},
		{"bad plan", chartText(bars + strings.Replace(onePassage, "shout", "cry", 1)), project.ErrDamaged, `plan "cry"`},
		{"bad bass", chartText(bars + strings.Replace(onePassage, "roots", "cry", 1)), project.ErrDamaged, `bass "cry"`},
		{"bad rotary", chartText(bars + strings.Replace(onePassage, "slow", "cry", 1)), project.ErrDamaged, `rotary "cry"`},
		{"drawbars missing", chartText(bars + strings.Replace(onePassage, "[0,0]", "[0]", 1)), project.ErrDamaged, "pedal drawbars: 1 settings instead of 2"},
		{"drawbar too far", chartText(bars + strings.Replace(onePassage, "[0,0]", "[0,300]", 1)), project.ErrDamaged, "pedal drawbars: 300 is outside"},
		{"too many bars", chartText(`"bars":[{"meter":"4/4"}` + strings.Repeat(",{}", 10_000) + `]`), project.ErrDamaged, "bars has more than 10000 entries"},
		{"unsound", chartText(bars + onePassage + `,"melody":[{"start":0,"duration":99999,"pitch":"C4"}]`), project.ErrDamaged, "1.1: note C4"},
		{"deep", chartText(`"bars":` + strings.Repeat("[", 100_000)), project.ErrDamaged, "line 1"},
		{"deep and closed", `{"a":` + strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000) + "}", project.ErrForeign, "not an Organbook chart"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, err := project.Read(strings.NewReader(tt.in))
			if c != nil || !errors.Is(err, tt.is) || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v\n want %v with %q", err, tt.is, tt.want)
			}
			if err != nil && (strings.Contains(err.Error(), "\n") || strings.Contains(err.Error(), "json")) {
				t.Errorf("not a sentence for a user: %v", err)
			}
		})
	}
}

// endless repeats one byte for ever and counts what is taken.
type endless struct {
	b     byte
	taken int64
}

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = e.b
	}
	e.taken += int64(len(p))
	return len(p), nil
}

func TestReadIsBounded(t *testing.T) {
	zeros := &endless{}
	if _, err := project.Read(zeros); !errors.Is(err, project.ErrForeign) || zeros.taken > 4096 {
		t.Errorf("zeros: %v after %d bytes", err, zeros.taken)
	}
	blanks := &endless{b: ' '}
	if _, err := project.Read(io.MultiReader(strings.NewReader("{"), blanks)); !errors.Is(err, project.ErrTooLarge) || blanks.taken > project.MaxFileSize+4096 {
		t.Errorf("blanks: %v after %d bytes", err, blanks.taken)
	}
}

func TestReadPassesErrorsOn(t *testing.T) {
	broken := errors.New("the cable came loose")
	for _, r := range []io.Reader{failingReader{broken}, io.MultiReader(strings.NewReader(`{"format":`+strings.Repeat(" ", 600)), failingReader{broken})} {
		if _, err := project.Read(r); !errors.Is(err, broken) {
			t.Errorf("error %v, want the reader's", err)
		}
	}
}

type failingReader struct{ err error }

func (f failingReader) Read([]byte) (int, error) { return 0, f.err }

func TestWriteRefusesUnsoundCharts(t *testing.T) {
	c := project.New()
	c.Tempo = 0
	var b bytes.Buffer
	if err := project.Write(&b, c); err == nil || b.Len() > 0 {
		t.Errorf("an unsound chart was written: %v, %d bytes", err, b.Len())
	}
}

// Whatever the input, Read ends with a sound chart or one of its errors, and
// what it read is written and read back the same.
func FuzzRead(f *testing.F) {
	f.Add([]byte(text(f, tune())))
	f.Add([]byte(text(f, project.New())))
	f.Add([]byte(chartText(`"bars":[{"meter":"3/4","ending":[1],"endingStart":true}],` + onePassage)))
	f.Add([]byte(`{"format":"organbook-chart","version":2}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := project.Read(bytes.NewReader(data))
		if err != nil {
			for _, known := range []error{project.ErrDamaged, project.ErrForeign, project.ErrNewer, project.ErrTooLarge} {
				if errors.Is(err, known) {
					return
				}
			}
			t.Fatalf("an error without a reason: %v", err)
		}
		reload(t, c)
	})
}
