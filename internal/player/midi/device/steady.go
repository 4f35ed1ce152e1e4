package device

import (
	"fmt"
	"regexp"
	"strings"
)

// numbered are the client and port that a system appends.
var numbered = regexp.MustCompile(` \d+:\d+$`)

// port is a port as a handle numbers it.
type port struct {
	number int
	raw    string // as the system names it at the moment
	name   string // as it is always named
	made   uint64 // differs when the device was plugged in anew, where the system tells; see made
}

// steady turns the names of a system into names that stay the same when a port
// is plugged in again, each given once. Some systems append numbers of the
// moment and write a device's name before the port's that begins with it.
func steady(raw []port) []port {
	seen := map[string]int{}
	out := make([]port, len(raw))
	for i, p := range raw {
		name := plain(p.raw)
		out[i] = port{p.number, p.raw, name, p.made}
		seen[name]++
		if n := seen[name]; n > 1 {
			out[i].name = fmt.Sprintf("%s (%d)", name, n)
		}
	}
	return out
}

func plain(name string) string {
	name = numbered.ReplaceAllString(name, "")
	if device, port, ok := strings.Cut(name, ":"); ok && strings.HasPrefix(port, device) {
		name = port
	}
	if name = strings.TrimSpace(name); name == "" {
		return "unnamed port"
	}
	return name
}
