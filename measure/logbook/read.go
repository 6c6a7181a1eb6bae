// Package logbook reads and extends the log of a trial, log.csv, which is append-only. It compares the log with the plan: what is due, what was
// moved to another day, and which feedings differ.
//
//	in    log.csv, the plan, what to add
//	out   entries that count, findings by line; what is due on a day, what was done on another day than planned, which feedings depart from the plan
//
// It must not depend on what photos show.
package logbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"traygauge/measure/finding"
	"traygauge/measure/plan"
	"traygauge/measure/store"
	"traygauge/measure/wording"
)

// FileName is the name of the log in a trial's folder.
const FileName = "log.csv"

// Header is the log's first line.
const Header = "when,tray,what,product,amount_ml,water_ml,note"

// Words in the log's column "what".
const (
	Feeding = "feeding" // a tray was given its mix
	Water   = "water"
	Lamp    = "lamp"

	// Withdrawn takes back the feeding of the same tray and the same moment in the lines above it. The log only ever grows, so this
	// is how a wrong entry is undone; a feeding below it with the same tray and moment counts again.
	Withdrawn = "withdrawn"
)

// maxBytes is the largest log that is read: some 200 000 lines.
const maxBytes = 16 << 20

// Entry is one line of the log: something that was done.
type Entry struct {
	When     time.Time
	Tray     int    // 0: all trays
	What     string // Feeding, Water, Lamp or another word, such as "note"
	Product  string
	AmountML float64 // NaN when not written down
	WaterML  float64 // NaN when not written down
	Note     string
	Line     int
}

// Load reads what counts in the log of the trial in folder dir: its lines without those that were withdrawn. A folder without a log
// gives no entries. Lines that cannot be read are errors among the findings and left out; the error is for a file that cannot be
// read at all.
func Load(dir string) ([]Entry, []finding.Finding, error) {
	lines, findings, err := LoadLines(dir)
	return Standing(lines), findings, err
}

// LoadLines is Load with every line, those that were withdrawn and those that withdrew them too.
func LoadLines(dir string) ([]Entry, []finding.Finding, error) {
	text, err := store.ReadLimited(filepath.Join(dir, FileName), maxBytes)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, err
	}
	if len(text) > maxBytes {
		return nil, nil, fmt.Errorf("%s is larger than %d MiB: check that it is the log of this trial", filepath.Join(dir, FileName), maxBytes>>20)
	}
	entries, findings := Parse(text, FileName)
	return entries, findings, nil
}

// Standing returns the entries that count: without the feedings that were withdrawn, and without the lines that withdrew them.
func Standing(lines []Entry) []Entry {
	taken := map[int]bool{} // by place in lines: withdrawn
	fed := map[feedingKey][]int{}
	for i, e := range lines {
		switch key := e.key(); e.What {
		case Feeding:
			fed[key] = append(fed[key], i)
		case Withdrawn:
			for _, before := range fed[key] {
				taken[before] = true
			}
			taken[i] = true
			delete(fed, key)
		}
	}
	var standing []Entry
	for i, e := range lines {
		if !taken[i] {
			standing = append(standing, e)
		}
	}
	return standing
}

// reader reads a log.
type reader struct{ finding.List }

func newReader(name string) *reader { return &reader{finding.List{File: name}} }

// feedingKey is what a feeding is known by: its tray and its moment. The lines of one feeding, a product each, share it.
type feedingKey struct {
	tray int
	when int64 // seconds since 1970
}

func (e Entry) key() feedingKey { return feedingKey{e.Tray, e.When.Unix()} }

// Parse reads every line of a log from text; name stands in the findings.
func Parse(text []byte, name string) ([]Entry, []finding.Finding) {
	r := newReader(name)
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if !utf8.Valid(text) {
		r.Add(finding.Error, 1, 0, "this is not UTF-8 text", "save the log as CSV in UTF-8")
		return nil, r.Found
	}
	rows := csv.NewReader(bytes.NewReader(text))
	rows.FieldsPerRecord = -1
	rows.TrimLeadingSpace = true
	header, err := rows.Read()
	if errors.Is(err, io.EOF) {
		return nil, nil
	}
	if len(header) == 1 && strings.Contains(header[0], ";") {
		r.Add(finding.Error, 1, 0, "the log has semicolons instead of commas, as some spreadsheets write them", "save it again as CSV separated by commas")
		return nil, r.Found
	}
	if err != nil || strings.Join(header, ",") != Header {
		r.Add(finding.Error, 1, 0, "the log does not start with its header", "the first line must be "+Header)
		return nil, r.Found
	}
	var entries []Entry
	fed := map[feedingKey]bool{}
	for {
		row, err := rows.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			r.Add(finding.Error, broken.StartLine, 0, "this line cannot be read", "look for a quotation mark that is not closed or is inside a cell")
			break // a lost quote swallows the lines after it
		}
		if err != nil {
			r.Add(finding.Error, 1, 0, err.Error(), "")
			break
		}
		line, _ := rows.FieldPos(0)
		if e, ok := r.entry(row, line); ok {
			if e.What == Withdrawn && !fed[e.key()] {
				r.Warn(line, "check the tray and time of the feeding that you want to withdraw", "this line withdraws a feeding, but no line above has a feeding with this tray and time")
			}
			if e.What == Feeding || e.What == Withdrawn {
				fed[e.key()] = e.What == Feeding
			}
			entries = append(entries, e)
		}
	}
	return entries, r.Found
}

