package serve

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// grey is a small JPEG and its SHA-256.
func grey(t *testing.T) (raw []byte, sha string) {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, 64, 64)), nil); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(out.Bytes())
	return out.Bytes(), hex.EncodeToString(sum[:])
}

// Wherever the program is killed while a photo arrives, the photo is stored once, after what is missing was sent.
func TestAPhotoArrivesDespiteACrash(t *testing.T) {
	raw, sha := grey(t)
	size := int64(len(raw))
	for _, have := range []int64{0, 1, size / 3, size - 1, size} {
		b := &inbox{dir: t.TempDir()}
		if err := b.makeFolders(); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(b.partFile(sha), raw[:have], 0o644); err != nil { // what a killed server left
			t.Fatal(err)
		}
		p, err := b.has(sha, size)
		if err != nil || p.Have != have || p.Photo != "" {
			t.Fatalf("%d bytes are there: %+v, %v", have, p, err)
		}
		if p, err = b.add(sha, size, have, raw[have:], "day-14/tray-07-roots", time.Time{}); err != nil || p.Photo != "day-14/tray-07-roots-"+sha[:12]+".jpg" {
			t.Fatalf("from byte %d: %+v, %v", have, p, err)
		}
		if got, _ := os.ReadFile(filepath.Join(b.dir, "photos", p.Photo)); !bytes.Equal(got, raw) {
			t.Fatalf("from byte %d: another photo was stored", have)
		}
		if again, err := b.add(sha, size, 0, raw, "day-14/photo", time.Time{}); err != nil || again.Photo != p.Photo {
			t.Fatalf("sent again: %+v, %v", again, err)
		}
		if n := b.waiting(); n != 0 {
			t.Fatalf("%d parts are left over", n)
		}
	}
}

// The time that the phone gives its file stands in where the photo names none.
func TestAPhotoKeepsItsTime(t *testing.T) {
	raw, sha := grey(t)
	b := &inbox{dir: t.TempDir()}
	taken := time.Date(2026, 3, 16, 9, 30, 0, 0, time.UTC)
	p, err := b.add(sha, int64(len(raw)), 0, raw, "day-14/photo", taken)
	if err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(filepath.Join(b.dir, "photos", p.Photo))
	if err != nil || !info.ModTime().Equal(taken) {
		t.Errorf("%v, %v", info.ModTime(), err)
	}
}

func TestTooManyHalfPhotos(t *testing.T) {
	b := &inbox{dir: t.TempDir()}
	if err := b.makeFolders(); err != nil {
		t.Fatal(err)
	}
	name := func(i int) string {
		return strings.Repeat(string("0123456789abcdef"[i%16])+string("0123456789abcdef"[i/16]), 32)
	}
	for i := range mostArriving {
		if _, err := b.add(name(i), 100, 0, []byte("half"), "photo", time.Time{}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := b.add(name(mostArriving), 100, 0, []byte("half"), "photo", time.Time{}); !errors.Is(err, errFull) {
		t.Errorf("one more: %v", err)
	}
	if p, err := b.add(name(3), 100, 4, []byte("more"), "photo", time.Time{}); err != nil || p.Have != 8 {
		t.Errorf("one that had begun: %+v, %v", p, err)
	}
	b.clearOld(time.Now().Add(keepArriving - time.Hour))
	if n := b.waiting(); n != mostArriving {
		t.Errorf("%d are left before the week is over", n)
	}
	b.clearOld(time.Now().Add(keepArriving + time.Hour))
	if n := b.waiting(); n != 0 {
		t.Errorf("%d are left after a week", n)
	}
}

// A folder for photos that leads out of the trial takes none.
func TestPhotosStayInTheTrial(t *testing.T) {
	raw, sha := grey(t)
	dir, away := t.TempDir(), t.TempDir()
	if err := os.Symlink(away, filepath.Join(dir, "photos")); err != nil {
		t.Skip("this system has no symbolic links")
	}
	b := &inbox{dir: dir}
	if p, err := b.add(sha, int64(len(raw)), 0, raw, "day-14/photo", time.Time{}); err == nil {
		t.Errorf("stored outside: %+v", p)
	}
	if entries, _ := os.ReadDir(away); len(entries) > 0 {
		t.Errorf("outside lies %v", entries)
	}
}
