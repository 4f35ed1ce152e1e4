package ring

import (
	"runtime"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// TestAsAList compares a ring with a plain list under random calls.
func TestAsAList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.IntRange(1, 9).Draw(t, "size")
		r, list := New[int](size), []int{}
		for i := range rapid.IntRange(1, 60).Draw(t, "steps") {
			if rapid.Bool().Draw(t, "put") {
				if took := r.Put(i); took != (len(list) < size) {
					t.Fatalf("put with %d of %d in it: %v", len(list), size, took)
				} else if took {
					list = append(list, i)
				}
				continue
			}
			got, ok := r.Take()
			if ok != (len(list) > 0) || ok && got != list[0] {
				t.Fatalf("took %d %v, want the first of %v", got, ok, list)
			}
			if ok {
				list = list[1:]
			}
		}
	})
}

// TestManyWriters checks that nothing is lost, made twice or put out of its
// writer's order while several write at once.
func TestManyWriters(t *testing.T) {
	const writers, each = 4, 5000
	r := New[[2]int](64)
	var all sync.WaitGroup
	for w := range writers {
		all.Go(func() {
			for i := range each {
				for !r.Put([2]int{w, i}) {
					runtime.Gosched()
				}
			}
		})
	}
	var next [writers]int
	for range writers * each {
		v, ok := r.Take()
		for ; !ok; v, ok = r.Take() {
			runtime.Gosched()
		}
		if v[1] != next[v[0]] {
			t.Fatalf("writer %d: got %d, want %d", v[0], v[1], next[v[0]])
		}
		next[v[0]]++
	}
	all.Wait()
	if _, ok := r.Take(); ok {
		t.Error("something is left over")
	}
}

func TestNoAllocs(t *testing.T) {
	r := New[[4]int](8)
	if n := testing.AllocsPerRun(100, func() { r.Put([4]int{1}); r.Take() }); n != 0 {
		t.Errorf("%v allocations a value", n)
	}
}
