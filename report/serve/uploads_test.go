package serve

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"traygauge/measure/reading"
	"traygauge/report/serve/inbox"
	"traygauge/vision/card"
)

// hugePNG claims to be a picture of 200 megapixels, in a few bytes.
func hugePNG() []byte {
	chunk := func(kind reading.Kind, data []byte) []byte {
		out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
		out = append(append(out, kind...), data...)
		return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
	}
	head := binary.BigEndian.AppendUint32(nil, 20000)
	head = append(binary.BigEndian.AppendUint32(head, 10000), 8, 2, 0, 0, 0) // 8 bits, RGB
	return slices.Concat([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", head), chunk("IEND", nil))
}

// What is too large, damaged, cut short or no photo is refused with a word, and nothing of it stays among the photos.
func TestRefusedUploads(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	photo := photoOf(t, card.Roots, 1)
	sha := shaOf(photo)
	text := []byte("<html><script>alert(1)</script>")
	cut := photo[:len(photo)/2]
	bomb := hugePNG()
	n := len(photo)
	for name, c := range map[string]struct {
		raw          []byte
		sha          string
		size, offset int
		rest         string
		want         int
		say          string
	}{
		"a part too large":           {make([]byte, inbox.MostChunkBytes+1), sha, inbox.MostPhotoBytes, 0, "", 413, "kB"},
		"a photo too large":          {photo[:10], sha, inbox.MostPhotoBytes + 1, 0, "", 413, "12 to 50 megapixels"},
		"no photo":                   {text, shaOf(text), len(text), 0, "", 415, "not a photo in a known format"},
		"half a photo":               {cut, shaOf(cut), len(cut), 0, "", 415, "its end missing"},
		"a picture that would swell": {bomb, shaOf(bomb), len(bomb), 0, "", 415, "megapixels"},
		"other bytes than said":      {photo, strings.Repeat("0", 64), n, 0, "", 422, "damaged"},
		"beyond its end":             {photo, sha, n - 1, 0, "", 409, `"have":0`},
		"not at its end":             {photo, sha, n, 7, "", 409, `"have":0`},
		"a digest that is a path":    {photo, "../../etc/passwd", n, 0, "", 400, "SHA-256"},
		"no digest":                  {photo, "", n, 0, "", 400, "SHA-256"},
		"nothing":                    {nil, sha, 0, 0, "", 400, "empty"},
		"a view that is a path":      {photo, sha, n, 0, "&view=..%2F..%2Fx", 400, "roots or shoots"},
		"a tray beyond all":          {photo, sha, n, 0, "&tray=999999999999", 400, "tray numbers"},
	} {
		if status, got := p.put(c.raw, c.sha, c.size, c.offset, c.rest); status != c.want || !strings.Contains(got, c.say) {
			t.Errorf("%s: %d %s, want %d and %q", name, status, got, c.want, c.say)
		}
	}
	if got := photosIn(t, r.dir); len(got) > 0 {
		t.Errorf("kept %v", got)
	}
	for _, path := range []string{"/picture?id=..%2Ftrial.yaml", "/overlay?id=", "/report/..%2Ftrial.yaml", "/report/trial.yaml", "/static/..%2F..%2Fserver.go", "/static/today.html", "/api/verdict?photo=..%2Ftrial.yaml", "/phones.json"} {
		if status, got := p.ask("GET", path, nil); status != 404 && status != 400 {
			t.Errorf("%s: %d %.100s", path, status, got)
		}
	}
}

// A photo that comes in parts, over a link that breaks, from two phones at once, is stored once and whole.
func TestPhotosComeInParts(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	photo := photoOf(t, card.Roots, 1)
	sha, n := shaOf(photo), len(photo)
	var both sync.WaitGroup
	for range 2 {
		p := newPhone(t, r.url())
		p.load("/")
		both.Go(func() {
			var have sent
			for range 200 {
				end := min(int64(n), have.Have+50_000)
				status, text := p.put(photo[have.Have:end], sha, n, int(have.Have), "&tray=1&view=roots")
				if status != 200 && status != 409 {
					t.Errorf("%d %s", status, text)
					return
				}
				if err := json.Unmarshal([]byte(text), &have); err != nil {
					t.Error(err)
					return
				}
				if have.Photo != "" {
					return
				}
			}
			t.Error("never whole")
		})
	}
	both.Wait()
	names := photosIn(t, r.dir)
	want := "day-10/tray-01-roots-" + sha[:12] + ".jpg"
	if !slices.Equal(names, []string{want}) {
		t.Fatalf("stored as %v, want %s", names, want)
	}
	if got, _ := os.ReadFile(filepath.Join(r.dir, "photos", want)); !bytes.Equal(got, photo) {
		t.Error("the photo is not what was sent")
	}
	// Copied into the folder by hand, it is known as well.
	if err := os.Rename(filepath.Join(r.dir, "photos", want), filepath.Join(r.dir, "photos", "IMG_1.jpg")); err != nil {
		t.Fatal(err)
	}
	p := newPhone(t, r.url())
	p.load("/")
	if got := get[sent](p, fmt.Sprintf("/api/upload?sha=%s&size=%d", sha, n)); got.Photo != "IMG_1.jpg" {
		t.Errorf("%+v", got)
	}
}

// A photo that waited for a connection over midnight is filed under the evening on which it was taken.
func TestAPhotoThatCameAfterMidnight(t *testing.T) {
	at := time.Date(2026, 3, 13, 0, 20, 0, 0, time.UTC) // day 11, just begun
	r := serveTrial(t, trialWith(t, feedingTrial), func(o *Options) { o.Now = func() time.Time { return at } })
	p := newPhone(t, r.url())
	p.load("/")
	photo := shot(t, smallSpec(card.Roots, 1), at.Add(-40*time.Minute))
	changed := fmt.Sprintf("&tray=1&view=roots&changed=%d", at.Add(-40*time.Minute).UnixMilli())
	if status, text := p.put(photo, shaOf(photo), len(photo), 0, changed); status != 200 || !strings.Contains(text, "day-10/tray-01-roots-") {
		t.Errorf("%d %s", status, text)
	}
	if d := get[feedingDay](p, "/api/today"); len(d.Open) > 0 {
		t.Errorf("to settle: %+v", d.Open)
	}
}

// Photos that were copied into the folder are measured once a page is looked at; a copy of one is reported as such.
func TestPhotosInTheFolderAreMeasured(t *testing.T) {
	dir := trialWith(t, feedingTrial)
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, raw := range map[string][]byte{"a.jpg": photoOf(t, card.Roots, 1), "b.jpg": photoOf(t, card.Shoots, 1), "b copy.jpg": photoOf(t, card.Shoots, 1), "c.jpg": []byte("a note")} {
		if err := os.WriteFile(filepath.Join(dir, "photos", name), raw, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	r := serveTrial(t, dir, nil)
	p := newPhone(t, r.url())
	p.load("/review")
	list := get[reviewing](p, "/api/photos")
	for range 600 {
		if list.Measuring == 0 {
			break
		}
		time.Sleep(20 * time.Millisecond)
		list = get[reviewing](p, "/api/photos")
	}
	got := map[string]string{}
	for _, photo := range list.Photos {
		got[photo.Label] = string(photo.Verdict)
	}
	want := map[string]string{"a.jpg": "good", "b.jpg": "not usable", "b copy.jpg": "good", "c.jpg": "not usable"} // "b copy" comes first by name
	if !maps.Equal(got, want) || list.Measuring != 0 {
		t.Errorf("%v, %d to come; want %v", got, list.Measuring, want)
	}
}

// A photo that browsers do not show comes as a copy, made once; while verdicts wait it is not made.
func TestCopiesForTheBrowser(t *testing.T) {
	encoder, err := exec.LookPath("heif-enc")
	if err != nil {
		t.Skip("heif-enc is not installed (Debian: libheif-examples)")
	}
	dir := trialWith(t, feedingTrial)
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	jpg := filepath.Join(t.TempDir(), "photo.jpg")
	if err := os.WriteFile(jpg, photoOf(t, card.Roots, 1), 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(encoder, jpg, "-o", filepath.Join(dir, "photos", "IMG_1.HEIC")).CombinedOutput(); err != nil {
		t.Skipf("%v: %s", err, out)
	}
	r := serveTrial(t, dir, nil)
	p := newPhone(t, r.url())
	p.load("/")
	p.verdict("IMG_1.HEIC", 0, "")
	var asked sync.WaitGroup
	for range 6 {
		asked.Go(func() {
			if status, text := p.ask("GET", "/picture?id="+idOf("IMG_1.HEIC"), nil); status != 200 || !strings.HasPrefix(text, "\xff\xd8") {
				t.Errorf("%d, %d bytes", status, len(text))
			}
		})
	}
	asked.Wait()
	if status, _ := p.ask("GET", "/picture?id="+idOf("IMG_1.HEIC"), nil); status != 200 {
		t.Errorf("the copy was not kept: %d", status)
	}
	if got := get[feedingDay](p, "/api/today"); len(got.Trays) != 8 {
		t.Errorf("%+v", got)
	}
}

// A phone that waits gets the reason.
func TestAPhoneThatWaitsIsToldWhy(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	photo := photoOf(t, card.Roots, 1)
	for n := 0; ; n++ { // until there is no place for another
		done, err := r.server.inbox.Receive(fmt.Sprint("another phone ", n))
		if err != nil {
			break
		}
		defer done()
	}
	if status, text := p.put(photo, shaOf(photo), len(photo), 0, ""); status != 503 || !strings.Contains(text, "many phones are sending") {
		t.Errorf("%d %s", status, text)
	}
}
