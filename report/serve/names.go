package serve

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/measure/trialdir"
)

// storedName is the name of an uploaded photo: the day it is filed under, the button that was tapped for it, and the beginning of its SHA-256.
// Photos that people copied into the folder have names of their own.
type storedName struct {
	day    int          // below 0: before sowing
	tray   int          // 0: no tray's button
	view   reading.View // "" where nobody said
	digest string       // twelve digits
	ext    string       // with its dot
}

var storedPattern = regexp.MustCompile(`^(?:day-(\d{1,4})|before-sowing)/(?:tray-(\d{1,3})|photo)(?:-(roots|shoots))?-([0-9a-f]{12})(\.[a-z]+)$`)

// storedNameOf parses a photo's path below photos/; ok is false if it was not uploaded.
func storedNameOf(photo string) (n storedName, ok bool) {
	m := storedPattern.FindStringSubmatch(photo)
	if m == nil {
		return n, false
	}
	n = storedName{day: -1, view: reading.View(m[3]), digest: m[4], ext: m[5]}
	if m[1] != "" {
		n.day, _ = strconv.Atoi(m[1])
	}
	n.tray, _ = strconv.Atoi(m[2])
	return n, true
}

// stem is the name without digest and extension.
func (n storedName) stem() string {
	name := "photo"
	if n.tray > 0 {
		name = fmt.Sprintf("tray-%02d", n.tray)
	}
	if n.view != "" {
		name += "-" + string(n.view)
	}
	if n.day < 0 {
		return "before-sowing/" + name
	}
	return fmt.Sprintf("day-%02d/%s", n.day, name)
}

func (n storedName) String() string { return n.stem() + "-" + n.digest + n.ext }

// nowCalled returns the current path of a photo that may have been renamed, found by its digest.
func (s *Server) nowCalled(photo string) string {
	if _, err := trialdir.PhotoFile(s.o.Dir, photo); err == nil {
		return photo
	}
	if was, ok := storedNameOf(photo); ok {
		for _, name := range trialdir.PhotoNames(s.o.Dir) {
			if is, ok := storedNameOf(name); ok && is.digest == was.digest && is.ext == was.ext {
				return name
			}
		}
	}
	return photo
}

// rename renames an uploaded photo; its content stays.
func (s *Server) rename(from, to string) error {
	folder := filepath.Join(s.o.Dir, trialdir.PhotosFolder)
	if err := trialdir.MakeFolder(folder, path.Dir(to)); err != nil {
		return err
	}
	photos, err := os.OpenRoot(folder)
	if err != nil {
		return fmt.Errorf("the photo could not be saved: %w", err)
	}
	defer photos.Close()
	if _, err := photos.Lstat(to); err == nil {
		return fmt.Errorf("the photo could not be saved: %s already exists", to)
	}
	if err := photos.Rename(from, to); err != nil {
		return fmt.Errorf("the photo could not be saved: %w", err)
	}
	store.SyncFolder(filepath.Join(folder, path.Dir(to)))
	store.SyncFolder(filepath.Join(folder, path.Dir(from)))
	os.Remove(trialdir.OverlayPath(s.o.Dir, from)) // drawn again under the new name
	return nil
}

// claimed returns a photo's tray and view by its card and tag or, where these are unknown, by its name.
func claimed(r reading.Reading) (tray int, view reading.View) {
	tray, view = r.Tray, r.View
	if tray == 0 {
		tray = reading.TrayInName(r.Photo)
	}
	for _, v := range reading.Views {
		if view == "" && strings.Contains(r.Photo, "-"+string(v)+"-") {
			view = v
		}
	}
	return tray, view
}