// entry reads one line of the log.
func (r *reader) entry(row []string, line int) (Entry, bool) {
	if len(row) != 7 {
		r.Add(finding.Error, line, 0, fmt.Sprintf("this line has %d columns instead of 7", len(row)),
			"the columns are "+Header+"; write amounts with a decimal point, and put quotes around a note that contains commas")
		return Entry{}, false
	}
	for i, column := range strings.Split(Header, ",") {
		if wording.FormulaLike(row[i]) && i != 4 && i != 5 { // in the amounts it is no amount, and said so
			r.Warn(line, "put an apostrophe before it", "a spreadsheet would read %s %q as a formula", column, finding.Short(row[i]))
		}
	}
	e := Entry{What: strings.ToLower(strings.TrimSpace(row[2])), Product: unguarded(row[3]), Note: unguarded(row[6]), Line: line}
	before := len(r.Found)
	var err error
	if e.When, err = time.Parse(time.RFC3339, strings.TrimSpace(row[0])); err != nil {
		r.Add(finding.Error, line, 0, fmt.Sprintf("%q is not a time", finding.Short(row[0])), "write it like 2026-03-09T08:30:00+01:00")
	}
	if s := strings.TrimSpace(row[1]); s != "" {
		if e.Tray, err = strconv.Atoi(s); err != nil || e.Tray < 1 || e.Tray > plan.MaxTray {
			r.Add(finding.Error, line, 0, fmt.Sprintf("%q is not a tray", finding.Short(s)), fmt.Sprintf("write a number from 1 to %d, or leave it blank for all trays", plan.MaxTray))
		}
	}
	e.AmountML = r.millilitres(row[4], "amount_ml", line)
	e.WaterML = r.millilitres(row[5], "water_ml", line)
	return e, len(r.Found) == before
}

// millilitres reads an amount; nothing is NaN.
func (r *reader) millilitres(s, what string, line int) float64 {
	s = strings.TrimSpace(s)
	if s == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
		remedy := "write digits, or leave it blank if it was not measured"
		if point := strings.Replace(s, ",", ".", 1); point != s {
			if _, err := strconv.ParseFloat(point, 64); err == nil {
				remedy = "write a point for decimals: " + point
			}
		}
		r.Add(finding.Error, line, 0, fmt.Sprintf("%s %q is not an amount in mL", what, finding.Short(s)), remedy)
		return math.NaN()
	}
	return v
}

// knownWords are the words in the column what that mean more than a note.
var knownWords = []string{Feeding, Water, Lamp, Withdrawn}

// plainWords are words that growers note, though they look like misspelt known words.
var plainWords = []string{"weather", "wilted"}

// wordMeant returns the known word that was probably meant, "" for none. Its first letter is hardly ever mistyped, and so weeding is not taken for feeding.
func wordMeant(what string) string {
	if slices.Contains(plainWords, what) {
		return ""
	}
	alike := slices.DeleteFunc(slices.Clone(knownWords), func(known string) bool { return what == "" || known[0] != what[0] })
	return finding.Meant(what, alike)
}

// longAfter is how many days after the plan's last one the log may go on without a warning: a wrong year is more.
const longAfter = 60

// Fits checks the log against the plan: trays and products that the plan does not have or give, amounts far from the plan's, feedings that some
// trays missed, words that were probably meant to be others, and times before sowing or long after the plan's last day.
func Fits(p *plan.Plan, entries []Entry, name string) []finding.Finding {
	r := newReader(name)
	products, departures := productsOf(p), Departures(p, entries, false)
	last := slices.Max(append(slices.Concat(p.FeedDays, p.ReviewDays), -1))
	for _, e := range entries {
		if e.Tray > 0 && !slices.ContainsFunc(p.Trays, func(t plan.Tray) bool { return t.Number == e.Tray }) {
			r.Warn(e.Line, "correct the number", "the plan has no tray %d", e.Tray)
		}
		if e.What == Feeding && e.Product != "" && !slices.Contains(products, e.Product) {
			remedy := finding.Suggest(e.Product, products)
			if strings.EqualFold(e.Product, water) {
				remedy = "leave product blank if there is none; water_ml is the total volume that the tray got"
			}
			r.Warn(e.Line, remedy, "the plan has no product %q", finding.Short(e.Product))
		}
		if meant := wordMeant(e.What); meant != "" && meant != e.What {
			r.Warn(e.Line, fmt.Sprintf("did you mean %q?", meant), "%q is treated as a note", finding.Short(e.What))
		}
		if day := p.DayOf(e.When); day < 0 {
			r.Warn(e.Line, "correct the date, or sown in the plan", "this was %d days before sowing", -day)
		} else if after := day - last; last >= 0 && after > longAfter {
			r.Warn(e.Line, "correct the date, or the days in the plan", "this was %d days after the plan’s last day", after)
		}
		for _, d := range departures {
			if d.Line == e.Line && d.Words != e.Note && (e.Product == "" || slices.Contains(products, e.Product)) {
				r.Warn(e.Line, "correct the line if it is wrong; if it is right, the report will mention it", "tray %d (%s) was %s", e.Tray, p.TreatmentOf(e.Tray), d.Words)
			}
		}
	}
	for _, k := range skippedFeedings(p, entries) {
		r.Warn(k.line, "add the feeding if it was done; if not, add a note with the tray’s number, and the report will mention it",
			"%s no feeding around day %d, when most trays were fed", wording.TraysDo(k.trays, "has", "have"), k.day)
	}
	return r.Found
}
