package project_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

func TestBuiltInTemplatesApply(t *testing.T) {
	c := project.New()
	seen := map[string]bool{}
	for _, tm := range project.Templates() {
		if seen[tm.Name] {
			t.Errorf("two templates are called %q", tm.Name)
		}
		seen[tm.Name] = true
		d, err := (project.ApplyTemplate{Template: tm}).Apply(c)
		if err != nil {
			t.Errorf("%s: %v", tm.Name, err)
			continue
		}
		if !tm.Fits(d.Passages[0]) || tm.Fits(c.Passages[0]) {
			t.Errorf("%s does not set the passage", tm.Name)
		}
		if d.Passages[0].Name != c.Passages[0].Name {
			t.Errorf("%s renames the passage", tm.Name)
		}
	}
	for _, name := range []string{"intro", "statement", "shout", "bridge", "solo backing", "ending"} {
		if !seen[name] {
			t.Errorf("there is no template %q", name)
		}
	}
}

// TestTemplatesSurviveBeingKept writes what random passages are set to and reads
// it back.
func TestTemplatesSurviveBeingKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var list []project.Template
		for range rapid.IntRange(0, 3).Draw(t, "n") {
			list = append(list, project.TemplateOf(projecttest.Passages().Draw(t, "passage"), projecttest.Texts().Draw(t, "name")))
		}
		data, err := project.EncodeTemplates(list)
		if err != nil {
			t.Fatal(err)
		}
		back, err := project.DecodeTemplates(data)
		if err != nil {
			t.Fatal(err)
		}
		if len(back) != len(list) {
			t.Fatalf("%d templates became %d", len(list), len(back))
		}
		for i := range list {
			if back[i] != list[i] {
				t.Fatalf("%+v became %+v", list[i], back[i])
			}
		}
	})
}

func TestDamagedTemplatesAreRefused(t *testing.T) {
	whole, err := project.EncodeTemplates(project.Templates()[:1])
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct{ from, to string }{
		{`"voicing":"drop2"`, `"voicing":"drop9"`}, {`[{`, `{`}, {`"name"`, `"nome"`}, {`"plan":"two-hand-block"`, `"plan":""`}, {`"swell":0.6`, `"swell":60`},
	} {
		text := strings.Replace(string(whole), tc.from, tc.to, 1)
		if text == string(whole) {
			t.Fatalf("%s is not in %s", tc.from, whole)
		}
		if list, err := project.DecodeTemplates([]byte(text)); err == nil {
			t.Errorf("%s is accepted as %+v", text, list)
		}
	}
}

func TestMakePassage(t *testing.T) {
	c := project.New() // one passage
	n := len(c.Bars)
	starts := func(c *project.Chart) (out []int) {
		for _, p := range c.Passages {
			out = append(out, p.First)
		}
		return out
	}
	c, err := (project.RenamePassage{To: "Whole"}).Apply(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		first, end int
		want       []int
		at         int
		keeps      int
	}{{2, 4, []int{0, 2, 4}, 1, 0}, {0, 4, []int{0, 4}, 0, 1}, {4, n, []int{0, 4}, 1, 0}} {
		d, err := (project.MakePassage{First: tc.first, End: tc.end, NewName: "B"}).Apply(c)
		if err != nil {
			t.Fatal(err)
		}
		got := starts(d)
		if len(got) != len(tc.want) || d.Passages[tc.at].Name != "B" || got[tc.at] != tc.first {
			t.Errorf("bars %d to %d: passages start at %v, named %q", tc.first, tc.end, got, d.Passages[tc.at].Name)
		}
		for i, p := range d.Passages {
			if (p.Name == "Whole") != (i == tc.keeps) {
				t.Errorf("bars %d to %d: passage %d is called %q", tc.first, tc.end, i, p.Name)
			}
		}
	}
	two, err := (project.SplitPassage{Bar: 4}).Apply(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range []project.MakePassage{{First: 3, End: 5}, {First: 0, End: 4}, {First: 2, End: 2}, {First: -1, End: 2}, {First: 2, End: n + 1}} {
		if _, err := e.Apply(two); err == nil {
			t.Errorf("a passage is made of %d to %d", e.First, e.End)
		}
	}
}
