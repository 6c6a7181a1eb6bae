package trialdir

import (
	"path/filepath"
	"strings"
)

// longestOverlayName leaves room for a digest and an ending below the 255 bytes that file systems take.
const longestOverlayName = 200

// OverlayPath returns where the overlay of a photo of the trial in dir lies. photo is its path below photos/. No two photos
// share one: a name that another one could lead to as well gets a digest of the photo's own.
func OverlayPath(dir, photo string) string {
	name := strings.ReplaceAll(photo, "/", "__")
	stem, ext := name, ".jpg"
	jpeg := strings.EqualFold(filepath.Ext(name), ".jpg") || strings.EqualFold(filepath.Ext(name), ".jpeg")
	if jpeg {
		ext = filepath.Ext(name)
		stem = strings.TrimSuffix(name, ext)
	}
	twoWays := strings.Contains(photo, "__") || strings.Contains(photo, "_/") || strings.Contains(photo, "/_") ||
		jpeg == NamedLikePhoto(stem) // tray.png.jpg may be of tray.png, and tray.jpg of tray
	if twoWays || len(name) > longestOverlayName {
		stem = strings.ToValidUTF8(stem[:min(len(stem), longestOverlayName)], "") + "-" + HashOf([]byte(photo))[:12]
	}
	return filepath.Join(dir, OverlaysFolder, stem+ext)
}
