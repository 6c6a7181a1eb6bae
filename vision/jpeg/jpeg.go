// Package jpeg decodes and encodes JPEG files with libjpeg-turbo, which lays pixels out as they are used and reports damage that it goes over.
//
// In: a file's bytes, or pictures. Out: pixels as blue, green and red, and what was found damaged; or a file's bytes.
// It must not know what makes a photo unusable.
package jpeg

/*
#cgo pkg-config: libjpeg
#cgo CFLAGS: -O2
#include <stdlib.h>
#include "jpeg.h"
*/
import "C"

import (
	"errors"
	"fmt"
	"image"
	"runtime"
	"unsafe"
)

// DecodeBGR decodes a file of width × height pixels into bgr, three bytes each, row by row, unturned. warning is libjpeg's first word about damage that
// it went over, "" for none.
func DecodeBGR(file []byte, width, height int, bgr []byte) (warning string, err error) {
	if len(file) == 0 || width < 1 || height < 1 || len(bgr) != 3*width*height {
		return "", fmt.Errorf("jpeg: %d bytes for %d × %d pixels of a file of %d bytes", len(bgr), width, height, len(file))
	}
	var words [C.TG_JPEG_ROOM]C.char
	msg := C.tg_jpeg_decode((*C.uchar)(&file[0]), C.size_t(len(file)), C.int(width), C.int(height), (*C.uchar)(&bgr[0]), &words[0])
	if err := takeMessage(msg); err != nil {
		return "", err
	}
	return C.GoString(&words[0]), nil
}

// Storage is memory for pixels outside Go's heap, whose limit would otherwise grow by as much again. It is freed when nothing refers to it any more; Bytes must not be
// used beyond that.
type Storage struct{ Bytes []byte }

// NewStorage returns n bytes, whatever is in them.
func NewStorage(n int) *Storage {
	memory := C.malloc(C.size_t(n)) // never nil: cgo ends the program first
	s := &Storage{unsafe.Slice((*byte)(memory), n)}
	runtime.AddCleanup(s, func(memory unsafe.Pointer) { C.free(memory) }, memory)
	return s
}

// Encode returns pictures of one width, one below the other, as a file of the given quality, 1 to 100.
func Encode(quality int, pictures ...*image.RGBA) ([]byte, error) {
	var pinned runtime.Pinner
	defer pinned.Unpin()
	width := 0
	var rows []C.tg_picture
	for i, p := range pictures {
		size := p.Rect.Size()
		if size.X < 1 || size.Y < 1 || p.Stride != 4*size.X || i > 0 && size.X != width {
			return nil, errors.New("a picture has no pixels, is a part of another or is of another width")
		}
		width = size.X
		pinned.Pin(&p.Pix[0])
		rows = append(rows, C.tg_picture{rgba: (*C.uchar)(&p.Pix[0]), height: C.int(size.Y)})
	}
	if len(rows) == 0 {
		return nil, errors.New("there is no picture to encode")
	}
	var file *C.uchar
	var bytes C.size_t
	err := takeMessage(C.tg_jpeg_encode(&rows[0], C.int(len(rows)), C.int(width), C.int(quality), &file, &bytes))
	defer C.free(unsafe.Pointer(file))
	if err != nil {
		return nil, err
	}
	return C.GoBytes(unsafe.Pointer(file), C.int(bytes)), nil
}

// takeMessage turns what a C function returned into a Go error and frees it.
func takeMessage(msg *C.char) error {
	if msg == nil {
		return nil
	}
	defer C.free(unsafe.Pointer(msg))
	return errors.New(C.GoString(msg))
}
