package device

import "sync"

// ear passes messages on until it is closed.
type ear struct {
	mu      sync.Mutex
	closed  bool
	receive func([]byte)
}

func (e *ear) hear(message []byte) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if !e.closed {
		e.receive(message)
	}
}

// close returns when nothing is passed on any more.
func (e *ear) close() {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.closed = true
}

// graveyard holds handles that are closed and not yet destroyed. Each is
// destroyed at the second look at which its port is not there: the first may
// come just as it goes, with a message still on its way.
type graveyard struct{ list []grave }

type grave struct {
	port    port
	gone    bool // at the last look
	destroy func()
}

func (g *graveyard) bury(p port, destroy func()) { g.list = append(g.list, grave{p, false, destroy}) }

// visit looks which ports are there.
func (g *graveyard) visit(there []port) {
	kept := g.list[:0]
	for _, x := range g.list {
		switch gone := !hasRaw(there, x.port.raw); {
		case gone && x.gone:
			x.destroy()
			continue
		default:
			x.gone = gone
		}
		kept = append(kept, x)
	}
	clear(g.list[len(kept):])
	g.list = kept
}

func hasRaw(list []port, raw string) bool {
	for _, p := range list {
		if p.raw == raw {
			return true
		}
	}
	return false
}

// watch notices a port that went and came back between two looks: it has its
// old name, and another number or a file made anew, and what was opened of it is
// dead. It is left out of one list, so that it is closed and opened again.
type watch struct{ as map[string]identity }

// identity is what tells a port from one of the same name that took its place.
type identity struct {
	raw  string
	made uint64
}

func (w *watch) opened(p port) {
	if w.as == nil {
		w.as = map[string]identity{}
	}
	w.as[p.name] = identity{p.raw, p.made}
}

// names returns the names of the ports that are as they were opened.
func (w *watch) names(list []port) []string {
	names := make([]string, 0, len(list))
	for _, p := range list {
		if as, open := w.as[p.name]; open && as != (identity{p.raw, p.made}) {
			delete(w.as, p.name)
			continue
		}
		names = append(names, p.name)
	}
	return names
}
