package marker

/*
#include "marker.h"
*/
import "C"

import (
	"runtime"
	"sync"
)

// Quiet keeps OpenCV and the picture libraries under it from writing to the terminal about files that are refused by name
// anyway. The program's own standard error is not touched.
var Quiet = sync.OnceFunc(func() { C.tg_quiet() })

// OneThread keeps OpenCV from sharing out a call's work over threads of its own: photos are measured side by side, each on one thread, and
// so each result is the same whatever the machine.
var OneThread = sync.OnceFunc(func() { C.tg_one_thread() })

// Heard calls f, which decodes a picture, and returns the first words that the picture libraries wrote about it: libjpeg goes on over damage
// with no more than a word on standard error. It hears nothing before Quiet, nor on systems without glibc.
func Heard(f func()) string {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	C.tg_hear()
	f()
	return C.GoString(C.tg_heard())
}
