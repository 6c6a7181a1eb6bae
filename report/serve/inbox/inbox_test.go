package inbox

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
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
	return out.Bytes(), digestOf(out.Bytes())
}

func digestOf(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}

// begunBy lists how many photos have not come whole.
func (b *Inbox) begun(t *testing.T) int {
	t.Helper()
	parts, err := b.parts()
	if err != nil {
		t.Fatal(err)
	}
	defer parts.Close()
	return len(begunIn(parts))
}

// Wherever the program is killed while a photo arrives, the photo is stored once, after what is missing was sent.
func TestAPhotoArrivesDespiteACrash(t *testing.T) {
	raw, sha := grey(t)
	size := int64(len(raw))
	for _, have := range []int64{0, 1, size / 3, size - 1, size} {
		b := New(t.TempDir())
		if n := b.begun(t); n != 0 {
			t.Fatalf("%d parts at the beginning", n)
		}
		if err := os.WriteFile(b.partFile(sha), raw[:have], 0o644); err != nil { // what a killed server left
			t.Fatal(err)
		}
		b = New(b.dir)
		p, err := b.Has(sha, size)
		if err != nil || p.Have != have || p.Photo != "" {
			t.Fatalf("%d bytes are there: %+v, %v", have, p, err)
		}
		if p, err = b.Add("phone", sha, size, have, raw[have:], "day-14/tray-07-roots", time.Time{}); err != nil || p.Photo != "day-14/tray-07-roots-"+sha[:12]+".jpg" {
			t.Fatalf("from byte %d: %+v, %v", have, p, err)
		}
		if got, _ := os.ReadFile(filepath.Join(b.dir, "photos", p.Photo)); !bytes.Equal(got, raw) {
			t.Fatalf("from byte %d: another photo was stored", have)
		}
		if again, err := b.Add("phone", sha, size, 0, raw, "day-14/photo", time.Time{}); err != nil || again.Photo != p.Photo {
			t.Fatalf("sent again: %+v, %v", again, err)
		}
		if n := b.begun(t); n != 0 {
			t.Fatalf("%d parts are left over", n)
		}
	}
}

// The time that the phone gives its file stands in where the photo names none.
func TestAPhotoKeepsItsTime(t *testing.T) {
	raw, sha := grey(t)
	b := New(t.TempDir())
	taken := time.Date(2026, 3, 16, 9, 30, 0, 0, time.UTC)
	p, err := b.Add("phone", sha, int64(len(raw)), 0, raw, "day-14/photo", taken)
	if err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(filepath.Join(b.dir, "photos", p.Photo))
	if err != nil || !info.ModTime().Equal(taken) {
		t.Errorf("%v, %v", info.ModTime(), err)
	}
}

// A phone that begins hundreds of photos and finishes none keeps no one out: not another phone, not after a restart, and its own last few
// go on. What no one goes on with is gone after a quarter of an hour.
func TestBegunPhotosKeepNobodyOut(t *testing.T) {
	raw, sha := grey(t)
	size := int64(len(raw))
	b := New(t.TempDir())
	at := time.Now()
	b.now = func() time.Time { return at }
	name := func(i int) string { return digestOf(fmt.Appendf(nil, "photo %d", i)) }
	begin := func(from string, i int) {
		t.Helper()
		if _, err := b.Add(from, name(i), 100, 0, []byte("half"), "photo", time.Time{}); err != nil {
			t.Fatal(err)
		}
		old := at.Add(time.Duration(i-1000) * time.Millisecond) // file times alone may be the same
		os.Chtimes(b.partFile(name(i)), old, old)
	}
	if _, err := b.Add("other", sha, size, 0, raw[:size/2], "photo", time.Time{}); err != nil {
		t.Fatal(err)
	}
	for i := range 300 {
		begin("attacker", i)
	}
	if n := b.begun(t); n != 1+mostPerPhone {
		t.Errorf("%d photos are half way here, want the other phone's and %d", n, mostPerPhone)
	}
	if p, err := b.Add("attacker", name(299), 100, 4, []byte("more"), "photo", time.Time{}); err != nil || p.Have != 8 {
		t.Errorf("one that had begun: %+v, %v", p, err)
	}
	b = New(b.dir)
	b.now = func() time.Time { return at }
	if p, err := b.Add("other", sha, size, size/2, raw[size/2:], "photo", time.Time{}); err != nil || p.Photo == "" {
		t.Errorf("another phone's photo: %+v, %v", p, err)
	}
	for i := range 2 * mostArriving { // as many phones as that
		begin(fmt.Sprint("phone", i), 300+i)
	}
	if n := b.begun(t); n != mostArriving {
		t.Errorf("%d are half way here in all, want %d", n, mostArriving)
	}
	at = at.Add(keepArriving + time.Hour)
	begin("other", 900)
	if n := b.begun(t); n != 1 {
		t.Errorf("%d are left after their time, want the one that was begun then", n)
	}
}

