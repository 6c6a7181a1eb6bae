package trialdir

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestOverlaysAreNamedLikeTheirPhotos(t *testing.T) {
	for photo, want := range map[string]string{
		"tray-07.jpg": "tray-07.jpg", "day-14/tray_07.JPEG": "day-14__tray_07.JPEG", "IMG_0412.HEIC": "IMG_0412.HEIC.jpg",
	} {
		if got := filepath.Base(OverlayPath("d", photo)); got != want {
			t.Errorf("%s: %s, want %s", photo, got, want)
		}
	}
}

func TestNoTwoPhotosShareAnOverlay(t *testing.T) {
	long := strings.Repeat("ñ", 125)
	photos := []string{
		"a/b.jpg", "a__b.jpg", "a/_b.jpg", "a_/b.jpg", "a___b.jpg", "a/__b.jpg", "tray.png", "tray.png.jpg", "tray", "tray.jpg", "tray.jpeg",
		long + ".jpg", long + "1.jpg", long + ".png",
	}
	of := map[string]string{}
	for _, photo := range photos {
		name := filepath.Base(OverlayPath("d", photo))
		if other, taken := of[name]; taken {
			t.Errorf("%s and %s share %s", photo, other, name)
		}
		if of[name] = photo; len(name) > 255 {
			t.Errorf("an overlay's name of %d bytes", len(name))
		}
	}
}
