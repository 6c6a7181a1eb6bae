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

// release is the version of a package; the packager sets it.
var release string

// version identifies this program, so that readings of two different builds are never mixed up. A build of a committed
// state of the source has that version. Any other build also has a digest of the program file, because "(devel)", "+dirty"
// and a package's "+changed" are the same for every change in between.
var version = sync.OnceValue(func() string {
	name := "(devel)"
	if release != "" {
		name = release
	} else if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		name = info.Main.Version
	}
	return named(name, programDigest) + ", OpenCV " + vision.OpenCV()
})

// named adds the program's digest to a version that does not identify the program.
func named(version string, digest func() string) string {
	if version != "(devel)" && !strings.Contains(version, "+dirty") && !strings.Contains(version, "+changed") {
		return version
	}
	return version + " " + digest()
}

// programDigest returns the beginning of the SHA-256 of the file that this program was started from.
func programDigest() string {
	// differs even between runs: it is better to measure again than to mix the readings of two programs
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
