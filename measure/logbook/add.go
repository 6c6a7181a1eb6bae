package logbook

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"traygauge/measure/store"
	"traygauge/measure/wording"
)

// Add adds entries to the log of the trial in folder dir, all of them or none, and makes the log where there is none. add is
// given every line of the log and returns what to add, so that it can tell what was written down before; several programs may add at
// once. Times are kept to the second, in zone. A log in which the new lines could not be read back is left as it is: the error
// names the line that has to be fixed first.
func Add(dir string, zone *time.Location, add func(log []Entry) ([]Entry, error)) error {
	path := filepath.Join(dir, FileName)
	return store.Append(path, maxBytes, func(before []byte) ([]byte, error) {
		log, findings := Parse(before, FileName)
		entries, err := add(log)
		if err != nil || len(entries) == 0 {
			return nil, err
		}
		more, err := lines(entries, zone)
		if err != nil {
			return nil, err
		}
		if len(bytes.TrimSpace(bytes.TrimPrefix(before, []byte("\ufeff")))) == 0 {
			more = append([]byte(Header+"\n"), more...)
		}
		after := append(bytes.Clone(before), '\n')
		if again, _ := Parse(append(after, more...), FileName); len(again) != len(log)+len(entries) {
			if len(findings) > 0 {
				return nil, fmt.Errorf("nothing was added to the log; first fix this: %s", findings[len(findings)-1])
			}
			return nil, fmt.Errorf("nothing was added to %s: the new line could not be read back", path)
		}
		return more, nil
	})
}

// lines writes entries as Parse reads them.
func lines(entries []Entry, zone *time.Location) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	for _, e := range entries {
		tray := ""
		if e.Tray > 0 {
			tray = strconv.Itoa(e.Tray)
		}
		row := []string{e.When.In(zone).Format(time.RFC3339), tray, guarded(wording.OneLine(e.What)), guarded(wording.OneLine(e.Product)), amount(e.AmountML), amount(e.WaterML), guarded(wording.OneLine(e.Note))}
		if err := w.Write(row); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// amount writes millilitres to a hundredth; NaN, which was not written down, is nothing.
func amount(ml float64) string {
	if math.IsNaN(ml) {
		return ""
	}
	return strconv.FormatFloat(math.Round(100*ml)/100, 'f', -1, 64)
}

// guarded puts an apostrophe before text that a spreadsheet would take for a formula, and before one that is there already, so that
// unguarded gives back what was meant.
func guarded(s string) string {
	if wording.FormulaLike(s) || strings.HasPrefix(s, "'") {
		return "'" + s
	}
	return s
}

// unguarded takes off the apostrophe that guarded put there.
func unguarded(s string) string {
	if rest, ok := strings.CutPrefix(s, "'"); ok && (wording.FormulaLike(rest) || strings.HasPrefix(rest, "'")) {
		return rest
	}
	return s
}
