package photo

import (
	"errors"
	"image/png"
	"os"
	"testing"
	"time"

	"traygauge/vision/heif"
)

// heicFile returns a small HEIC file, or skips the test where no library decodes it.
func heicFile(t testing.TB, name string) []byte {
	t.Helper()
	if err := heif.Available(); err != nil {
		t.Skipf("%v", err)
	}
	raw, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// field.png is what libheif's own converter makes of field.heic.
func TestHEICDecodesToWhatLibheifsConverterGives(t *testing.T) {
	p, err := Decode(heicFile(t, "field.heic"))
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	f, err := os.Open("testdata/field.png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	want, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if p.Width != 96 || p.Height != 64 {
		t.Fatalf("%d × %d", p.Width, p.Height)
	}
	// Another version of the library may round otherwise; a mix-up of channels or of their range is off by dozens.
	for y := range p.Height {
		for x := range p.Width {
			r, g, b, _ := want.At(x, y).RGBA()
			i := p.At(x, y)
			for k, w := range []uint32{b >> 8, g >> 8, r >> 8} {
				if d := int(p.BGR[i+k]) - int(w); d < -3 || d > 3 {
					t.Fatalf("pixel (%d, %d), channel %d: %d, want %d", x, y, k, p.BGR[i+k], w)
				}
			}
		}
	}
}

// The file is turned by its irot box; the EXIF orientation beside it says the same and must not turn it once more.
func TestHEICIsTurnedOnceAndKeepsItsTime(t *testing.T) {
	p, err := Decode(heicFile(t, "quarters-turned.heic"))
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	got := corner(p, false, false) + corner(p, true, false) + corner(p, false, true) + corner(p, true, true)
	if p.Width != 32 || p.Height != 64 || got != "BRWG" {
		t.Errorf("%d × %d, corners %s", p.Width, p.Height, got)
	}
	taken, ok := p.Meta.Time(time.UTC)
	if want := time.Date(2026, 3, 12, 8, 30, 0, 0, time.UTC); !ok || !taken.Equal(want) || p.Meta.Focal35 != 26 {
		t.Errorf("taken %v, %v; focal length %v", taken, ok, p.Meta.Focal35)
	}
}

func TestAHEICCutAnywhereIsRefused(t *testing.T) {
	raw := heicFile(t, "field.heic")
	for n := 0; n < len(raw); n += 13 {
		p, err := Decode(raw[:n])
		if err == nil {
			p.Close()
			t.Errorf("cut after %d of %d bytes: taken", n, len(raw))
			continue
		}
		var r *Refusal
		if !errors.As(err, &r) || r.Remedy == "" {
			t.Errorf("cut after %d bytes: %v", n, err)
		}
	}
}
