//go:build linux && !android && cgo

package player

/*
#cgo pkg-config: alsa
#cgo LDFLAGS: -ldl
#include <dlfcn.h>
#include <stdlib.h>
#include <alsa/asoundlib.h>

static void ignore(const char *file, int line, const char *function, int err, const char *format, ...) {}

static void quiet(void) { snd_lib_error_set_handler(ignore); }

static void silent(const char *said) {}

// Both functions take what is to be called with each line in the place of printing it.
static void quietServer(void) {
	void *library = dlopen("libjack.so.0", RTLD_LAZY);
	if (!library) return;
	void (*set)(void (*)(const char *));
	if ((set = (void (*)(void (*)(const char *)))dlsym(library, "jack_set_error_function"))) set(silent);
	if ((set = (void (*)(void (*)(const char *)))dlsym(library, "jack_set_info_function"))) set(silent);
}

static int opens(const char *name) {
	snd_pcm_t *pcm;
	int err = snd_pcm_open(&pcm, name, SND_PCM_STREAM_PLAYBACK, SND_PCM_NONBLOCK);
	if (err < 0) return 0;
	snd_pcm_close(pcm);
	return 1;
}
*/
import "C"

import (
	"sync"
	"unsafe"
)

// The sound library writes a page of complaints to the terminal when there is
// no device. What matters of them comes back as an error and is shown once.
func quietDevices() { C.quiet() }

// quietServers does the same for the library of the low-latency sound server. Where
// the default device does not open, the sound library tries every other one, this
// server's among them, and its library writes five lines to the terminal each time.
// It is loaded for that just then and on no other machine; what else is written to
// the terminal is not touched.
var quietServers = sync.OnceFunc(func() { C.quietServer() })

// severalConnections says that the library can hold more than one connection.
const severalConnections = true

// deviceOpens looks whether the system's default device would open.
func deviceOpens() bool {
	name := C.CString("default")
	defer C.free(unsafe.Pointer(name))
	return C.opens(name) == 1
}
