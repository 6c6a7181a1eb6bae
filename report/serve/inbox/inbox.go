// Package inbox receives photos in parts, and stores each one in the trial when it is complete.
//
//	in    parts with the SHA-256 of the whole, who sends them, the beginning of a name
//	out   photos below photos/, each once; how much of a photo has arrived
//
// It must not depend on what a photo shows or who may send it.
package inbox

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"traygauge/measure/store"
	"traygauge/measure/trialdir"
	"traygauge/vision"
)

const (
	// MostPhotoBytes is the largest photo that is taken: more than twice what phones make at 50 megapixels.
	MostPhotoBytes = 64 << 20
	// MostChunkBytes is the largest part of a photo that is taken at once.
	MostChunkBytes = 1 << 20

	arriving      = ".arriving" // folder in photos/; measuring skips names that begin with a dot
	mostArriving  = 64          // incomplete photos
	mostPerPhone  = 4           // incomplete photos from one phone, which sends one after the other
	keepArriving  = 15 * time.Minute
	mostReceiving = 16 // parts being received at the same time
	mostSending   = 2  // parts being received from one phone
)

// Inbox receives photos in parts and puts each into photos/ when it is complete. An incomplete photo is identified by the whole photo's
// SHA-256, so a second phone that sends the same photo continues where the first stopped, and each photo is stored once. A phone that
// begins photos without finishing them loses its own incomplete ones and does not keep others out.
type Inbox struct {
	dir string
	now func() time.Time

	mu        sync.Mutex
	from      map[string]string // by SHA-256: the session that sent the last part
	receiving map[string]int    // by session: parts being received; "": of all sessions
}

func New(dir string) *Inbox {
	b := &Inbox{dir: dir, now: time.Now, from: map[string]string{}, receiving: map[string]int{}}
	if parts, err := os.OpenRoot(filepath.Dir(b.partFile(""))); err == nil {
		b.clear(parts, "", "")
		parts.Close()
	}
	return b
}

var digest = regexp.MustCompile(`^[0-9a-f]{64}$`)

// IsDigest reports whether text is a SHA-256 as photos are known by.
func IsDigest(text string) bool { return digest.MatchString(text) }

// progress is how many bytes of a photo have arrived and, once it is complete, its path below photos/.
type progress struct {
	Have  int64  `json:"have"`
	Photo string `json:"photo,omitempty"`
}

// Errors of an upload that the page reacts to.
var (
	ErrOffset  = errors.New("a part of the photo is missing before this one")
	ErrDamaged = errors.New("the photo arrived damaged and will be sent again")
)

// busyError is why a part has to wait.
type busyError string

func (e busyError) Error() string { return string(e) }

// Receive reserves a place for a part from a phone until done is called.
func (b *Inbox) Receive(from string) (done func(), err error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch {
	case b.receiving[from] >= mostSending:
		return nil, busyError("this phone is already sending other photos")
	case b.receiving[""] >= mostReceiving:
		return nil, busyError("many phones are sending at the moment")
	}
	b.receiving[from]++
	b.receiving[""]++
	return func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.receiving[""]--
		if b.receiving[from]--; b.receiving[from] == 0 {
			delete(b.receiving, from)
		}
	}, nil
}

func (b *Inbox) partFile(sha string) string {
	return filepath.Join(b.dir, trialdir.PhotosFolder, arriving, sha+".part")
}

// Has returns how much of a photo of size bytes has arrived.
func (b *Inbox) Has(sha string, size int64) (progress, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	parts, err := b.parts()
	if err != nil {
		return progress{}, err
	}
	defer parts.Close()
	return b.hasNow(parts, sha, size)
}

// parts opens the folder of incomplete photos. Through an os.Root no link in it leads out of it.
func (b *Inbox) parts() (*os.Root, error) {
	if err := trialdir.MakeFolder(b.dir, trialdir.PhotosFolder); err != nil {
		return nil, err
	}
	if err := trialdir.MakeFolder(filepath.Join(b.dir, trialdir.PhotosFolder), arriving); err != nil {
		return nil, err
	}
	return os.OpenRoot(filepath.Dir(b.partFile("")))
}

func (b *Inbox) hasNow(parts *os.Root, sha string, size int64) (progress, error) {
	photo, err := trialdir.PhotoWith(b.dir, sha, size)
	if err != nil || photo != "" {
		return progress{size, photo}, err
	}
	info, err := parts.Lstat(sha + ".part")
	switch {
	case err != nil:
		return progress{}, nil
	case !info.Mode().IsRegular(): // a link or a folder in place of the part: not ours
		if err := parts.Remove(sha + ".part"); err != nil {
			return progress{}, fmt.Errorf("the photo could not be stored: %w", trialdir.PlainCause(err))
		}
		return progress{}, nil
	}
	return progress{Have: info.Size()}, nil
}

