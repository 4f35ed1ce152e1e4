package export

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestAPictureWithoutATitleGoesByItsFile writes a chart with and without a title
// under two names: the name is on the picture only where there is no title.
func TestAPictureWithoutATitleGoesByItsFile(t *testing.T) {
	for _, tc := range []struct {
		title string
		same  bool
	}{{"Ferry", true}, {"", false}} {
		j := demoJob(t)
		c := *j.Chart
		c.Title = tc.title
		r := *j.Realisation
		r.Chart = &c
		j.Chart, j.Realisation = &c, &r
		var pictures [2][]byte
		for i, name := range []string{"morning.png", "evening.png"} {
			path := filepath.Join(t.TempDir(), name)
			if err := j.Write(path); err != nil {
				t.Fatal(err)
			}
			var err error
			if pictures[i], err = os.ReadFile(path); err != nil {
				t.Fatal(err)
			}
		}
		if bytes.Equal(pictures[0], pictures[1]) != tc.same {
			t.Errorf("with the title %q, the same picture under two names: %v", tc.title, !tc.same)
		}
	}
}
