package main

import (
	"net"
	"os"
	"runtime"
	"strconv"
	"strings"
	"time"
)

// displayFound reports whether a window can be opened. The toolkit ends the
// process with a stack trace when it cannot, so this asks first.
func displayFound() bool {
	switch runtime.GOOS {
	case "windows", "darwin":
		return true
	}
	if w := os.Getenv("WAYLAND_DISPLAY"); w != "" && os.Getenv("DISPLAY") == "" {
		return socketAnswers("unix", waylandSocket(w))
	}
	network, address, ok := xSocket(os.Getenv("DISPLAY"))
	if !ok {
		return false
	}
	return socketAnswers(network, address) || network == "unix" && socketAnswers("unix", "@"+address)
}

// xSocket returns where the X server of a DISPLAY such as ":1", "unix:1.0" or
// "host:10.0" listens.
func xSocket(display string) (network, address string, ok bool) {
	i := strings.LastIndexByte(display, ':')
	if i < 0 {
		return "", "", false
	}
	host := display[:i]
	number, err := strconv.Atoi(strings.SplitN(display[i+1:], ".", 2)[0])
	if err != nil || number < 0 || number > 59535 {
		return "", "", false
	}
	if host == "" || host == "unix" {
		return "unix", "/tmp/.X11-unix/X" + strconv.Itoa(number), true
	}
	return "tcp", net.JoinHostPort(host, strconv.Itoa(6000+number)), true
}

func waylandSocket(name string) string {
	if strings.HasPrefix(name, "/") {
		return name
	}
	return os.Getenv("XDG_RUNTIME_DIR") + "/" + name
}

func socketAnswers(network, address string) bool {
	c, err := net.DialTimeout(network, address, 2*time.Second)
	if err != nil {
		return false
	}
	c.Close()
	return true
}