// Add appends a part that begins at offset to a photo of size bytes, sent by the session from. A complete photo becomes a photo of the trial;
// its name begins with stem, such as day-14/tray-07-roots, and its modification time is changed unless that is zero. A refused photo is
// deleted.
func (b *Inbox) Add(from, sha string, size, offset int64, part []byte, stem string, changed time.Time) (progress, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	parts, err := b.parts()
	if err != nil {
		return progress{}, err
	}
	defer parts.Close()
	p, err := b.hasNow(parts, sha, size)
	if err != nil || p.Photo != "" {
		return p, err
	}
	if p.Have != offset || p.Have+int64(len(part)) > size {
		return p, ErrOffset
	}
	if p.Have == 0 {
		b.clear(parts, from, sha)
	}
	if err := write(parts, sha+".part", offset, part); err != nil {
		return p, err
	}
	b.from[sha] = from
	p.Have += int64(len(part))
	if p.Have < size {
		return p, nil
	}
	p.Photo, err = b.finish(parts, sha, stem, changed)
	if errors.Is(err, ErrDamaged) {
		p.Have = 0
	}
	return p, err
}

// begun is an incomplete photo.
type begun struct {
	sha     string
	touched time.Time
}

// begunIn lists the incomplete photos, least recently touched first.
func begunIn(parts *os.Root) (list []begun) {
	folder, err := parts.Open(".")
	if err != nil {
		return nil
	}
	defer folder.Close()
	entries, _ := folder.ReadDir(-1)
	for _, e := range entries {
		sha, ours := strings.CutSuffix(e.Name(), ".part")
		if info, err := e.Info(); err == nil && ours && digest.MatchString(sha) && info.Mode().IsRegular() {
			list = append(list, begun{sha, info.ModTime()})
		}
	}
	slices.SortFunc(list, func(a, b begun) int { return cmp.Or(a.touched.Compare(b.touched), strings.Compare(a.sha, b.sha)) })
	return list
}

// clear removes incomplete photos that were not touched for keepArriving and makes room for another one of a phone: first among that phone's
// own, and only if there are mostArriving in all, the least recently touched of any phone.
func (b *Inbox) clear(parts *os.Root, from, sha string) {
	list := begunIn(parts)
	remove := func(old begun) {
		parts.Remove(old.sha + ".part")
		delete(b.from, old.sha)
		list = slices.DeleteFunc(list, func(o begun) bool { return o == old })
	}
	for _, old := range slices.Clone(list) {
		if b.now().Sub(old.touched) > keepArriving {
			remove(old)
		}
	}
	own := slices.DeleteFunc(slices.Clone(list), func(o begun) bool { return from == "" || b.from[o.sha] != from || o.sha == sha })
	for ; len(own) >= mostPerPhone; own = own[1:] {
		remove(own[0])
	}
	for len(list) >= mostArriving {
		remove(list[0])
	}
}

// write writes a part to its file. What a full disk took of it is truncated again.
func write(parts *os.Root, name string, offset int64, part []byte) error {
	flags := os.O_WRONLY
	if offset == 0 {
		flags |= os.O_CREATE
	}
	f, err := parts.OpenFile(name, flags, 0o644)
	if err != nil {
		return fmt.Errorf("the photo could not be stored: %w", trialdir.PlainCause(err))
	}
	defer f.Close()
	if _, err = f.WriteAt(part, offset); err == nil {
		return f.Close()
	}
	f.Truncate(offset)
	return fmt.Errorf("the photo could not be stored: %w: free some disk space on the computer that runs the trial", trialdir.PlainCause(err))
}

var extensions = map[string]string{"JPEG": ".jpg", "HEIC": ".heic", "PNG": ".png", "TIFF": ".tif", "WebP": ".webp"}

// finish turns a complete upload into a photo of the trial.
func (b *Inbox) finish(parts *os.Root, sha, stem string, changed time.Time) (photo string, err error) {
	part := sha + ".part"
	raw, err := parts.ReadFile(part)
	if err != nil {
		return "", fmt.Errorf("the photo could not be stored: %w", trialdir.PlainCause(err))
	}
	done := func() {
		parts.Remove(part)
		delete(b.from, sha)
	}
	if sum := sha256.Sum256(raw); hex.EncodeToString(sum[:]) != sha {
		done()
		return "", ErrDamaged
	}
	format, err := vision.FormatOf(raw)
	if err != nil {
		done()
		return "", err
	}
	photo = fmt.Sprintf("%s-%s%s", stem, sha[:12], extensions[format])
	file := filepath.Join(b.dir, trialdir.PhotosFolder, filepath.FromSlash(photo))
	if folder := path.Dir(photo); folder != "." {
		if err := trialdir.MakeFolder(filepath.Join(b.dir, trialdir.PhotosFolder), folder); err != nil {
			return "", err
		}
	}
	if err := store.WriteNew(file, func(w io.Writer) error { _, err := io.Copy(w, bytes.NewReader(raw)); return err }); err != nil {
		return "", err
	}
	if !changed.IsZero() {
		os.Chtimes(file, changed, changed) // used where the photo itself has no time
	}
	done()
	return photo, nil
}
