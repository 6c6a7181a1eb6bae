package measure

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/vision"
	"traygauge/vision/lens"
)

// MostReadingBytes is the largest reading that is read back. A tray of 26 × 99 plugs needs some 1.5 MB.
const MostReadingBytes = 8 << 20

// readingName is what a reading's file is called: the photo's SHA-256.
var readingName = regexp.MustCompile(`^[0-9a-f]{64}\.json$`)

func readingPath(dir, sha string) string { return filepath.Join(dir, ReadingsFolder, sha+".json") }

func hashOf(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
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
	return hashOf(text)[:16]
}

// LoadReadings reads the readings of the trial in folder dir, in the order of their photos' names, corrected as it is written
// in the trial now. A broken one costs itself only: it is among the errors, by name and with what to do, and so are
// corrections that cannot be used. No readings at all is not an error.
func LoadReadings(dir string) ([]Reading, []error) {
	folder := filepath.Join(dir, ReadingsFolder)
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, []error{fmt.Errorf("cannot list %s: %w", folder, plainCause(err))}
	}
	var readings []Reading
	var errs []error
	corrections, broken := correct.Load(dir)
	if broken != nil {
		errs = append(errs, broken)
	}
	for _, p := range corrections.Problems {
		errs = append(errs, p)
	}
	var names []string
	for _, e := range entries {
		if readingName.MatchString(e.Name()) {
			names = append(names, filepath.Join(folder, e.Name()))
		}
	}
	for _, l := range loadAll(names) {
		r, err := l.reading, l.err
		if err != nil {
			errs = append(errs, err)
			continue
		}
		if broken == nil {
			r.Correct(corrections.Of(r.SHA256))
		}
		readings = append(readings, r)
	}
	slices.SortStableFunc(readings, func(a, b Reading) int { return strings.Compare(a.Photo, b.Photo) })
	return readings, errs
}

type loaded struct {
	reading Reading
	err     error
}

// loadAll reads readings in the order of their names, several at a time: a trial of sixty trays on eight days has a thousand.
func loadAll(names []string) []loaded {
	all := make([]loaded, len(names))
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(runtime.NumCPU(), len(names)) {
		wg.Go(func() {
			for i := range next {
				all[i].reading, all[i].err = loadReading(names[i])
			}
		})
	}
	for i := range names {
		next <- i
	}
	close(next)
	wg.Wait()
	return all
}

// loadReading reads one reading. The error names the file and what to do.
func loadReading(name string) (Reading, error) {
	broken := func(why any) (Reading, error) {
		return Reading{}, fmt.Errorf("%s: %v: delete it and run `traygauge measure` again", name, why)
	}
	info, err := os.Stat(name)
	if err != nil {
		return broken(plainCause(err))
	}
	if !info.Mode().IsRegular() || info.Size() > MostReadingBytes {
		return broken("is not a reading")
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return broken(plainCause(err))
	}
	r, err := parseReading(text, strings.TrimSuffix(filepath.Base(name), ".json"))
	if err != nil {
		return broken(err)
	}
	return r, nil
}

// parseReading reads the reading of the photo with the given SHA-256.
func parseReading(text []byte, sha string) (Reading, error) {
	r := blank()
	if err := json.NewDecoder(bytes.NewReader(text)).Decode(&r); err != nil {
		return r, fmt.Errorf("is broken (%v)", err)
	}
	if r.SHA256 != sha || r.Photo == "" {
		return r, errors.New("is not the reading that its name says")
	}
	if r.Seal != "" && r.Seal != sealOf(text) {
		return r, errors.New("was changed by hand: change a figure by a correction, with its reason")
	}
	r.Seal = ""
	return r, r.possible()
}

// sealLine holds a reading's seal: a digest of the whole file with noughts in the seal's place, by which a change by hand or a fault of the disk
// shows.
var sealLine = regexp.MustCompile(`"seal": "[0-9a-f]{16}"`)

const noSeal = `"seal": "0000000000000000"`

func sealOf(text []byte) string { return hashOf(sealLine.ReplaceAll(text, []byte(noSeal)))[:16] }

// sealed writes the reading as JSON with its seal.
func sealed(r Reading) func(io.Writer) error {
	return func(w io.Writer) error {
		var text bytes.Buffer
		r.Seal = strings.Repeat("0", 16)
		if err := jsonWriter(r)(&text); err != nil {
			return err
		}
		_, err := w.Write(bytes.Replace(text.Bytes(), []byte(noSeal), []byte(`"seal": "`+sealOf(text.Bytes())+`"`), 1))
		return err
	}
}

// blank is a reading of which nothing is known.
func blank() Reading {
	var r Reading
	r.clear()
	return r
}

// clear makes all figures of r missing.
func (r *Reading) clear() {
	r.PxPerMM, r.TiltDeg, r.HeightMM = Missing, Missing, Missing
	r.ResidualPx, r.ResidualMM, r.CanopyCoverPct = Missing, Missing, Missing
	r.MTF50PerMM, r.PaperLightPct, r.ClippedPct = Missing, Missing, Missing
	r.PitchRatio, r.PitchRatioU, r.CardChroma, r.CardGreenOffDeg = Missing, Missing, Missing, Missing
	r.Plugs, r.PlugsAt = nil, nil
}

// fatal reports whether nothing could be measured.
func (r Reading) fatal() bool {
	return slices.ContainsFunc(r.Concerns, func(c Concern) bool { return c.Fatal })
}

// jsonWriter returns what writes v as indented JSON.
func jsonWriter(v any) func(io.Writer) error {
	return func(w io.Writer) error {
		enc := json.NewEncoder(w)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		return enc.Encode(v)
	}
}

// removeStale removes readings of photos that are no longer in the trial, so that no result speaks of them, with their
// overlays, and the overlays that renamed photos left behind under their former names. Other files in overlays/ are not ours.
func removeStale(dir string, readings []Reading, formerNames []string) error {
	keep, keepOverlay := map[string]bool{}, map[string]bool{}
	for _, r := range readings {
		keep[r.SHA256+".json"] = true
		keepOverlay[OverlayPath(dir, r.Photo)] = true
	}
	entries, err := os.ReadDir(filepath.Join(dir, ReadingsFolder))
	if err != nil {
		return fmt.Errorf("cannot list the readings: %w", err)
	}
	for _, e := range entries {
		if !readingName.MatchString(e.Name()) || keep[e.Name()] {
			continue
		}
		path := filepath.Join(dir, ReadingsFolder, e.Name())
		if old, err := loadReading(path); err == nil {
			formerNames = append(formerNames, old.Photo)
		}
		if err := os.Remove(path); err != nil {
			return fmt.Errorf("cannot remove the reading of a photo that is gone: %w", err)
		}
	}
	for _, name := range formerNames {
		if path := OverlayPath(dir, name); name != "" && !keepOverlay[path] && isFile(path) {
			if err := os.Remove(path); err != nil {
				return fmt.Errorf("cannot remove the overlay of a photo that is gone: %w", err)
			}
		}
	}
	return nil
}
