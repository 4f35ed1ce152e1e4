//go:build linux && !android && cgo

package player

/*
#cgo pkg-config: alsa
#include <stdlib.h>
#include <alsa/asoundlib.h>

static void ignore(const char *file, int line, const char *function, int err, const char *format, ...) {}

static void quiet(void) { snd_lib_error_set_handler(ignore); }

static int opens(const char *name) {
	snd_pcm_t *pcm;
	int err = snd_pcm_open(&pcm, name, SND_PCM_STREAM_PLAYBACK, SND_PCM_NONBLOCK);
	if (err < 0) return 0;
	snd_pcm_close(pcm);
	return 1;
}
*/
import "C"

import "unsafe"

// The sound library writes a page of complaints to the terminal when there is
// no device. What matters of them comes back as an error and is shown once.
func quietDevices() { C.quiet() }

// severalConnections says that the library can hold more than one connection.
const severalConnections = true

// deviceOpens looks whether the system's default device would open.
func deviceOpens() bool {
	name := C.CString("default")
	defer C.free(unsafe.Pointer(name))
	return C.opens(name) == 1
}
