package measure

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
	"traygauge/vision"
	"traygauge/vision/lens"
)

// Audit says of which readings the trial does not vouch: those that were made with another plan or version of the program, and those whose
// photo is gone or is another one by now; and which photos have no reading. A trial without a folder photos/ was handed on without them: then
// nothing is said of photos. Each appears once; the remedy is the same, to measure again.
func Audit(dir string, p *plan.Plan, version string, readings []reading.Reading) []reading.TrialConcern {
	again := "run `traygauge measure " + wording.Typed(dir) + "` again"
	var all []reading.TrialConcern
	tell := func(photo string, kind reading.Kind, words, remedy string) {
		all = append(all, reading.TrialConcern{Photos: []string{photo}, Concern: reading.Concern{Kind: kind, Words: words, Remedy: remedy}})
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
		case there && !isThere && !present[r.SHA256] && r.ExcludedBy() != nil: // counts nowhere
		case there && !isThere && !present[r.SHA256]:
			tell(r.Photo, reading.PhotoGone, "is missing, but its figures still count", "put it back, or "+again+" to remove them")
		case isThere && now.digest != "" && now.digest != r.SHA256 && !present[r.SHA256]:
			tell(r.Photo, reading.PhotoGone, "is not the photo that was measured", again)
			measured[now.digest] = true // reported
		case r.Settings != settings:
			tell(r.Photo, reading.MeasuredOtherwise, "was measured with a different plan or program version", again)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(photos)) {
		switch f := photos[name]; {
		case f.err != nil:
			tell(name, reading.NotMeasured, fmt.Sprintf("cannot be read (%v) and is not used", trialdir.PlainCause(f.err)), "fix it and "+again)
		case !measured[f.digest]:
			tell(name, reading.NotMeasured, "has not been measured and is not used", again)
		}
	}
	slices.SortStableFunc(all, func(a, b reading.TrialConcern) int { return cmp.Compare(a.Photos[0], b.Photos[0]) })
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

// SettingsOf returns a digest of all that changes what a photo's reading says beside the photo itself: the tray's shape,
// the card, the limits, the day count behind the leaves' height, the zone, the lenses, the program's version and its coverage networks.
func SettingsOf(p *plan.Plan, version string) string {
	zone := ""
	if p.Zone != nil {
		zone = p.Zone.String()
	}
	text, err := json.Marshal(struct {
		Tray          plan.TrayShape
		Card          plan.Card
		Limits        plan.Limits
		Sown          time.Time
		Zone, Version string
		Lenses        []lens.Profile
		Networks      [2]string
	}{p.Tray, p.Card, p.Limits, p.Sown.UTC(), zone, version, p.Lenses, vision.Networks()})
	if err != nil { // only a figure that is no number gets here, and then nothing must be taken for the same
		return "none"
	}
	return trialdir.HashOf(text)[:16]
}
