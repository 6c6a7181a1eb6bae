package trialdir

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"traygauge/vision"
	"traygauge/vision/kind"
)

// File is something in photos/ that is a photo or is named like one.
type File struct {
	Name     string // below photos/, with "/"
	Path     string
	Changed  time.Time
	Refused  *vision.Refusal // known without reading it
	Reported bool
}

// photoExtensions are the endings of picture files. What ends like this is answered for even when it holds no picture.
var photoExtensions = []string{".jpg", ".jpeg", ".jpe", ".jfif", ".png", ".tif", ".tiff", ".webp", ".heic", ".heif", ".avif", ".bmp", ".gif", ".dng"}

func NamedLikePhoto(name string) bool {
	return slices.Contains(photoExtensions, strings.ToLower(path.Ext(name)))
}

// ListPhotos walks photos/ and its sub-folders and returns what is to be measured or answered for, sorted by name. Names
// that begin with a dot are the system's and left out.
func ListPhotos(dir string) ([]File, []Skipped, error) {
	root := filepath.Join(dir, PhotosFolder)
	info, err := os.Stat(root)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil, fmt.Errorf("%s has no folder photos: create it and copy your photos there", dir)
	case err != nil:
		return nil, nil, fmt.Errorf("cannot open %s: %w", root, PlainCause(err))
	case !info.IsDir():
		return nil, nil, fmt.Errorf("%s is not a folder: replace it with a folder and copy your photos there", root)
	case !staysInside(dir, root):
		return nil, nil, fmt.Errorf("%s leads outside the trial’s folder: copy the photos into the trial", root)
	}
	l := lister{dir: dir, root: root}
	if err := filepath.WalkDir(root, l.visit); err != nil {
		return nil, nil, fmt.Errorf("cannot list %s: %w", root, PlainCause(err))
	}
	slices.SortFunc(l.photos, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	slices.SortFunc(l.skipped, func(a, b Skipped) int { return strings.Compare(a.File, b.File) })
	return l.photos, l.skipped, nil
}

type lister struct {
	dir, root string
	photos    []File
	skipped   []Skipped
}

func (l *lister) visit(at string, d fs.DirEntry, err error) error {
	if at == l.root {
		return err
	}
	below, relErr := filepath.Rel(l.root, at)
	if relErr != nil {
		return relErr
	}
	f := File{Name: plainName(filepath.ToSlash(below)), Path: at}
	switch {
	case err != nil: // a folder that cannot be listed must not hide what lies beside it
		l.refuse(f, kind.Unreadable, "check that you have permission to read the folder", "is a folder that cannot be opened (%v)", PlainCause(err))
		return fs.SkipDir
	case strings.HasPrefix(d.Name(), "."):
		if d.IsDir() {
			return fs.SkipDir
		}
	case d.Type()&fs.ModeSymlink != 0:
		l.link(f)
	case !d.IsDir():
		l.file(f)
	case NamedLikePhoto(d.Name()):
		// vision.ReadFile has the words for it. What lies in it is not walked: the folder may be a broken copy of a photo.
		l.photos = append(l.photos, f)
		return fs.SkipDir
	}
	return nil
}

// plainName spells out the bytes of a name that are no UTF-8, as \xe9, so that a reading can hold it and no two names become one.
func plainName(name string) string {
	if utf8.ValidString(name) {
		return name
	}
	var plain strings.Builder
	for len(name) > 0 {
		r, size := utf8.DecodeRuneInString(name)
		if r == utf8.RuneError && size == 1 {
			fmt.Fprintf(&plain, `\x%02x`, name[0])
		} else {
			plain.WriteRune(r)
		}
		name = name[size:]
	}
	return plain.String()
}

// OutsideTheTrial is the kind of a link that leads out of the trial's folder.
const OutsideTheTrial kind.Kind = "outside the trial"

func (l *lister) refuse(f File, k kind.Kind, remedy, format string, args ...any) {
	f.Refused = &vision.Refusal{Kind: k, Words: fmt.Sprintf(format, args...), Remedy: remedy}
	l.photos = append(l.photos, f)
}

// link takes a symbolic link for its file when it stays in the trial: a trial that came by mail must not make this
// computer's other files part of a result.
func (l *lister) link(f File) {
	info, err := os.Stat(f.Path)
	switch {
	case err != nil:
		l.refuse(f, kind.Unreadable, "copy the photo itself here", "is a link to a missing file")
	case !staysInside(l.dir, f.Path):
		l.refuse(f, OutsideTheTrial, "copy the photo itself here", "is a link to a file outside the trial’s folder")
	case info.IsDir():
		l.skipped = append(l.skipped, Skipped{f.Name, "a link to a folder, not followed"})
	default:
		l.file(f)
	}
}

// file takes what holds a picture or is named like one.
func (l *lister) file(f File) {
	info, err := os.Stat(f.Path)
	if err == nil {
		f.Changed = info.ModTime()
	}
	if NamedLikePhoto(f.Name) || err == nil && info.Mode().IsRegular() && HoldsPicture(f.Path) {
		l.photos = append(l.photos, f)
		return
	}
	l.skipped = append(l.skipped, Skipped{f.Name, "not a photo"})
}

// HoldsPicture reports whether a file begins like a picture, whatever it is called.
func HoldsPicture(name string) bool {
	f, err := os.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, 512)) // what DetectContentType looks at
	return err == nil && strings.HasPrefix(http.DetectContentType(head), "image/")
}

// staysInside reports whether path, with all links followed, lies in dir.
func staysInside(dir, name string) bool {
	dir, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return false
	}
	if name, err = filepath.EvalSymlinks(name); err != nil {
		return false
	}
	dirAbs, err1 := filepath.Abs(dir)
	nameAbs, err2 := filepath.Abs(name)
	if err1 != nil || err2 != nil {
		return false
	}
	below, err := filepath.Rel(dirAbs, nameAbs)
	return err == nil && filepath.IsLocal(below)
}

func IsFile(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.Mode().IsRegular()
}

func isFolder(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

// PlainCause drops the path from a file error where the message names it already.
func PlainCause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
