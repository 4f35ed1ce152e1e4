package shelf

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
	"organbook/internal/reach"
)

func nothing() Content { return Content{} }

func own(name string) project.Registration {
	r := project.Registrations()[0]
	r.Name = name
	return r
}

func nameOf(r project.Registration) string { return r.Name }

// opened opens a shelf that must be whole.
func opened(t *testing.T, path string) *Shelf {
	t.Helper()
	s, err := Open(path, nothing)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// add keeps a registration as the window does: it changes the list it knows.
func add(t *testing.T, s *Shelf, name string) {
	t.Helper()
	before := s.Now().Registrations
	after := append(slices.Clone(before), own(name))
	if err := s.Change(func(c *Content) error {
		c.Registrations = Merged(before, after, c.Registrations, nameOf)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}

func names(s *Shelf) (out []string) {
	for _, r := range s.Now().Registrations {
		out = append(out, r.Name)
	}
	return out
}

func filesIn(t *testing.T, dir string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".lock") {
			out = append(out, e.Name())
		}
	}
	return out
}

func TestWhatIsKeptComesBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "organbook", "own.json")
	s := opened(t, path)
	player := reach.DefaultProfile()
	player.Speed = 0.8
	want := Content{
		Registrations: []project.Registration{own("a"), own("b")},
		Templates:     project.Templates()[:2],
		Keys:          map[string]string{"bar.append": "Alt+g"},
		Player:        &player, MIDI: `{"Ports":[]}`,
	}
	if err := s.Change(func(c *Content) error { *c = want; return nil }); err != nil {
		t.Fatal(err)
	}
	if got := opened(t, path).Now(); !reflect.DeepEqual(got, want) {
		t.Errorf("kept %+v\nread %+v", want, got)
	}
	if err := s.Change(func(c *Content) error { c.Registrations = []project.Registration{own("full section")}; return nil }); err == nil {
		t.Error("what could not be read again is written")
	}
	if !slices.Equal(names(s), []string{"a", "b"}) || !reflect.DeepEqual(opened(t, path).Now(), want) {
		t.Error("a change that failed left something behind")
	}
	if err := s.Change(func(c *Content) error { c.MIDI = ""; return nil }); err != nil {
		t.Fatal(err)
	}
	if before, _, err := readFile(path + "~"); err != nil || !reflect.DeepEqual(before, want) {
		t.Errorf("the version before is %+v, %v", before, err)
	}
}

func TestTheFirstContentIsKeptOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own.json")
	asked := 0
	first := func() Content { asked++; return Content{Registrations: []project.Registration{own("old")}} }
	for range 2 {
		s, err := Open(path, first)
		if err != nil || !slices.Equal(names(s), []string{"old"}) {
			t.Fatalf("%v, %v", names(s), err)
		}
	}
	if asked != 1 {
		t.Errorf("asked %d times", asked)
	}
	if dir := t.TempDir(); true {
		opened(t, filepath.Join(dir, "own.json"))
		if left := filesIn(t, dir); len(left) != 0 {
			t.Errorf("a shelf of nothing writes %v", left)
		}
	}
}

// TestWindowsDoNotDropEachOthersEntries lets several windows, each with what it
// read at its start, keep things at the same time.
func TestWindowsDoNotDropEachOthersEntries(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own.json")
	windows := []*Shelf{opened(t, path), opened(t, path), opened(t, path)}
	var all sync.WaitGroup
	for i, s := range windows {
		all.Add(1)
		go func() {
			defer all.Done()
			for k := range 8 {
				add(t, s, string(rune('a'+i))+string(rune('0'+k)))
			}
		}()
	}
	all.Wait()
	got := names(opened(t, path))
	if slices.Sort(got); len(got) != 24 || len(slices.Compact(got)) != 24 {
		t.Errorf("kept %v", got)
	}
	windows[0].Look()
	if len(windows[0].Now().Registrations) != 24 {
		t.Error("looking does not bring the others' entries")
	}
}

