package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// machine is what the system did to some processes while a test ran: how long
// it kept their threads waiting for a processor though they could run.
type machine struct {
	looks []look
	stop  chan struct{}
	done  chan struct{}
}

// look is one look at the machine.
type look struct {
	at time.Time
	// waited is the longest that a thread of each process waited for a
	// processor since the look before, in seconds, by the process's name.
	waited map[string]float64
	// overslept is how late this look itself came.
	overslept float64
	// stolen is how long other machines on the same hardware kept a processor
	// from this one.
	stolen float64
}

const lookEvery = 20 * time.Millisecond

// watchMachine looks at processes, by name, until ended.
func watchMachine(processes map[string]int) *machine {
	m := &machine{stop: make(chan struct{}), done: make(chan struct{})}
	go m.run(processes)
	return m
}

func (m *machine) end() {
	close(m.stop)
	<-m.done
}

func (m *machine) run(processes map[string]int) {
	defer close(m.done)
	before := map[string]float64{} // by thread
	for _, pid := range processes {
		longestWait(pid, before)
	}
	stolen := stolenTime()
	for {
		due := time.Now().Add(lookEvery)
		select {
		case <-m.stop:
			return
		case <-time.After(lookEvery):
		}
		l := look{at: time.Now(), waited: map[string]float64{}}
		l.overslept = l.at.Sub(due).Seconds()
		for name, pid := range processes {
			l.waited[name] = longestWait(pid, before)
		}
		now := stolenTime()
		l.stolen, stolen = now-stolen, now
		m.looks = append(m.looks, l)
	}
}

// longestWait returns the longest that a thread of a process has waited since
// what before holds, and updates that.
func longestWait(pid int, before map[string]float64) (seconds float64) {
	tasks, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", pid))
	for _, name := range tasks {
		raw, err := os.ReadFile(name)
		if err != nil {
			continue // it has ended
		}
		var ran, waited float64
		fmt.Sscan(string(raw), &ran, &waited)
		if last, known := before[name]; known {
			seconds = max(seconds, (waited-last)/1e9)
		}
		before[name] = waited
	}
	return seconds
}

// stolenTime is the sum over the processors, in seconds.
func stolenTime() float64 {
	raw, err := os.ReadFile("/proc/stat")
	if err != nil {
		return 0
	}
	line, _, _ := strings.Cut(string(raw), "\n")
	var ticks [8]float64
	f := strings.Fields(line)
	for i := range ticks {
		if i+1 < len(f) {
			fmt.Sscan(f[i+1], &ticks[i])
		}
	}
	return ticks[7] / 100 // the kernel counts in hundredths
}

// between says what kept the processes waiting in a stretch of time, longest
// first: each with its name and how long in all.
func (m *machine) between(from, to time.Time) []delay {
	all := map[string]float64{}
	for _, l := range m.looks {
		if l.at.Before(from) || l.at.After(to) {
			continue
		}
		for name, w := range l.waited {
			all[name] += w
		}
		all["the test itself"] += l.overslept
		all["the machine for its host"] += l.stolen
	}
	var list []delay
	for name, s := range all {
		list = append(list, delay{name, s})
	}
	slices.SortFunc(list, func(a, b delay) int {
		if a.seconds != b.seconds {
			return int(1e6 * (b.seconds - a.seconds))
		}
		return strings.Compare(a.who, b.who)
	})
	return list
}

// lookedAfter returns when what went on until a moment had been looked at for
// certain: a look may be late itself, and what it reads takes it a while.
func (m *machine) lookedAfter(end time.Time) time.Time {
	for i, l := range m.looks {
		if !l.at.Before(end) {
			return m.looks[min(i+1, len(m.looks)-1)].at
		}
	}
	return end
}

// delay is how long something waited for a processor.
type delay struct {
	who     string
	seconds float64
}

// distribution returns the greatest delay of each process of all looks, and
// where 99.9 % lie under, as a line of text.
func (m *machine) distribution(name string) string {
	var all []float64
	for _, l := range m.looks {
		all = append(all, l.waited[name])
	}
	slices.Sort(all)
	if len(all) == 0 {
		return "not looked at"
	}
	return fmt.Sprintf("99.9 %% of looks under %.1f ms, longest %.1f ms", 1000*all[len(all)*999/1000], 1000*all[len(all)-1])
}

func TestTheMachineIsWatched(t *testing.T) {
	tasks, _ := filepath.Glob("/proc/self/task/*/schedstat")
	if len(tasks) == 0 {
		t.Skip("this system does not tell how long threads wait")
	}
	m := watchMachine(map[string]int{"test": os.Getpid()})
	time.Sleep(10 * lookEvery)
	m.end()
	if len(m.looks) == 0 {
		t.Fatal("no look")
	}
	now := time.Now()
	m.looks = []look{
		{at: now, waited: map[string]float64{"a": 0.5}},
		{at: now.Add(time.Second), waited: map[string]float64{"a": 0.001, "b": 0.02}, overslept: 0.01},
		{at: now.Add(time.Second), waited: map[string]float64{"b": 0.005}},
	}
	got := m.between(now.Add(time.Millisecond), now.Add(2*time.Second))
	if len(got) != 4 || got[0] != (delay{"b", 0.025}) || got[1] != (delay{"the test itself", 0.01}) {
		t.Errorf("%v", got)
	}
}