// No phone has more than two parts on their way, and all phones together not more than sixteen.
func TestPartsOnTheirWay(t *testing.T) {
	b := New(t.TempDir())
	var done []func()
	for n := range mostReceiving {
		d, err := b.Receive(fmt.Sprint("phone ", n/mostSending))
		if err != nil {
			t.Fatal(err)
		}
		done = append(done, d)
	}
	var busy busyError
	if _, err := b.Receive("phone 0"); !errors.As(err, &busy) {
		t.Errorf("a third part of one phone: %v", err)
	}
	if _, err := b.Receive("another"); !errors.As(err, &busy) {
		t.Errorf("one more than all: %v", err)
	}
	done[0]()
	if d, err := b.Receive("another"); err != nil {
		t.Error(err)
	} else {
		d()
	}
	for _, d := range done[1:] {
		d()
	}
	if len(b.receiving) != 1 || b.receiving[""] != 0 {
		t.Errorf("afterwards %v", b.receiving)
	}
}

// A folder for photos that leads out of the trial takes none.
func TestPhotosStayInTheTrial(t *testing.T) {
	raw, sha := grey(t)
	dir, away := t.TempDir(), t.TempDir()
	if err := os.Symlink(away, filepath.Join(dir, "photos")); err != nil {
		t.Skip("this system has no symbolic links")
	}
	b := New(dir)
	if p, err := b.Add("phone", sha, int64(len(raw)), 0, raw, "day-14/photo", time.Time{}); err == nil {
		t.Errorf("stored outside: %+v", p)
	}
	if entries, _ := os.ReadDir(away); len(entries) > 0 {
		t.Errorf("outside lies %v", entries)
	}
}

// A link in the place of a half-arrived photo is not followed: neither one to a file, nor one to where no file is yet.
func TestPartsFollowNoLinks(t *testing.T) {
	raw, sha := grey(t)
	size := int64(len(raw))
	away := t.TempDir()
	victim := filepath.Join(away, "victim")
	for _, there := range []bool{false, true} {
		if there {
			if err := os.WriteFile(victim, []byte("keep me"), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		b := New(t.TempDir())
		b.begun(t)
		if err := os.Symlink(victim, b.partFile(sha)); err != nil {
			t.Skip("this system has no symbolic links")
		}
		if _, err := b.Add("phone", sha, size, 0, raw[:10], "day-14/photo", time.Time{}); err != nil {
			t.Fatal(err)
		}
		if p, err := b.Add("phone", sha, size, 10, raw[10:], "day-14/photo", time.Time{}); err != nil || p.Photo == "" {
			t.Errorf("in the place of a link: %+v, %v", p, err)
		}
		switch got, err := os.ReadFile(victim); {
		case !there && err == nil:
			t.Error("a file was made where the link leads")
		case there && string(got) != "keep me":
			t.Errorf("the file that the link leads to holds %.20q", got)
		}
	}
}
