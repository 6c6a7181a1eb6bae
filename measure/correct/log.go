package correct

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// FileName is the name of the corrections in a trial's folder: JSON, one correction a line (JSON Lines).
const FileName = "corrections.jsonl"

// MostBytes is the largest file that is read or added to: some 50 000 corrections.
const MostBytes = 16 << 20

// Log is all that was corrected in a trial.
type Log struct {
	Made     []Correction // in the order in which they were made, undone ones and undoings as well
	Problems []Problem    // lines that could not be used

	place  map[int]int // by number: where in Made it is
	undone map[int]int // by number: the correction that undid it
	cut    bool        // the text does not end with a line's end
}

// Problem is a line that cannot be used.
type Problem struct {
	Line  int
	Words string // what is wrong and what to do
}

func (p Problem) Error() string { return fmt.Sprintf("%s:%d: %s", FileName, p.Line, p.Words) }

// Load reads the corrections of the trial in folder dir; none were made where there is no such file. A line that cannot be used is
// among the problems; the error is for a file that cannot be read at all.
func Load(dir string) (Log, error) {
	path := filepath.Join(dir, FileName)
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return Log{}, nil
	}
	if err != nil {
		return Log{}, fmt.Errorf("cannot read %s: %w", path, err)
	}
	if !info.Mode().IsRegular() {
		return Log{}, fmt.Errorf("%s is not a regular file: move it away, because corrections are saved there", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return Log{}, fmt.Errorf("cannot read the trial’s corrections: %w: check that you have permission to read them", err)
	}
	defer f.Close()
	unlock, err := lock(path, true) // a line that is just being added is not one that was cut off
	if err != nil {
		return Log{}, err
	}
	defer unlock()
	return read(f, path)
}

func read(f io.Reader, path string) (Log, error) {
	text, err := io.ReadAll(io.LimitReader(f, MostBytes+1))
	if err != nil {
		return Log{}, fmt.Errorf("cannot read the trial’s corrections: %w", err)
	}
	if len(text) > MostBytes {
		return Log{}, fmt.Errorf("%s is larger than %d MiB: check that it belongs to this trial", path, MostBytes>>20)
	}
	return parse(text), nil
}

// parse reads corrections from the text of a file.
func parse(text []byte) Log {
	l := Log{place: map[int]int{}, undone: map[int]int{}, cut: len(text) > 0 && text[len(text)-1] != '\n'}
	lines := bytes.Split(text, []byte("\n"))
	for i, line := range lines {
		line = bytes.TrimSpace(line)
		if len(line) == 0 {
			continue
		}
		c, err := parseLine(line)
		if err == nil {
			err = l.take(c)
		}
		switch {
		case err == nil:
		case l.cut && i == len(lines)-1 && !json.Valid(line):
			l.problem(i, "was cut off while it was written, and is ignored: make that correction again")
		default:
			l.problem(i, "is ignored: "+err.Error())
		}
	}
	return l
}

func (l *Log) problem(i int, words string) {
	l.Problems = append(l.Problems, Problem{i + 1, words})
}

func parseLine(line []byte) (Correction, error) {
	var c Correction
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields() // what a later version means by it, this one cannot do
	if err := dec.Decode(&c); err != nil {
		return c, fmt.Errorf("the line cannot be read (%v): fix it, or delete it and make the correction again", err)
	}
	if dec.More() {
		return c, errors.New("there is more than one correction on the line: give each its own line")
	}
	return c, c.check()
}

// take adds c if it can follow what was made before.
func (l *Log) take(c Correction) error {
	if _, taken := l.byID(c.ID); taken {
		return fmt.Errorf("two corrections have the number %d: give this one a new number", c.ID)
	}
	if c.What == Undo {
		if err := l.canUndo(c.Undoes); err != nil {
			return err
		}
		l.undone[c.Undoes] = c.ID
	}
	l.place[c.ID] = len(l.Made)
	l.Made = append(l.Made, c)
	return nil
}

func (l *Log) byID(id int) (Correction, bool) {
	i, made := l.place[id]
	if !made {
		return Correction{}, false
	}
	return l.Made[i], true
}

func (l *Log) canUndo(id int) error {
	c, made := l.byID(id)
	switch {
	case !made:
		return fmt.Errorf("there is no correction %d to undo%s", id, l.standingWords())
	case c.What == Undo:
		return fmt.Errorf("correction %d is an undo of correction %d and cannot be undone: make that correction again", id, c.Undoes)
	case l.undone[id] != 0:
		return fmt.Errorf("correction %d has already been undone, by correction %d", id, l.undone[id])
	}
	return nil
}

// standingWords names the corrections that can be undone.
func (l *Log) standingWords() string {
	words := ""
	for _, c := range l.Made {
		if l.Stands(c) {
			words += fmt.Sprintf(", %d", c.ID)
		}
	}
	if words == "" {
		return ": there is nothing left to undo"
	}
	return ": there are " + words[2:]
}

// Stands reports whether c corrects something and was not undone.
func (l *Log) Stands(c Correction) bool { return c.What != Undo && l.undone[c.ID] == 0 }

// UndoneBy returns the number of the correction that undid the one numbered id, or 0.
func (l *Log) UndoneBy(id int) int { return l.undone[id] }

// Of returns the corrections that count for the photo with the given SHA-256, in the order in which they were made.
func (l *Log) Of(sha string) []Correction {
	var of []Correction
	for _, c := range l.Made {
		if c.SHA256 == sha && sha != "" && l.Stands(c) {
			of = append(of, c)
		}
	}
	return of
}
