package measure

import (
	"fmt"
	"path/filepath"
	"strings"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/vision"
	"traygauge/vision/card"
)

// checkPlug reports whether the plan's tray has a plug of that name, and otherwise which it has.
func checkPlug(p *plan.Plan, name string) error {
	for row := range p.Tray.Rows {
		for col := range p.Tray.Columns {
			if plan.PlugName(row, col) == name {
				return nil
			}
		}
	}
	remedy := ""
	if strings.ContainsAny(name, ",;-") {
		remedy = ": list plugs one by one with spaces between them, such as B7 B8"
	}
	return fmt.Errorf("the tray has no plug %q, only %s to %s%s", name, plan.PlugName(0, 0), plan.PlugName(p.Tray.Rows-1, p.Tray.Columns-1), remedy)
}

// checkCorners looks whether corners fit the plan's tray in a photo of the trial in folder dir, and says what would fit. photo is its
// path below photos/.
func checkCorners(dir, photo string, p *plan.Plan, corners correct.Corners) error {
	file := filepath.Join(dir, trialdir.PhotosFolder, filepath.FromSlash(photo))
	picture, err := vision.Open(file)
	if err != nil {
		return fmt.Errorf("%s: %w", photo, err)
	}
	defer picture.Close()
	scene, err := vision.FindCard(picture, vision.CardOptions{RuleMM: p.Card.RuleMM})
	if err != nil {
		return fmt.Errorf("%s: %w", photo, err)
	}
	r := reading.Reading{Grid: &corners}
	tray, err := trayIn(&r, scene, p)
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