func TestDamagedFileIsPutAside(t *testing.T) {
	for _, tc := range []struct {
		name, text string
		before     bool
		want       []string
	}{
		{"cut off", `{"format":"organbook-own","version":1,"regis`, true, []string{"a"}},
		{"cut off, nothing before", `{"format":"organbook-own","version":1,"regis`, false, nil},
		{"foreign", `{"x":1}`, true, []string{"a"}},
		{"empty", ``, true, []string{"a"}},
		{"unknown field", `{"format":"organbook-own","version":1,"more":1}`, true, []string{"a"}},
		{"too large", strings.Repeat(" ", maxSize) + `{"format":"organbook-own","version":1}`, true, []string{"a"}},
		{"a player nobody is", `{"format":"organbook-own","version":1,"player":{"Speed":40}}`, true, []string{"a"}},
		{"a broken registration", `{"format":"organbook-own","version":1,"registrations":[{"name":"x","swell":70}]}`, true, []string{"a"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "own.json")
			s := opened(t, path)
			add(t, s, "a")
			if tc.before {
				add(t, s, "b") // now the version before has a alone
			}
			if err := os.WriteFile(path, []byte(tc.text), 0o644); err != nil {
				t.Fatal(err)
			}
			again, err := Open(path, nothing)
			if err == nil || !strings.Contains(err.Error(), "own.json.damaged-1") {
				t.Errorf("said %v", err)
			}
			if !slices.Equal(names(again), tc.want) {
				t.Errorf("it goes on with %v", names(again))
			}
			if kept, _ := os.ReadFile(path + ".damaged-1"); string(kept) != tc.text {
				t.Errorf("put aside: %q", kept)
			}
			add(t, again, "c")
			if got := names(opened(t, path)); !slices.Equal(got, append(tc.want, "c")) {
				t.Errorf("afterwards %v", got)
			}
		})
	}
}

func TestFileDamagedWhileInUseIsPutAside(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own.json")
	s := opened(t, path)
	add(t, s, "a")
	add(t, s, "b") // now the version before has a alone
	if err := os.WriteFile(path, []byte("{"), 0o644); err != nil {
		t.Fatal(err)
	}
	s.Look()
	err := s.Change(func(c *Content) error { c.Keys["x"] = "Alt+x"; return nil })
	if err == nil || !strings.Contains(err.Error(), "damaged-1") {
		t.Errorf("said %v", err)
	}
	if again := opened(t, path).Now(); len(again.Registrations) != 2 || again.Keys["x"] == "" {
		t.Errorf("kept %+v", again)
	}
	if before, _, err := readFile(path + "~"); err != nil || len(before.Registrations) != 1 {
		t.Errorf("the version before is %+v, %v", before, err)
	}
}

// TestFileOfANewerProgramWhileInUseStays: what is changed then holds until the
// window closes.
func TestFileOfANewerProgramWhileInUseStays(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own.json")
	s := opened(t, path)
	add(t, s, "a")
	const text = `{"format":"organbook-own","version":2}`
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if s.Change(func(c *Content) error { c.Keys["x"] += "Alt+x"; return nil }) == nil {
			t.Error("nobody hears that nothing is kept")
		}
	}
	if now := s.Now(); len(now.Registrations) != 1 || now.Keys["x"] != "Alt+xAlt+x" {
		t.Errorf("the window itself has %+v", now)
	}
	if got, _ := os.ReadFile(path); string(got) != text {
		t.Errorf("the newer file became %q", got)
	}
}

