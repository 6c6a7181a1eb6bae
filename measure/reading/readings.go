package reading

import (
	"bytes"
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

	"traygauge/measure/correct"
	"traygauge/measure/trialdir"
)

// MostReadingBytes is the largest reading that is read back. A tray of 26 × 99 plugs needs some 1.5 MB.
const MostReadingBytes = 8 << 20

// FileName is what a reading's file is called: the photo's SHA-256.
var FileName = regexp.MustCompile(`^[0-9a-f]{64}\.json$`)

func Path(dir, sha string) string {
	return filepath.Join(dir, trialdir.ReadingsFolder, sha+".json")
}

// LoadReadings reads the readings of the trial in folder dir, in the order of their photos' names, corrected as it is written
// in the trial now. A broken one costs itself only: it is among the errors, by name and with what to do, and so are
// corrections that cannot be used. No readings at all is not an error.
func LoadReadings(dir string) ([]Reading, []error) {
	folder := filepath.Join(dir, trialdir.ReadingsFolder)
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, []error{fmt.Errorf("cannot list %s: %w", folder, trialdir.PlainCause(err))}
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
		if FileName.MatchString(e.Name()) {
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
				all[i].reading, all[i].err = LoadOne(names[i])
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

// LoadOne reads one reading. The error names the file and what to do.
func LoadOne(name string) (Reading, error) {
	broken := func(why any) (Reading, error) {
		return Reading{}, fmt.Errorf("%s: %v: delete it and run `traygauge measure` again", name, why)
	}
	info, err := os.Stat(name)
	if err != nil {
		return broken(trialdir.PlainCause(err))
	}
	if !info.Mode().IsRegular() || info.Size() > MostReadingBytes {
		return broken("is not a reading")
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return broken(trialdir.PlainCause(err))
	}
	r, err := Parse(text, strings.TrimSuffix(filepath.Base(name), ".json"))
	if err != nil {
		return broken(err)
	}
	return r, nil
}

// Parse reads the reading of the photo with the given SHA-256.
func Parse(text []byte, sha string) (Reading, error) {
	r := Blank()
	if err := json.NewDecoder(bytes.NewReader(text)).Decode(&r); err != nil {
		return r, fmt.Errorf("is damaged (%v)", err)
	}
	if r.SHA256 != sha || r.Photo == "" {
		return r, errors.New("does not match its file name")
	}
	if r.Seal != "" && r.Seal != sealOf(text) {
		return r, errors.New("was edited by hand, which only a correction may do")
	}
	r.Seal = ""
	return r, r.possible()
}

// sealLine holds a reading's seal: a digest of the whole file with noughts in the seal's place, by which a change by hand or a fault of the disk
// shows.
var sealLine = regexp.MustCompile(`"seal": "[0-9a-f]{16}"`)

const noSeal = `"seal": "0000000000000000"`

func sealOf(text []byte) string {
	return trialdir.HashOf(sealLine.ReplaceAll(text, []byte(noSeal)))[:16]
}

// sealed writes the reading as JSON with its seal.
func sealed(r Reading) func(io.Writer) error {
	return func(w io.Writer) error {
		var text bytes.Buffer
		r.Seal = strings.Repeat("0", 16)
		if err := JSONWriter(r)(&text); err != nil {
			return err
		}
		_, err := w.Write(bytes.Replace(text.Bytes(), []byte(noSeal), []byte(`"seal": "`+sealOf(text.Bytes())+`"`), 1))
		return err
	}
}

// Blank is a reading of which nothing is known.
func Blank() Reading {
	var r Reading
	r.Clear()
	return r
}

// Clear makes all figures of r missing.
func (r *Reading) Clear() {
	r.PxPerMM, r.TiltDeg, r.HeightMM = Missing, Missing, Missing
	r.ResidualPx, r.ResidualMM, r.CanopyCoverPct = Missing, Missing, Missing
	r.MTF50PerMM, r.PaperLightPct, r.ClippedPct = Missing, Missing, Missing
	r.PitchRatio, r.PitchRatioU, r.CardChroma, r.CardGreenOffDeg = Missing, Missing, Missing, Missing
	r.Plugs, r.PlugsAt = nil, nil
}

// Fatal reports whether nothing could be measured.
func (r Reading) Fatal() bool {
	return slices.ContainsFunc(r.Concerns, func(c Concern) bool { return c.Fatal })
}

// JSONWriter returns what writes v as indented JSON.
func JSONWriter(v any) func(io.Writer) error {
	return func(w io.Writer) error {
		enc := json.NewEncoder(w)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		return enc.Encode(v)
	}
}
