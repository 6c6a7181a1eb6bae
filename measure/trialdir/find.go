package trialdir

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"traygauge/measure/finding"
	"traygauge/measure/wording"
	"traygauge/vision"
)

// PhotoNamed finds a photo of the trial in folder dir by its path below photos/, as typed or as a shell completes it, by its
// file's name where only one photo has it, or by the first eight or more digits of its SHA-256, and returns its path and SHA-256. A name that fits none, or several, is an
// error that says which there are.
func PhotoNamed(dir, name string) (photo, sha string, err error) {
	files, _, err := ListPhotos(dir)
	if err != nil {
		return "", "", err
	}
	below := BelowPhotos(dir, name)
	var fits []File
	for _, f := range files {
		if f.Name == name || f.Name == below {
			fits = []File{f}
			break
		}
		if path.Base(f.Name) == name {
			fits = append(fits, f)
		}
	}
	if len(fits) == 0 && isDigest(name) {
		fits = withDigest(files, name)
	}
	switch len(fits) {
	case 0:
		return "", "", fmt.Errorf("there is no photo %q in %s: %s", name, filepath.Join(dir, PhotosFolder), availableWords(files, name))
	case 1:
		sha, err := DigestOf(fits[0])
		if err != nil {
			return "", "", fmt.Errorf("%s: %w", fits[0].Name, err)
		}
		return fits[0].Name, sha, nil
	}
	return "", "", fmt.Errorf("several photos are named %q: give the path of one: %s", name, listed(namesOfFiles(fits)))
}

// isDigest reports whether name can be the beginning of a SHA-256 that means one photo.
func isDigest(name string) bool {
	return len(name) >= 8 && len(name) <= 64 && strings.Trim(name, "0123456789abcdef") == ""
}

func DigestOf(f File) (string, error) {
	if f.Refused != nil {
		return "", f.Refused
	}
	raw, err := vision.ReadFile(f.Path)
	if err != nil {
		return "", err
	}
	return HashOf(raw), nil
}

// withDigest returns the photos whose SHA-256 begins with the given digits; of equal ones the first.
func withDigest(files []File, digits string) (fits []File) {
	seen := map[string]bool{}
	for _, f := range files {
		if sha, err := DigestOf(f); err == nil && strings.HasPrefix(sha, digits) && !seen[sha] {
			fits, seen[sha] = append(fits, f), true
		}
	}
	return fits
}

// availableWords names the photos that there are, those first that the name may have meant.
func availableWords(files []File, name string) string {
	if len(files) == 0 {
		return "there are no photos"
	}
	names := namesOfFiles(files)
	if i := slices.IndexFunc(names, func(n string) bool { return path.Base(n) == path.Base(name) }); i >= 0 { // in another folder
		return fmt.Sprintf("did you mean %q?", names[i])
	}
	var stems []string // an ending is no sign of what was meant
	for _, n := range names {
		stems = append(stems, strings.TrimSuffix(n, path.Ext(n)))
	}
	if best := finding.Meant(strings.TrimSuffix(name, path.Ext(name)), stems); best != "" {
		return fmt.Sprintf("did you mean %q?", names[slices.Index(stems, best)])
	}
	stem := strings.ToLower(strings.TrimSuffix(path.Base(name), path.Ext(name)))
	slices.SortStableFunc(names, func(a, b string) int {
		meant := func(name string) bool { return stem != "" && strings.Contains(strings.ToLower(name), stem) }
		switch {
		case meant(a) == meant(b):
			return 0
		case meant(a):
			return -1
		}
		return 1
	})
	return "there are " + listed(names)
}

func namesOfFiles(files []File) []string {
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	return names
}

// listed names the first few of many.
func listed(names []string) string { return wording.First(wording.Quoted(names), 8) }

// BelowPhotos takes off the way to photos/ that a shell's completion leaves in front of a photo.
func BelowPhotos(dir, name string) string {
	name = path.Clean(filepath.ToSlash(name))
	for _, before := range []string{path.Clean(filepath.ToSlash(filepath.Join(dir, PhotosFolder))) + "/", PhotosFolder + "/"} {
		if below, ok := strings.CutPrefix(name, before); ok {
			return below
		}
	}
	return name
}

// PhotoNames returns the paths below photos/ of the trial's photos, for completing a command line.
func PhotoNames(dir string) []string {
	files, _, err := ListPhotos(dir)
	if err != nil {
		return nil
	}
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	return names
}

// PhotoAt returns the photo of the trial that has the path below photos/.
func PhotoAt(dir, photo string) (File, error) {
	files, _, err := ListPhotos(dir)
	if err != nil {
		return File{}, err
	}
	i := slices.IndexFunc(files, func(f File) bool { return f.Name == photo })
	if i < 0 {
		return File{}, fmt.Errorf("there is no photo %q in %s", photo, filepath.Join(dir, PhotosFolder))
	}
	return files[i], nil
}

// PhotoFile returns where a photo of the trial in folder dir lies, by its path below photos/. What Run would not measure, such as a link out
// of the trial, is an error.
func PhotoFile(dir, photo string) (string, error) {
	f, err := PhotoAt(dir, photo)
	if err == nil && f.Refused != nil {
		err = f.Refused
	}
	return f.Path, err
}

// PhotoWith returns the path below photos/ of the photo with the given SHA-256 and number of bytes, "" when there is none.
// Only files of that many bytes are read.
func PhotoWith(dir, sha string, bytes int64) (string, error) {
	files, _, err := ListPhotos(dir)
	if err != nil {
		return "", err
	}
	for _, f := range files {
		info, err := os.Stat(f.Path)
		if f.Refused != nil || err != nil || info.Size() != bytes {
			continue
		}
		if got, err := DigestOf(f); err == nil && got == sha {
			return f.Name, nil
		}
	}
	return "", nil
}

func HashOf(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}
