package measure

import (
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/vision"
	"traygauge/vision/card"
)

// PhotoNamed finds a photo of the trial in folder dir by its path below photos/, as typed or as a shell completes it, by its
// file's name where only one photo has it, or by the first eight or more digits of its SHA-256, and returns its path and SHA-256. A name that fits none, or several, is an
// error that says which there are.
func PhotoNamed(dir, name string) (photo, sha string, err error) {
	files, _, err := listPhotos(dir)
	if err != nil {
		return "", "", err
	}
	below := belowPhotos(dir, name)
	var fits []photoFile
	for _, f := range files {
		if f.name == name || f.name == below {
			fits = []photoFile{f}
			break
		}
		if path.Base(f.name) == name {
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
		sha, err := digestOf(fits[0])
		if err != nil {
			return "", "", fmt.Errorf("%s: %w", fits[0].name, err)
		}
		return fits[0].name, sha, nil
	}
	return "", "", fmt.Errorf("several photos are called %q: say which by its path: %s", name, listed(namesOfFiles(fits)))
}

// isDigest reports whether name can be the beginning of a SHA-256 that means one photo.
func isDigest(name string) bool {
	return len(name) >= 8 && len(name) <= 64 && strings.Trim(name, "0123456789abcdef") == ""
}

func digestOf(f photoFile) (string, error) {
	if f.refused != nil {
		return "", f.refused
	}
	raw, err := vision.ReadFile(f.path)
	if err != nil {
		return "", err
	}
	return hashOf(raw), nil
}

// withDigest returns the photos whose SHA-256 begins with the given digits; of equal ones the first.
func withDigest(files []photoFile, digits string) (fits []photoFile) {
	seen := map[string]bool{}
	for _, f := range files {
		if sha, err := digestOf(f); err == nil && strings.HasPrefix(sha, digits) && !seen[sha] {
			fits, seen[sha] = append(fits, f), true
		}
	}
	return fits
}

// availableWords names the photos that there are, those first that the name may have meant.
func availableWords(files []photoFile, name string) string {
	if len(files) == 0 {
		return "there is none at all"
	}
	names := namesOfFiles(files)
	stem := strings.ToLower(strings.TrimSuffix(path.Base(name), path.Ext(name)))
	slices.SortStableFunc(names, func(a, b string) int {
		return count(stem != "" && strings.Contains(strings.ToLower(b), stem)) - count(stem != "" && strings.Contains(strings.ToLower(a), stem))
	})
	return "there are " + listed(names)
}

func namesOfFiles(files []photoFile) []string {
	var names []string
	for _, f := range files {
		names = append(names, f.name)
	}
	return names
}

// listed names the first few of many.
func listed(names []string) string {
	const most = 8
	words := make([]string, min(most, len(names)))
	for i := range words {
		words[i] = fmt.Sprintf("%q", names[i])
	}
	list := strings.Join(words, ", ")
	if more := len(names) - most; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}

// CheckPlug reports whether the plan's tray has a plug of that name, and otherwise which it has.
func CheckPlug(p *plan.Plan, name string) error {
	for row := range p.Tray.Rows {
		for col := range p.Tray.Columns {
			if plan.PlugName(row, col) == name {
				return nil
			}
		}
	}
	return fmt.Errorf("the tray has no plug %q: its plugs are %s to %s", name, plan.PlugName(0, 0), plan.PlugName(p.Tray.Rows-1, p.Tray.Columns-1))
}

// CheckCorners looks whether corners fit the plan's tray in a photo of the trial in folder dir, and says what would fit. photo is its
// path below photos/.
func CheckCorners(dir, photo string, p *plan.Plan, corners correct.Corners) error {
	file := filepath.Join(dir, PhotosFolder, filepath.FromSlash(photo))
	picture, err := vision.Open(file)
	if err != nil {
		return fmt.Errorf("%s: %w", photo, err)
	}
	defer picture.Close()
	scene, err := vision.FindCard(picture, vision.CardOptions{RuleMM: p.Card.RuleMM})
	if err != nil {
		return fmt.Errorf("%s: %w", photo, err)
	}
	r := Reading{Grid: &corners}
	tray, err := r.trayIn(scene, p)
	if err == nil {
		return nil
	}
	tray.Grid = nil
	found, foundErr := gridFound(scene, tray)
	if foundErr != nil {
		return fmt.Errorf("%s: %w", photo, err)
	}
	words := ""
	for i, c := range vision.GridCorners(scene, tray, found) {
		words += fmt.Sprintf(" %.0f,%.0f (%s)", c.X, c.Y, cornerNames(p)[i])
	}
	return fmt.Errorf("%s: %w; they were found at%s in a photo of %d × %d pixels", photo, err, words, picture.Width, picture.Height)
}

// gridFound returns where the photo shows the plugs to be.
func gridFound(s *vision.Scene, t vision.Tray) (vision.Grid, error) {
	if s.Face == card.Roots {
		_, grid, err := vision.Roots(s, t)
		return grid, err
	}
	_, grid, err := vision.Leaves(s, t, vision.LeafOptions{})
	return grid, err
}

// cornerNames names the plugs in the tray's corners, in the order of correct.Corners.
func cornerNames(p *plan.Plan) [4]string {
	row, col := p.Tray.Rows-1, p.Tray.Columns-1
	return [4]string{plan.PlugName(0, 0), plan.PlugName(0, col), plan.PlugName(row, col), plan.PlugName(row, 0)}
}
