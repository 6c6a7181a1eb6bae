package main

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"traygauge/vision"
)

// release is the version that a package was built as; the packager sets it.
var release string

// version says which program this is, so that readings of two different ones are never taken for the same. A build of a
// known state of the source is named by it. Any other is named by a digest of the program file too: "(devel)", "+dirty" and
// a package's "+changed" are what every change in between calls itself.
var version = sync.OnceValue(func() string {
	name := "(devel)"
	if release != "" {
		name = release
	} else if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		name = info.Main.Version
	}
	return named(name, programDigest) + ", OpenCV " + vision.OpenCV()
})

// named adds the program's digest to a version that does not settle which program it is.
func named(version string, digest func() string) string {
	if version != "(devel)" && !strings.Contains(version, "+dirty") && !strings.Contains(version, "+changed") {
		return version
	}
	return version + " " + digest()
}

// programDigest returns the beginning of the SHA-256 of the file that this program was started from.
func programDigest() string {
	// not even the same as itself: better to measure once more than to mix two programs' readings
	unknown := "unknown program, started " + time.Now().UTC().Format(time.RFC3339Nano)
	path, err := os.Executable()
	if err != nil {
		return unknown
	}
	f, err := os.Open(path)
	if err != nil {
		return unknown
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return unknown
	}
	return hex.EncodeToString(sum.Sum(nil)[:6])
}
