//go:build linux && !android && cgo

package player

/*
#cgo pkg-config: alsa
#include <alsa/asoundlib.h>

static void ignore(const char *file, int line, const char *function, int err, const char *format, ...) {}

static void quiet(void) { snd_lib_error_set_handler(ignore); }
*/
import "C"

// The sound library writes a page of complaints to the terminal when there is
// no device. What matters of them comes back as an error and is shown once.
func quietDevices() { C.quiet() }
