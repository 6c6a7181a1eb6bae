// Package heif decodes HEIC photos with the system's libheif, which is opened when the first one comes: the program
// builds, starts and reads other formats without it.
package heif

/*
#cgo LDFLAGS: -ldl
#include <stdlib.h>
#include "heif.h"
*/
import "C"

import (
	"errors"
	"fmt"
	"runtime"
	"sync"
	"unsafe"
)

var load = sync.OnceValue(func() error { return takeMessage(C.tg_heif_load()) })

// Available returns nil where HEIC can be decoded, or why it cannot.
func Available() error { return load() }

// File is an opened HEIC file: its header has been read. Whoever opens it closes it.
type File struct {
	// Width and Height are those of the primary picture, turned as the file's own irot and imir boxes say. An EXIF
	// orientation beside them is to be ignored (ISO/IEC 23008-12, 6.5.10).
	Width, Height int

	// Primaries and Transfer are the codes of ITU-T H.273 for the picture's colours, 0 where the file names none.
	Primaries, Transfer int

	iccSize int
	raw     []byte
	pin     runtime.Pinner
	opened  unsafe.Pointer
}

// Open reads the header of raw, which must not change until Close.
func Open(raw []byte) (*File, error) {
	if err := load(); err != nil {
		return nil, err
	}
	if len(raw) == 0 {
		return nil, errors.New("the file is empty")
	}
	f := &File{raw: raw}
	f.pin.Pin(&raw[0]) // libheif keeps the address
	var about C.tg_heif_about
	if err := takeMessage(C.tg_heif_open(unsafe.Pointer(&raw[0]), C.size_t(len(raw)), &f.opened, &about)); err != nil {
		f.pin.Unpin()
		return nil, err
	}
	f.Width, f.Height = int(about.width), int(about.height)
	f.Primaries, f.Transfer, f.iccSize = int(about.primaries), int(about.transfer), int(about.icc_size)
	return f, nil
}

// mostICC is more than any camera's colour profile has.
const mostICC = 4 << 20

// ICC returns the file's ICC colour profile, or nil where there is none that can be read.
func (f *File) ICC() []byte {
	if f.opened == nil || f.iccSize < 1 || f.iccSize > mostICC {
		return nil
	}
	out := make([]byte, f.iccSize)
	if takeMessage(C.tg_heif_icc(f.opened, unsafe.Pointer(&out[0]))) != nil {
		return nil
	}
	return out
}

// DecodeBGR fills bgr with Width × Height pixels of three bytes: blue, green, red. A picture that libheif finds damaged is an
// error.
func (f *File) DecodeBGR(bgr []byte) error {
	if f.opened == nil {
		return errors.New("the file is closed")
	}
	if f.Width < 1 || f.Height < 1 || len(bgr) != 3*f.Width*f.Height {
		return fmt.Errorf("%d bytes are no room for %d × %d pixels", len(bgr), f.Width, f.Height)
	}
	return takeMessage(C.tg_heif_decode(f.opened, (*C.uint8_t)(unsafe.Pointer(&bgr[0])), C.int(f.Width), C.int(f.Height)))
}

// Close frees what Open took. Closing twice is harmless.
func (f *File) Close() {
	if f.opened == nil {
		return
	}
	C.tg_heif_close(f.opened)
	f.opened = nil
	f.pin.Unpin()
}

// takeMessage turns what a C function returned into a Go error and frees it.
func takeMessage(msg *C.char) error {
	if msg == nil {
		return nil
	}
	defer C.free(unsafe.Pointer(msg))
	return errors.New(C.GoString(msg))
}
