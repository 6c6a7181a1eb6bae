package report

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"traygauge/measure"
)

// ReadReadings returns the readings in folder dir, in the order of the files' names, and an error for each file that is
// none. A folder that is not there holds no readings. A broken file stops nothing: it can be made again from its photo.
func ReadReadings(dir string) (readings []measure.Reading, broken []error, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, nil, err
	}
	for _, e := range entries {
		if filepath.Ext(e.Name()) != ".json" || e.Name()[0] == '.' { // a leading dot is a file half written
			continue
		}
		path := filepath.Join(dir, e.Name())
		r, err := readReading(path)
		if err != nil {
			broken = append(broken, fmt.Errorf("%s: %w: delete it and run measure again", path, err))
			continue
		}
		readings = append(readings, r)
	}
	return readings, broken, nil
}

func readReading(path string) (r measure.Reading, err error) {
	text, err := os.ReadFile(path)
	if err != nil {
		var at *os.PathError
		if errors.As(err, &at) {
			err = at.Err // the caller names the file
		}
		return r, fmt.Errorf("cannot be read: %w", err)
	}
	if err := json.Unmarshal(text, &r); err != nil {
		return r, fmt.Errorf("is not a reading: %w", err)
	}
	if r.Photo == "" {
		return r, errors.New("is not a reading: it names no photo")
	}
	return r, nil
}
