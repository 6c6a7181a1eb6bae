// Package blind records when treatment names were hidden from reviewers, and reports whether corrections were made blind. A
// reviewer who does not know the treatment of a tray cannot favour it.
//
//	in    blind.jsonl, the trial's corrections
//	out   whether names are hidden, and a sentence for the report
//
// It must not depend on what the pages hide.
package blind

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"traygauge/measure/correct"
	"traygauge/measure/store"
)

// fileName is the name of the file in a trial's folder: JSON, one line each time names were hidden or shown, only ever added to.
const fileName = "blind.jsonl"

// mostBytes is the largest file that is read or added to: some 10 000 lines.
const mostBytes = 1 << 20

// The longest name of a person that is kept, in bytes.
const mostWho = correct.MostWho

// Line says that treatment names were hidden, or shown, from then on.
type Line struct {
	When   time.Time `json:"when"`
	Who    string    `json:"who"`
	Hidden bool      `json:"hidden"`
	After  int       `json:"after"` // the last correction's number then; 0: none was made yet
}

// Log is all that was hidden and shown, in its order.
type Log []Line

// Hidden reports whether names are hidden now.
func (l Log) Hidden() bool { return len(l) > 0 && l[len(l)-1].Hidden }

// hiddenAt reports whether names were hidden when the correction with that number was made.
func (l Log) hiddenAt(id int) bool {
	hidden := false
	for _, line := range l {
		if line.After < id {
			hidden = line.Hidden
		}
	}
	return hidden
}

// Load reads the log of the trial in folder dir; one that is not there is empty. A line that cannot be read is an error, because
// leaving it out could make a trial look blind.
func Load(dir string) (Log, error) {
	path := filepath.Join(dir, fileName)
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("cannot read %s: %w", path, err)
	case !info.Mode().IsRegular() || info.Size() > mostBytes:
		return nil, fmt.Errorf("%s is not a regular file below %d MiB: check that it belongs to this trial", path, mostBytes>>20)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", path, err)
	}
	return parse(text)
}

func parse(text []byte) (Log, error) {
	var l Log
	lines := bytes.Split(text, []byte("\n"))
	for i, line := range lines {
		line = bytes.TrimSpace(line)
		if len(line) == 0 {
			continue
		}
		var got Line
		dec := json.NewDecoder(bytes.NewReader(line))
		dec.DisallowUnknownFields()
		err := dec.Decode(&got)
		switch {
		case err != nil || dec.More():
			return nil, fmt.Errorf("%s:%d: this line cannot be read: fix it; otherwise the report cannot say which photos were reviewed blind", fileName, i+1)
		case got.When.IsZero() || got.After < 0 || strings.TrimSpace(got.Who) == "":
			return nil, fmt.Errorf("%s:%d: this line has no time, name or correction number: fix it", fileName, i+1)
		}
		l = append(l, got)
	}
	return l, nil
}

// Set hides treatment names in the trial in folder dir, or shows them, from now on, and returns the log. What is so already is
// not written down again.
func Set(dir, who string, hidden bool, now time.Time) (Log, error) {
	who = strings.Join(strings.Fields(strings.ToValidUTF8(who, "")), " ")
	if who == "" || len(who) > mostWho {
		return nil, fmt.Errorf("give the name or nickname of the reviewer, at most %d bytes", mostWho)
	}
	var l Log
	err := store.Append(filepath.Join(dir, fileName), mostBytes, func(before []byte) ([]byte, error) {
		var err error
		if l, err = parse(before); err != nil || l.Hidden() == hidden {
			return nil, err
		}
		made, err := correct.Load(dir)
		if err != nil {
			return nil, err
		}
		line := Line{When: now.Truncate(time.Second), Who: who, Hidden: hidden}
		for _, c := range made.Made {
			line.After = max(line.After, c.ID)
		}
		l = append(l, line)
		text, err := json.Marshal(line)
		return append(text, '\n'), err
	})
	return l, err
}

// Words says whether the trial in folder dir was reviewed blind, in a sentence or two for its report; "" where nothing was
// corrected or hidden. Undone corrections and undoings count as well: they too were someone's choice. Times are in zone; without one, when
// names were hidden and by whom is left out, as for a public report.
func Words(dir string, zone *time.Location) (string, error) {
	l, err := Load(dir)
	if err != nil {
		return "", err
	}
	made, err := correct.Load(dir)
	if err != nil {
		return "", err
	}
	return l.words(made.Made, zone), nil
}

func (l Log) words(made []correct.Correction, zone *time.Location) string {
	blind := 0
	for _, c := range made {
		if l.hiddenAt(c.ID) {
			blind++
		}
	}
	switch {
	case len(l) == 0 && len(made) == 0:
		return ""
	case len(l) == 0:
		return fmt.Sprintf("Not blind: treatment names were not hidden while %s.", correctionsWere(len(made)))
	case len(made) == 0:
		return "Blind: the photos were reviewed with treatment names hidden. Nothing was corrected." + l.spans(zone)
	case blind == len(made):
		return fmt.Sprintf("Blind: treatment names were hidden while %s.", correctionsWere(len(made))) + l.spans(zone)
	}
	return fmt.Sprintf("Partly blind: treatment names were hidden for %d of %d corrections, including undone ones.", blind, len(made)) + l.spans(zone)
}

func correctionsWere(n int) string {
	if n == 1 {
		return "the one correction was made"
	}
	return fmt.Sprintf("all %d corrections, including undone ones, were made", n)
}

// spans says when names were hidden and shown.
func (l Log) spans(zone *time.Location) string {
	if zone == nil {
		return ""
	}
	var words []string
	for _, line := range l {
		what := "shown"
		if line.Hidden {
			what = "hidden"
		}
		words = append(words, fmt.Sprintf("%s on %s by %s", what, line.When.In(zone).Format("2006-01-02 15:04"), line.Who))
	}
	end := ""
	if l.Hidden() {
		end = " and still are"
	}
	return " They were " + strings.Join(words, ", ") + end + "."
}
