package plan

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"traygauge/measure/store"
	"traygauge/vision/lens"
)

// LensesName is the file in a trial's folder that holds the profiles of its cameras' lenses.
const LensesName = "lens.json"

// maxLensBytes is the largest file of profiles that is read; one profile takes 1 kB.
const maxLensBytes = 1 << 20

// Lenses is what the file of profiles holds.
type Lenses struct {
	Lenses []lens.Profile `json:"lenses"`
}

// LoadLenses reads the lens profiles of the trial in folder dir. A folder without any has none.
func LoadLenses(dir string) ([]lens.Profile, error) {
	name := filepath.Join(dir, LensesName)
	text, err := store.ReadLimited(name, maxLensBytes)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	profiles, err := parseLenses(text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w: delete it and run `traygauge lens` again", name, err)
	}
	return profiles, nil
}

// parseLenses reads profiles from text and refuses what cannot be a lens.
func parseLenses(text []byte) ([]lens.Profile, error) {
	var all Lenses
	if err := json.Unmarshal(text, &all); err != nil {
		return nil, fmt.Errorf("is damaged (%w)", err)
	}
	for i, p := range all.Lenses {
		if !p.Named() || !(p.Aspect > 0) {
			return nil, fmt.Errorf("profile %d does not name its lens", i+1)
		}
		// From a fisheye's 8 mm to a telescope's 2000 mm, as 35 mm equivalents over the frame's 43 mm diagonal.
		if !(p.Focal > 0.15 && p.Focal < 50) || !(math.Abs(p.MiddleX) < 0.2 && math.Abs(p.MiddleY) < 0.2) {
			return nil, fmt.Errorf("profile %d (%s) is not a possible lens", i+1, p.Camera)
		}
		for k := range p.Covariance {
			if !(p.Covariance[k][k] >= 0) {
				return nil, fmt.Errorf("profile %d (%s) has no uncertainty", i+1, p.Camera)
			}
		}
	}
	return all.Lenses, nil
}
