// Package marker finds printed square markers with OpenCV's aruco module. It is the only place of ours where
// Go meets C++: no exception passes it, and every argument is checked before it crosses.
package marker

/*
#cgo pkg-config: opencv4
#cgo CXXFLAGS: --std=c++17
#cgo LDFLAGS: -lopencv_aruco
#include <stdlib.h>
#include "marker.h"
*/
import "C"

import (
	"errors"
	"fmt"
	"unsafe"

	"gocv.io/x/gocv"
)

// Quad is a marker as found: its number and its four outer corners in pixels, from the marker's own top-left
// corner clockwise as printed. Pixel centres are whole numbers. Corners are good to about a pixel.
type Quad struct {
	ID      int
	Corners [4][2]float64
}

// ErrTooBusy is what a picture gives that holds so many outlines with four corners that looking through them would take minutes: the
// finder compares each with each. A tray with its card has a few hundred.
var ErrTooBusy = errors.New("marker: the picture holds too many squares")

const (
	mostQuads  = 3000
	roomForFew = 1_500_000 // pixels that hold fewer anyway: they need not be counted
)

// mostMarkers is more than a card's four and a bench full of tags; a picture that claims more is noise.
const mostMarkers = 256

// Find returns the DICT_5X5_250 markers in an 8-bit grey picture, in no set order. Markers whose outline is
// shorter than minPerimeterPx are passed over. No marker is no error; a picture with thousands of squares is ErrTooBusy.
func Find(grey gocv.Mat, minPerimeterPx int) ([]Quad, error) {
	if grey.Ptr() == nil || grey.Empty() || grey.Type() != gocv.MatTypeCV8UC1 {
		return nil, errors.New("marker: the picture is not an 8-bit grey one")
	}
	if minPerimeterPx < 16 {
		minPerimeterPx = 16
	}
	ids := make([]C.int, mostMarkers)
	corners := make([]C.float, 8*mostMarkers)
	var found C.int
	limit := 0
	if grey.Rows()*grey.Cols() > roomForFew {
		limit = mostQuads
	}
	msg := C.tg_find_markers(unsafe.Pointer(grey.Ptr()), C.int(minPerimeterPx), C.int(limit), mostMarkers, &ids[0], &corners[0], &found)
	if err := takeMessage(msg); err != nil {
		return nil, err
	}
	if found < 0 {
		return nil, ErrTooBusy
	}
	quads := make([]Quad, int(found))
	for i := range quads {
		quads[i].ID = int(ids[i])
		for k := range quads[i].Corners {
			quads[i].Corners[k] = [2]float64{float64(corners[8*i+2*k]), float64(corners[8*i+2*k+1])}
		}
	}
	return quads, nil
}

// code returns the 25 inner modules of marker id as OpenCV's dictionary has them, row by row, the first module
// in bit 24, 1 for white. The card's own table is checked against it.
func code(id int) (uint32, error) {
	if id < 0 || id >= 250 {
		return 0, fmt.Errorf("marker: %d is not one of the dictionary’s 0 to 249", id)
	}
	var modules C.uint
	if err := takeMessage(C.tg_marker_code(C.int(id), &modules)); err != nil {
		return 0, err
	}
	return uint32(modules), nil
}

// takeMessage turns what a C function returned into a Go error and frees it.
func takeMessage(msg *C.char) error {
	if msg == nil {
		return nil
	}
	defer C.free(unsafe.Pointer(msg))
	return fmt.Errorf("marker: OpenCV: %s", C.GoString(msg))
}
