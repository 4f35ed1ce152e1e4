package main

import (
	"bufio"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"
)

// given is one line of the program's trace of reads: what the device was given.
type given struct {
	at     time.Time
	frame  int64
	frames int
	sample float32
	took   time.Duration
}

func readGiven(t testing.TB, path string) (list []given) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		var g given
		var at, took int64
		if _, err := fmt.Sscan(lines.Text(), &at, &g.frame, &g.frames, &g.sample, &took); err != nil {
			break // the last line may be cut
		}
		g.at, g.took = time.Unix(0, at), time.Duration(took)
		list = append(list, g)
	}
	return list
}

// gap is where a recording departs from what was given.
type gap struct {
	// at is when the sound around it was given, second where it is in the
	// recording.
	at     time.Time
	second float64
	// inserted is how many frames the recording holds too many, below zero how
	// many are missing; 0 if as many are wrong as were given.
	inserted int
	// zeros is the longest run of silence there.
	zeros int
	// waited is the longest that the device did not ask around it.
	waited time.Duration
}

// farthest is the longest gap that is looked for, in frames.
const farthest = 2 * 48000

// alignment is how many reads must agree to place a recording.
const alignment = 12

// findGaps lays the left channel of a recording against what the device was
// given. The second result is how many frames agree with it, 0 if the
// recording cannot be placed at all.
func findGaps(recorded []float32, reads []given) (gaps []gap, agreed int) {
	reads = slices.DeleteFunc(slices.Clone(reads), func(g given) bool { return g.sample == 0 })
	offset, first, ok := place(recorded, reads)
	if !ok {
		return nil, 0
	}
	for i := first; i < len(reads); {
		at := reads[i].frame + offset
		if at < 0 || at >= int64(len(recorded)) {
			break
		}
		if recorded[at] == reads[i].sample {
			agreed += reads[i].frames
			i++
			continue
		}
		next, moved, found := refind(recorded, reads, i, offset)
		if !found {
			break
		}
		g := gap{at: reads[i].at, second: float64(at) / 48000, inserted: int(moved)}
		from, to := reads[max(0, i-1)].frame+offset, reads[next].frame+offset+moved
		g.zeros = longestSilence(recorded, from, to)
		g.waited = longestPause(reads, i)
		gaps = append(gaps, g)
		offset += moved
		i = next
	}
	return gaps, agreed
}

// place finds the first read that can be found in the recording, and how far
// behind the stream's frames the recording's are.
func place(recorded []float32, reads []given) (offset int64, first int, ok bool) {
	where := map[float32][]int64{}
	for i, v := range recorded[:min(len(recorded), 30*48000)] {
		if v != 0 {
			where[v] = append(where[v], int64(i))
		}
	}
	for i := range reads {
		for _, at := range where[reads[i].sample] {
			if offset := at - reads[i].frame; agrees(recorded, reads, i, offset) {
				return offset, i, true
			}
		}
	}
	return 0, 0, false
}

// agrees reports whether the reads from one on are in the recording.
func agrees(recorded []float32, reads []given, from int, offset int64) bool {
	if from+alignment > len(reads) {
		return false
	}
	for _, r := range reads[from : from+alignment] {
		at := r.frame + offset
		if at < 0 || at >= int64(len(recorded)) || recorded[at] != r.sample {
			return false
		}
	}
	return true
}

// refind looks for the reads after one that is not where it should be, and
// returns from which on they are found, and how much later.
func refind(recorded []float32, reads []given, lost int, offset int64) (next int, moved int64, found bool) {
	for next = lost; next < min(lost+400, len(reads)); next++ {
		for d := int64(0); d < farthest; d++ {
			if agrees(recorded, reads, next, offset+d) {
				return next, d, true
			}
			if agrees(recorded, reads, next, offset-d) {
				return next, -d, true
			}
		}
	}
	return 0, 0, false
}

func longestSilence(recorded []float32, from, to int64) (longest int) {
	run := 0
	for at := max(0, from); at < min(to, int64(len(recorded))); at++ {
		run++
		if recorded[at] != 0 {
			run = 0
		}
		longest = max(longest, run)
	}
	return longest
}

// around is how far from a gap its causes are looked for: what is given is
// heard some 40 ms later, and more while things go wrong.
const around = 250 * time.Millisecond

