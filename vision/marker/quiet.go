package marker

/*
#include "marker.h"
*/
import "C"

import "sync"

// Quiet keeps OpenCV and the picture libraries under it from writing to the terminal about files that are refused by name
// anyway. The program's own standard error is not touched.
var Quiet = sync.OnceFunc(func() { C.tg_quiet() })
