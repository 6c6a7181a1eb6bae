package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// Columns are the names of the columns to read.
type Columns struct {
	Value string
	By    string // what each value's group is
	Unit  string // what was treated as one; "" where each row stands for itself
}

// Row is one value with its labels.
type Row struct {
	Line    int
	Group   string
	Unit    string
	Decimal string // the number as it stands, with a decimal point
	Value   float64
}

// Table is what was read.
type Table struct {
	Columns      Columns // as the header spells them
	Rows         []Row
	Blank        []int  // lines without a value, left out
	Separator    string // "comma", "semicolon" or "tab"
	DecimalComma bool
}

// limit is how large a table may be: some millions of rows.
const limit = 256 << 20

// separator parts the cells of a row.
type separator struct {
	r    rune
	name string
}

var separators = []separator{{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}}

// Read reads the columns asked for. A row without a value (blank, NA, N/A, NaN, null) is left out and its line kept in Blank. Errors name
// the line and what to do.
func Read(r io.Reader, want Columns) (*Table, error) {
	text, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err != nil {
		return nil, err
	}
	if len(text) > limit {
		return nil, fmt.Errorf("the table is larger than %d MB: keep only the columns that you need", limit>>20)
	}
	text, given, skipped, err := plainText(text)
	if err != nil {
		return nil, err
	}
	sep, header, at, err := findColumns(text, given, want)
	if err != nil {
		return nil, err
	}
	t := &Table{Separator: sep.name, Columns: Columns{header[at.value], header[at.group], ""}}
	if at.unit >= 0 {
		t.Columns.Unit = header[at.unit]
	}
	cells, err := readCells(text, sep.r, skipped, len(header))
	if err != nil {
		return nil, err
	}
	return t, t.fill(cells, at)
}

// plainText takes off a byte order mark and a first line "sep=;", as spreadsheets write, and refuses what is no UTF-8 text.
func plainText(text []byte) (rest []byte, given rune, skipped int, err error) {
	switch {
	case bytes.HasPrefix(text, []byte("PK\x03\x04")), bytes.HasPrefix(text, []byte("\xd0\xcf\x11\xe0")):
		return nil, 0, 0, errors.New("this is a workbook, not a CSV file: save the sheet as CSV (UTF-8)")
	case bytes.HasPrefix(text, []byte("\xff\xfe")), bytes.HasPrefix(text, []byte("\xfe\xff")):
		return nil, 0, 0, errors.New("the text is in UTF-16: save it as CSV (UTF-8)")
	}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	for i, line := range bytes.Split(text, []byte("\n")) {
		if !utf8.Valid(line) {
			return nil, 0, 0, fmt.Errorf("line %d is not UTF-8 text: save the table as CSV (UTF-8)", i+1)
		}
		if bytes.IndexByte(line, 0) >= 0 {
			return nil, 0, 0, fmt.Errorf("line %d contains a zero byte, so this is not a text file: save the table as CSV (UTF-8)", i+1)
		}
	}
	first, after, more := bytes.Cut(text, []byte("\n"))
	if name, ok := bytes.CutPrefix(bytes.TrimRight(first, "\r"), []byte("sep=")); ok && len(name) == 1 && more {
		return after, rune(name[0]), 1, nil
	}
	return text, 0, 0, nil
}

// places are the columns' positions; unit is -1 if none was asked for.
type places struct{ value, group, unit int }

// findColumns tries the separators until one shows all columns that are wanted. If none does, the error is about the one that parts the header
// into most cells.
func findColumns(text []byte, given rune, want Columns) (separator, []string, places, error) {
	if len(bytes.TrimSpace(text)) == 0 {
		return separator{}, nil, places{}, errors.New("the table is empty")
	}
	most, wrong := 0, errors.New("line 1: the header cannot be read: look for a quotation mark that is not closed")
	for _, s := range separators {
		if given != 0 && s.r != given {
			continue
		}
		header, err := newReader(text, s.r).Read()
		if err != nil {
			continue
		}
		for i := range header {
			header[i] = strings.TrimSpace(header[i])
		}
		at, err := locate(header, want)
		if err == nil {
			return s, header, at, nil
		}
		if len(header) > most {
			most, wrong = len(header), err
		}
	}
	if given != 0 && !slices.ContainsFunc(separators, func(s separator) bool { return s.r == given }) {
		wrong = fmt.Errorf("line 1 asks for the separator %q: use a comma, semicolon or tab", given)
	}
	return separator{}, nil, places{}, wrong
}

// newReader reads rows of any length, so that what is wrong with one can be told in the table's own words.
func newReader(text []byte, part rune) *csv.Reader {
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = part, -1, part != '\t'
	return r
}

// locate finds the wanted columns, by their exact name, else by the only one that differs in case alone.
func locate(header []string, want Columns) (places, error) {
	at := places{unit: -1}
	var err error
	if at.value, err = column(header, want.Value); err != nil {
		return at, err
	}
	if at.group, err = column(header, want.By); err != nil {
		return at, err
	}
	if want.Unit != "" {
		if at.unit, err = column(header, want.Unit); err != nil {
			return at, err
		}
	}
	if at.value == at.group || at.value == at.unit || at.group == at.unit {
		return at, errors.New("the same column is used twice: values, groups and units must be different columns")
	}
	return at, nil
}

func column(header []string, name string) (int, error) {
	name = strings.TrimSpace(name)
	for _, same := range []func(a, b string) bool{func(a, b string) bool { return a == b }, strings.EqualFold} {
		found := -1
		for i, h := range header {
			if !same(h, name) {
				continue
			}
			if found >= 0 {
				return 0, fmt.Errorf("there are two columns named %q: rename one", name)
			}
			found = i
		}
		if found >= 0 {
			return found, nil
		}
	}
	var names []string
	for _, h := range header {
		if h != "" {
			names = append(names, h)
		}
	}
	return 0, fmt.Errorf("there is no column %q; the columns are %s", name, strings.Join(names, ", "))
}

// cells is one row of the table.
type cells struct {
	line  int
	texts []string
}

// readCells reads all rows after the header. Empty rows and empty cells at the end of a row, as spreadsheets leave them, are passed over.
func readCells(text []byte, part rune, skipped, width int) (rows []cells, err error) {
	r := newReader(text, part)
	for first := true; ; first = false {
		record, err := r.Read()
		if err == io.EOF {
			return rows, nil
		}
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			return nil, fmt.Errorf("line %d: %w: look for a quotation mark that is not closed or is inside a cell", wrong.StartLine+skipped, wrong.Err)
		} else if err != nil {
			return nil, err
		}
		line, _ := r.FieldPos(0)
		line += skipped
		if first {
			continue
		}
		full := len(record)
		for full > 0 && strings.TrimSpace(record[full-1]) == "" {
			full--
		}
		switch {
		case full == 0:
			continue
		case full > width:
			return nil, fmt.Errorf("line %d has %d cells but the header has %d: put quotes around numbers with a decimal comma, or separate cells by semicolons", line, full, width)
		case len(record) < width:
			return nil, fmt.Errorf("line %d has %d cells but the header has %d: a cell is missing", line, len(record), width)
		}
		rows = append(rows, cells{line, record})
	}
}