// longestPause returns the longest time between reads near one.
func longestPause(reads []given, near int) (longest time.Duration) {
	at := reads[near].at
	for i := near; i > 0 && at.Sub(reads[i].at) < around; i-- {
		longest = max(longest, reads[i].at.Sub(reads[i-1].at))
	}
	for i := near + 1; i < len(reads) && reads[i].at.Sub(at) < around; i++ {
		longest = max(longest, reads[i].at.Sub(reads[i-1].at))
	}
	return longest
}

// findSteps looks for gaps in the recording of a count that goes up by one
// each frame from 1 to countTop, and then begins anew.
func findSteps(recorded []int16, began time.Time) (gaps []gap) {
	last, zeros := int16(0), 0
	for i, v := range recorded {
		if v == 0 {
			zeros++
			continue
		}
		want := last%countTop + 1
		if last != 0 && (v != want || zeros > 0) {
			second := float64(i) / 48000
			// More than half the count ahead is behind.
			jump := (int(v) - int(want) + countTop) % countTop
			if jump > countTop/2 {
				jump -= countTop
			}
			gaps = append(gaps, gap{at: began.Add(time.Duration(second * 1e9)), second: second, inserted: zeros - jump, zeros: zeros})
		}
		last, zeros = v, 0
	}
	return gaps
}

const countTop = 32767

func TestGapsAreFound(t *testing.T) {
	const frames, block = 48000, 128
	sound := make([]float32, frames)
	for i := range sound {
		sound[i] = float32(i+1) / frames
	}
	var reads []given
	began := time.Now()
	for at := 0; at < frames; at += block {
		reads = append(reads, given{at: began.Add(time.Duration(at) * time.Second / 48000), frame: int64(at), frames: block, sample: sound[at]})
	}
	before, quiet := slices.Clone(sound[:20000]), make([]float32, 1000)
	for _, c := range []struct {
		what            string
		recorded        []float32
		inserted, zeros int
	}{
		{"nothing", sound, 0, 0},
		{"later", slices.Concat(quiet, sound), 0, 0},
		{"silence inserted", slices.Concat(before, quiet, sound[20000:]), 1000, 1000},
		{"sound lost", slices.Concat(before, sound[21000:]), -1000, 0},
		{"sound silenced", slices.Concat(before, quiet, sound[21000:]), 0, 1000},
	} {
		gaps, agreed := findGaps(c.recorded, reads)
		if agreed < frames-2000 {
			t.Errorf("%s: %d frames agree", c.what, agreed)
		}
		if c.inserted == 0 && c.zeros == 0 {
			if len(gaps) != 0 {
				t.Errorf("%s: %+v", c.what, gaps)
			}
			continue
		}
		if len(gaps) != 1 || gaps[0].inserted != c.inserted || gaps[0].zeros != c.zeros {
			t.Errorf("%s: %+v", c.what, gaps)
			continue
		}
		if off := gaps[0].at.Sub(began).Seconds() - 20000.0/48000; off < -0.001 || off > 0.025 {
			t.Errorf("%s: found %.4f s from where it is", c.what, off)
		}
	}
	if _, agreed := findGaps(make([]float32, frames), reads); agreed != 0 {
		t.Error("silence agrees")
	}
}

func TestStepsAreFound(t *testing.T) {
	count := make([]int16, 100000)
	for i := range count {
		count[i] = int16(i%countTop) + 1
	}
	quiet := make([]int16, 500)
	for _, c := range []struct {
		what            string
		recorded        []int16
		inserted, zeros int
	}{
		{"silence inserted", slices.Concat(count[:70000], quiet, count[70000:]), 500, 500},
		{"sound lost", slices.Concat(count[:70000], count[70500:]), -500, 0},
		{"sound silenced", slices.Concat(count[:70000], quiet, count[70500:]), 0, 500},
	} {
		got := findSteps(c.recorded, time.Time{})
		if len(got) != 1 || got[0].inserted != c.inserted || got[0].zeros != c.zeros {
			t.Errorf("%s: %+v", c.what, got)
		}
	}
	if got := findSteps(slices.Concat(quiet, count, quiet), time.Time{}); len(got) != 0 {
		t.Errorf("found in a whole recording: %s", strings.TrimSpace(fmt.Sprint(got)))
	}
}
