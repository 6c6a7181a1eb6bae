package serve

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"time"

	"traygauge/measure"
	"traygauge/measure/store"
	"traygauge/vision"
)

const (
	// MostPhotoBytes is the largest photo that is taken: more than twice what phones make at 50 megapixels.
	MostPhotoBytes = 64 << 20
	// MostChunkBytes is the largest part of a photo that is taken at once.
	MostChunkBytes = 1 << 20

	arriving     = ".arriving" // folder in photos/; measuring passes over what begins with a dot
	mostArriving = 64          // photos that have not come whole
	keepArriving = 7 * 24 * time.Hour
)

// inbox takes photos in parts and puts each into photos/ when it is whole. A part is known by the whole photo's SHA-256, so that
// whoever sends the same photo goes on where another stopped, and each photo is stored once.
type inbox struct {
	dir string
	mu  sync.Mutex
}

var digest = regexp.MustCompile(`^[0-9a-f]{64}$`)

// progress says how much of a photo has come, or, once it is whole, its path below photos/.
type progress struct {
	Have  int64  `json:"have"`
	Photo string `json:"photo,omitempty"`
}

// What can be wrong with an upload. The page acts by these.
var (
	errOffset  = errors.New("this part does not follow what has come")
	errDamaged = errors.New("the photo arrived damaged and was not kept: it is sent again")
	errFull    = errors.New("too many photos are half way here: wait for the others")
)

func (b *inbox) partFile(sha string) string {
	return filepath.Join(b.dir, measure.PhotosFolder, arriving, sha+".part")
}

// has tells how much is here of a photo of size bytes.
func (b *inbox) has(sha string, size int64) (progress, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.hasNow(sha, size)
}

func (b *inbox) hasNow(sha string, size int64) (progress, error) {
	if err := b.makeFolders(); err != nil {
		return progress{}, err
	}
	photo, err := measure.PhotoWith(b.dir, sha, size)
	if err != nil || photo != "" {
		return progress{size, photo}, err
	}
	if info, err := os.Lstat(b.partFile(sha)); err == nil && info.Mode().IsRegular() {
		return progress{Have: info.Size()}, nil
	}
	return progress{}, nil
}

func (b *inbox) makeFolders() error {
	if err := measure.MakeFolder(b.dir, measure.PhotosFolder); err != nil {
		return err
	}
	return measure.MakeFolder(filepath.Join(b.dir, measure.PhotosFolder), arriving)
}

// add adds a part that begins at offset to a photo of size bytes. When that makes it whole it becomes a photo of the trial, with a name
// that begins with stem, such as day-14/tray-07-roots, and the time changed where that is not zero. A refused photo is not kept.
func (b *inbox) add(sha string, size, offset int64, part []byte, stem string, changed time.Time) (progress, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	p, err := b.hasNow(sha, size)
	if err != nil || p.Photo != "" {
		return p, err
	}
	if p.Have != offset || p.Have+int64(len(part)) > size {
		return p, errOffset
	}
	if p.Have == 0 && b.waiting() >= mostArriving {
		return p, errFull
	}
	if err := b.write(sha, offset, part); err != nil {
		return p, err
	}
	p.Have += int64(len(part))
	if p.Have < size {
		return p, nil
	}
	p.Photo, err = b.finish(sha, stem, changed)
	if errors.Is(err, errDamaged) {
		p.Have = 0
	}
	return p, err
}

// waiting counts the photos that have not come whole.
func (b *inbox) waiting() int {
	entries, _ := os.ReadDir(filepath.Dir(b.partFile("")))
	return len(entries)
}

// write adds a part to its file. What a full disk took of it is given back.
func (b *inbox) write(sha string, offset int64, part []byte) error {
	f, err := os.OpenFile(b.partFile(sha), os.O_WRONLY|os.O_CREATE, 0o644)
	if err != nil {
		return fmt.Errorf("the photo could not be stored: %w", err)
	}
	defer f.Close()
	if _, err = f.WriteAt(part, offset); err == nil {
		err = f.Close()
	}
	if err != nil {
		os.Truncate(b.partFile(sha), offset)
		return fmt.Errorf("the photo could not be stored: %w: make room on the disk of the computer that runs the trial", err)
	}
	return nil
}

var extensions = map[string]string{"JPEG": ".jpg", "HEIC": ".heic", "PNG": ".png", "TIFF": ".tif", "WebP": ".webp"}

// finish makes a photo of the trial of a part that is whole.
func (b *inbox) finish(sha, stem string, changed time.Time) (photo string, err error) {
	part := b.partFile(sha)
	raw, err := os.ReadFile(part)
	if err != nil {
		return "", fmt.Errorf("the photo could not be stored: %w", err)
	}
	if sum := sha256.Sum256(raw); hex.EncodeToString(sum[:]) != sha {
		os.Remove(part)
		return "", errDamaged
	}
	format, err := vision.FormatOf(raw)
	if err != nil {
		os.Remove(part)
		return "", err
	}
	photo = fmt.Sprintf("%s-%s%s", stem, sha[:12], extensions[format])
	file := filepath.Join(b.dir, measure.PhotosFolder, filepath.FromSlash(photo))
	if folder := path.Dir(photo); folder != "." {
		if err := measure.MakeFolder(filepath.Join(b.dir, measure.PhotosFolder), folder); err != nil {
			return "", err
		}
	}
	if err := store.WriteNew(file, func(w io.Writer) error { _, err := io.Copy(w, bytes.NewReader(raw)); return err }); err != nil {
		return "", err
	}
	if !changed.IsZero() {
		os.Chtimes(file, changed, changed) // it stands in where the photo names no time itself
	}
	os.Remove(part)
	return photo, nil
}

// clearOld removes parts of photos that nobody went on with.
func (b *inbox) clearOld(now time.Time) {
	folder := filepath.Dir(b.partFile(""))
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && digest.MatchString(strings.TrimSuffix(e.Name(), ".part")) && info.Mode().IsRegular() && now.Sub(info.ModTime()) > keepArriving {
			if err := os.Remove(filepath.Join(folder, e.Name())); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return
			}
		}
	}
}
