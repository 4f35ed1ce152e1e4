package device

import (
	"slices"
	"sync"
	"testing"
)

func TestHandlesOutliveTheirPorts(t *testing.T) {
	var g graveyard
	a, b := port{raw: "a 20:0", name: "a"}, port{raw: "b 24:0", name: "b"}
	destroyed := map[string]int{}
	g.bury(a, func() { destroyed["a"]++ })
	g.bury(b, func() { destroyed["b"]++ })
	g.visit([]port{a, b})
	g.visit([]port{b})
	if len(destroyed) != 0 {
		t.Fatal("destroyed at the look at which the port goes")
	}
	g.visit([]port{b})
	g.visit([]port{b})
	if destroyed["a"] != 1 || destroyed["b"] != 0 {
		t.Errorf("destroyed %v", destroyed)
	}
	g.visit(nil)
	g.visit([]port{b}) // it comes back in between
	g.visit(nil)
	if destroyed["b"] != 0 {
		t.Error("a port that came back is gone only when it has gone again")
	}
	g.visit(nil)
	if destroyed["b"] != 1 || len(g.list) != 0 {
		t.Errorf("destroyed %v, %d left", destroyed, len(g.list))
	}
}

func TestAPortThatComesBackAtOnceIsOpenedAgain(t *testing.T) {
	var w watch
	before, after := port{raw: "keys 20:0", name: "keys"}, port{raw: "keys 28:0", name: "keys"}
	again := port{raw: "keys 28:0", name: "keys", made: 7}
	w.opened(before)
	for _, step := range []struct {
		list []port
		want []string
	}{{[]port{before}, []string{"keys"}}, {[]port{after}, nil}, {[]port{after}, []string{"keys"}}, {[]port{again}, nil}, {[]port{again}, []string{"keys"}}, {nil, nil}} {
		if got := w.names(step.list); !slices.Equal(got, step.want) {
			t.Errorf("%v gives %q, want %q", step.list, got, step.want)
		} else if len(got) > 0 {
			w.opened(step.list[0])
		}
	}
}

// TestNothingIsHeardAfterClosing closes an ear in the middle of a stream.
func TestNothingIsHeardAfterClosing(t *testing.T) {
	closed := false
	e := ear{receive: func([]byte) {
		if closed {
			t.Error("heard after closing")
		}
	}}
	var all sync.WaitGroup
	all.Go(func() {
		for range 10000 {
			e.hear([]byte{0x90, 60, 100})
		}
	})
	e.close()
	closed = true
	all.Wait()
}
