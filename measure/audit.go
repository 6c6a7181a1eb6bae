package measure

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"traygauge/measure/plan"
	"traygauge/measure/trialdir"
)

// The kinds of concern about readings that their trial does not vouch for.
const (
	staleReading  = "measured otherwise"
	orphanReading = "photo gone"
	notMeasured   = "not measured"
)

// Audit says of which readings the trial does not vouch: those that were made with another plan or version of the program, and those whose
// photo is gone or is another one by now; and which photos have no reading. A trial without a folder photos/ was handed on without them: then
// nothing is said of photos. Each appears once; the remedy is the same, to measure again.
func Audit(dir string, p *plan.Plan, version string, readings []Reading) []TrialConcern {
	again := "run `traygauge measure " + dir + "` again"
	var all []TrialConcern
	tell := func(photo, kind, words, remedy string) {
		all = append(all, TrialConcern{[]string{photo}, Concern{Kind: kind, Words: words, Remedy: remedy}})
	}
	photos, there := photoDigests(dir)
	settings := SettingsOf(p, version)
	measured, present := map[string]bool{}, map[string]bool{}
	for _, f := range photos {
		present[f.digest] = true
	}
	for _, r := range readings {
		measured[r.SHA256] = true
		now, isThere := photos[r.Photo]
		switch {
		case there && !isThere && !present[r.SHA256]:
			tell(r.Photo, orphanReading, "is gone, but its figures still count", "put it back, or "+again+" to take them out")
		case isThere && now.digest != "" && now.digest != r.SHA256 && !present[r.SHA256]:
			tell(r.Photo, orphanReading, "is another photo than the one that was measured", again)
			measured[now.digest] = true // reported
		case r.Settings != settings:
			tell(r.Photo, staleReading, "was measured with another plan or program version", again)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(photos)) {
		switch f := photos[name]; {
		case f.err != nil:
			tell(name, notMeasured, fmt.Sprintf("cannot be read (%v) and counts nowhere", trialdir.PlainCause(f.err)), "put it right and "+again)
		case !measured[f.digest]:
			tell(name, notMeasured, "has not been measured and counts nowhere", again)
		}
	}
	slices.SortStableFunc(all, func(a, b TrialConcern) int { return cmp.Compare(a.Photos[0], b.Photos[0]) })
	return all
}

// digested is a photo's SHA-256, or why there is none.
type digested struct {
	digest string
	err    error
}

// photoDigests returns the digests of the photos in dir; there is false when it has no folder for them.
func photoDigests(dir string) (photos map[string]digested, there bool) {
	if _, err := os.Stat(filepath.Join(dir, trialdir.PhotosFolder)); errors.Is(err, os.ErrNotExist) {
		return nil, false
	}
	files, _, err := trialdir.ListPhotos(dir)
	if err != nil {
		return nil, false // `measure` reports it
	}
	photos = map[string]digested{}
	for _, f := range files {
		if f.Refused != nil {
			photos[f.Name] = digested{err: errors.New(f.Refused.Words)}
			continue
		}
		digest, err := trialdir.DigestOf(f)
		photos[f.Name] = digested{digest, err}
	}
	return photos, true
}

// possible returns what about r's figures cannot be, or nil: such a reading was changed by hand or by a fault.
func (r Reading) possible() error {
	for _, n := range []struct {
		name     string
		v        Number
		low, top float64
	}{
		{"px_per_mm", r.PxPerMM, 0, 1000}, {"tilt_deg", r.TiltDeg, 0, 90}, {"canopy_cover_pct", r.CanopyCoverPct, 0, 500},
		{"paper_light_pct", r.PaperLightPct, 0, 100.01}, {"clipped_pct", r.ClippedPct, 0, 100.01},
	} {
		if n.v.Known() && !(float64(n.v) >= n.low && float64(n.v) <= n.top) {
			return fmt.Errorf("holds %s = %g, which cannot be", n.name, float64(n.v))
		}
	}
	names := map[string]bool{}
	for _, p := range append(slices.Clone(r.Plugs), r.AsMeasured...) {
		if err := p.possible(); err != nil {
			return err
		}
	}
	for _, p := range r.Plugs {
		if names[p.Name] {
			return fmt.Errorf("holds plug %s twice", p.Name)
		}
		names[p.Name] = true
	}
	return nil
}

// No plug is larger than a square metre, and none has a kilometre of roots.
const (
	mostAreaMM2  = 1e6
	mostLengthMM = 1e6
)

func (p Plug) possible() error {
	if !slices.Contains([]State{Planted, Empty, Hidden, Excluded}, p.State) {
		return fmt.Errorf("says that plug %s is %q, which cannot be", p.Name, p.State)
	}
	for _, n := range []struct {
		name string
		v    Number
		most float64
	}{
		{"root_area_mm2", p.RootAreaMM2, mostAreaMM2}, {"root_area_u_mm2", p.RootAreaUMM2, mostAreaMM2}, {"root_cover_pct", p.RootCoverPct, 100},
		{"root_length_mm", p.RootLengthMM, mostLengthMM}, {"root_length_u_mm", p.RootLengthUMM, mostLengthMM},
		{"root_browning_pct", p.RootBrowningPct, 100}, {"plug_area_mm2", p.PlugAreaMM2, mostAreaMM2}, {"plug_area_u_mm2", p.PlugAreaUMM2, mostAreaMM2},
		{"leaf_area_mm2", p.LeafAreaMM2, mostAreaMM2}, {"leaf_area_u_mm2", p.LeafAreaUMM2, mostAreaMM2}, {"chlorotic_pct", p.ChloroticPct, 100},
		{"leaf_hue_deg", p.LeafHueDeg, 360},
	} {
		if v := float64(n.v); n.v.Known() && !(v >= 0 && v <= n.most) {
			return fmt.Errorf("holds %s = %g for plug %s, which cannot be", n.name, v, p.Name)
		}
	}
	return nil
}
