package marker

/*
#include "marker.h"
*/
import "C"

import "sync"

// Quiet keeps OpenCV and the picture libraries under it from writing to the terminal about files that are refused by name
// anyway. The program's own standard error is not touched.
var Quiet = sync.OnceFunc(func() { C.tg_quiet() })

// OneThread keeps OpenCV from sharing out a call's work over threads of its own: photos are measured side by side, each on one thread, and
// so each result is the same whatever the machine.
var OneThread = sync.OnceFunc(func() { C.tg_one_thread() })