// TestNewerAndUnreadableFilesStay: nothing is written, and every change says so.
func TestNewerAndUnreadableFilesStay(t *testing.T) {
	dir := t.TempDir()
	newer := filepath.Join(dir, "own.json")
	const text = `{"format":"organbook-own","version":2,"much":"more"}`
	if err := os.WriteFile(newer, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	folder := filepath.Join(dir, "folder.json")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{newer, folder} {
		s, err := Open(path, nothing)
		if err == nil || !strings.HasPrefix(err.Error(), path) {
			t.Errorf("%s: said %v", path, err)
		}
		if s.Change(func(c *Content) error { c.Registrations = []project.Registration{own("a")}; return nil }) == nil {
			t.Errorf("%s: nobody hears that nothing is kept", path)
		}
		if !slices.Equal(names(s), []string{"a"}) {
			t.Errorf("%s: the window itself has %v", path, names(s))
		}
	}
	if got, _ := os.ReadFile(newer); string(got) != text {
		t.Errorf("the newer file became %q", got)
	}
	if left := filesIn(t, dir); !slices.Equal(left, []string{"folder.json", "own.json"}) {
		t.Errorf("left behind: %v", left)
	}
}

func TestMerged(t *testing.T) {
	type entry struct {
		name  string
		value int
	}
	a1, a2, a3, b1, b2, c1, d1 := entry{"a", 1}, entry{"a", 2}, entry{"a", 3}, entry{"b", 1}, entry{"b", 2}, entry{"c", 1}, entry{"d", 1}
	type list = []entry
	for _, tc := range []struct {
		name                     string
		before, after, now, want list
	}{
		{"add", list{a1}, list{a1, b1}, list{a1}, list{a1, b1}},
		{"add where the one before is gone", list{a1}, list{a1, b1}, list{c1, d1}, list{c1, d1, b1}},
		{"add beside another's", list{a1}, list{a1, b1}, list{a1, c1}, list{a1, b1, c1}},
		{"replace keeps the place", list{a1, b1}, list{a2, b1}, list{a1, b1, c1}, list{a2, b1, c1}},
		{"the last to replace wins", list{a1}, list{a2}, list{a3}, list{a2}},
		{"take away", list{a1, b1}, list{b1}, list{a1, b1, c1}, list{b1, c1}},
		{"what another changed stays", list{a1, b1}, list{b1}, list{a2, b1}, list{a2, b1}},
		{"what another took away stays away", list{a1, b1}, list{a1, b1, c1}, list{b1}, list{b1, c1}},
		{"what another took away and is replaced comes back", list{a1, b1}, list{a1, b2}, list{a1}, list{a1, b2}},
		{"rename keeps the place", list{a1, b1}, list{d1, b1}, list{a1, b1, c1}, list{d1, b1, c1}},
	} {
		if got := Merged(tc.before, tc.after, tc.now, func(e entry) string { return e.name }); !slices.Equal(got, tc.want) {
			t.Errorf("%s: %v, want %v", tc.name, got, tc.want)
		}
	}
}

// TestMergedWithNobodyElseIsTheChange: where no other window did anything, the
// list is as the change left it.
func TestMergedWithNobodyElseIsTheChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := func(label string) (out []project.Registration) {
			for i, p := range rapid.SliceOfN(projecttest.Passages(), 0, 4).Draw(t, label) {
				r := p.Registration
				r.Name = string(rune('a' + i))
				out = append(out, r)
			}
			return out
		}
		before := some("before")
		after := append(slices.Clone(before), own("z"))
		if len(before) > 0 {
			i := rapid.IntRange(0, len(before)-1).Draw(t, "place")
			after[i] = own(rapid.SampledFrom([]string{before[i].Name, "new"}).Draw(t, "name"))
			if k := rapid.IntRange(0, len(after)-1).Draw(t, "drop"); rapid.Bool().Draw(t, "dropping") {
				after = slices.Delete(after, k, k+1)
			}
		}
		if got := Merged(before, after, before, nameOf); !slices.Equal(got, after) {
			t.Fatalf("before %v\nafter %v\ngot %v", before, after, got)
		}
	})
}

// TestLaterHoldsAtOnceAndIsWrittenBeside makes changes that wait, from several
// goroutines: Now shows all of them at every moment, and the file holds them in the
// end. One that cannot be written is taken back.
func TestLaterHoldsAtOnceAndIsWrittenBeside(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own.json")
	s, err := Open(path, func() Content { return Content{} })
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for i := range 8 {
		id := fmt.Sprintf("command.%d", i)
		write, err := s.Later(func(c *Content) error { c.Keys[id] = "x"; return nil })
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Now().Keys) != i+1 {
			t.Errorf("after %d changes %v are shown", i+1, s.Now().Keys)
		}
		all.Go(func() {
			if err := write(); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	again, err := Open(path, func() Content { return Content{} })
	if err != nil || len(again.Now().Keys) != 8 || len(s.Now().Keys) != 8 {
		t.Errorf("the file holds %v, shown are %v: %v", again.Now().Keys, s.Now().Keys, err)
	}
	if _, err := s.Later(func(*Content) error { return errors.New("no") }); err == nil || len(s.Now().Keys) != 8 {
		t.Error("a change that fails is kept")
	}
	write, err := s.Later(func(c *Content) error { c.Keys["one more"] = "y"; return nil })
	if err != nil || len(s.Now().Keys) != 9 {
		t.Fatal("the change does not hold at once:", err)
	}
	if err := os.RemoveAll(filepath.Dir(path)); err != nil {
		t.Fatal(err)
	}
	if write() == nil || len(s.Now().Keys) != 8 {
		t.Errorf("not written, yet %v are shown", s.Now().Keys)
	}
}
