package rescue

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"organbook/internal/project"
)

// desk opens a place and, with a title, leaves unsaved work there.
func desk(t *testing.T, dir, title string) Desk {
	t.Helper()
	d, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if title != "" {
		c, err := project.SetTitle{Title: title}.Apply(project.New())
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Journal().Write(c, "/music/"+title+".organbook"); err != nil {
			t.Fatal(err)
		}
	}
	return d
}

func titles(found []Found) (out []string) {
	for _, f := range found {
		out = append(out, f.Chart.Title)
	}
	return out
}

func TestALivingWindowKeepsItsJournal(t *testing.T) {
	dir := t.TempDir()
	first := desk(t, dir, "Night Ferry")
	second := desk(t, dir, "")
	if first.own == second.own {
		t.Fatal("two windows share a journal")
	}
	if left := second.Left(); len(left) != 0 {
		t.Fatalf("the work of a window that lives is offered: %v", titles(left))
	}
	first.lock.Release() // what the system does when a process dies
	left := second.Left()
	if len(left) != 1 || left[0].Chart.Title != "Night Ferry" || left[0].Original != "/music/Night Ferry.organbook" {
		t.Fatalf("found %v", left)
	}
	third := desk(t, dir, "")
	if again := third.Left(); len(again) != 0 {
		t.Error("two windows offer the same work")
	}
	left[0].Keep()
	again := third.Left()
	if len(again) != 1 {
		t.Fatal("work that was kept is not offered again")
	}
	if err := again[0].LetGo(); err != nil {
		t.Fatal(err)
	}
	second.Close()
	third.Close()
	if rest, _ := os.ReadDir(dir); len(rest) != 0 {
		t.Errorf("left behind: %v", rest)
	}
}

func TestSeveralAreFoundLatestFirst(t *testing.T) {
	dir := t.TempDir()
	for i, title := range []string{"One", "Two", "Three"} {
		d := desk(t, dir, title)
		d.lock.Release()
		when := time.Now().Add(time.Duration(i-5) * time.Hour)
		if err := os.Chtimes(d.own, when, when); err != nil {
			t.Fatal(err)
		}
	}
	// A journal of a time before there were locks, and one that is damaged.
	old := filepath.Join(dir, "unsaved.journal")
	if err := os.WriteFile(old, []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	left := desk(t, dir, "").Left()
	if len(left) != 4 || left[0].Err == nil {
		t.Fatalf("found %v", left)
	}
	if got := titles(left[1:]); got[0] != "Three" || got[1] != "Two" || got[2] != "One" {
		t.Errorf("order %v", got)
	}
}

// TestAKilledProcessLeavesItsWork runs a second process that is killed.
func TestAKilledProcessLeavesItsWork(t *testing.T) {
	if dir := os.Getenv("RESCUE_TEST_DIR"); dir != "" {
		desk(t, dir, "Killed")
		os.Stdout.WriteString("ready\n")
		time.Sleep(time.Minute)
		return
	}
	dir := t.TempDir()
	other := exec.Command(os.Args[0], "-test.run=TestAKilledProcessLeavesItsWork$")
	other.Env = append(os.Environ(), "RESCUE_TEST_DIR="+dir)
	out, err := other.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := other.Start(); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "ready\n" {
		t.Fatalf("the other process said %q: %v", line, err)
	}
	mine := desk(t, dir, "")
	if left := mine.Left(); len(left) != 0 {
		t.Error("the work of another process that lives is offered")
	}
	other.Process.Kill()
	other.Wait()
	if left := mine.Left(); len(left) != 1 || left[0].Chart.Title != "Killed" {
		t.Errorf("after the kill: %v", left)
	}
}
