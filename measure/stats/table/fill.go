package table

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// number is what a number may look like, once it has a decimal point.
var number = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$`)

// thousands is a number with a comma that may be a decimal one or may part thousands.
var thousands = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(,\d{3})+$`)

// blank reports whether a cell says that there is no value.
func blank(text string) bool {
	switch strings.ToLower(text) {
	case "", "na", "n/a", "nan", "null":
		return true
	}
	return false
}

// fill takes the rows' labels and values. What is wrong is collected and told together.
func (t *Table) fill(rows []cells, at places) error {
	texts := make([]string, len(rows))
	for i, r := range rows {
		texts[i] = strings.ReplaceAll(strings.TrimSpace(r.texts[at.value]), "−", "-")
	}
	var wrong mistakes
	t.DecimalComma = t.decimalComma(texts, rows, &wrong)
	if len(wrong) > 0 {
		return wrong.err()
	}
	for i, r := range rows {
		row := Row{Line: r.line, Group: strings.TrimSpace(r.texts[at.group]), Decimal: texts[i]}
		if at.unit >= 0 {
			row.Unit = strings.TrimSpace(r.texts[at.unit])
		}
		if blank(texts[i]) {
			t.Blank = append(t.Blank, r.line)
			continue
		}
		if t.DecimalComma {
			row.Decimal = strings.Replace(texts[i], ",", ".", 1)
		}
		switch {
		case row.Group == "":
			wrong.add(r.line, "the value %s has no label in column %q", texts[i], t.Columns.By)
		case at.unit >= 0 && row.Unit == "":
			wrong.add(r.line, "the value %s has no label in column %q", texts[i], t.Columns.Unit)
		}
		if !number.MatchString(row.Decimal) {
			wrong.add(r.line, "%q in column %q is not a number: write only the number, or leave the cell blank if nothing was measured", short(texts[i]), t.Columns.Value)
			continue
		}
		v, err := strconv.ParseFloat(row.Decimal, 64)
		if err != nil || math.IsInf(v, 0) {
			wrong.add(r.line, "%q in column %q is too large a number", short(texts[i]), t.Columns.Value)
			continue
		}
		row.Value = v
		t.Rows = append(t.Rows, row)
	}
	if len(wrong) > 0 {
		return wrong.err()
	}
	if len(t.Rows) == 0 {
		return fmt.Errorf("column %q has no values", t.Columns.Value)
	}
	return nil
}

// decimalComma decides what a comma in the values means. A column that writes some numbers with a comma and others with a point means
// two things by them, and one like 1,234 could be either: both are refused.
func (t *Table) decimalComma(texts []string, rows []cells, wrong *mistakes) bool {
	comma, point, sure := -1, -1, false
	for i, s := range texts {
		c, p := strings.Contains(s, ","), strings.Contains(s, ".")
		if c && p {
			wrong.add(rows[i].line, "%q in column %q has both a comma and a point: write numbers without thousands separators", short(s), t.Columns.Value)
			return false
		}
		if c && comma < 0 {
			comma = i
		}
		if p && number.MatchString(s) && point < 0 {
			point = i
		}
		sure = sure || c && !thousands.MatchString(s)
	}
	switch {
	case comma < 0:
		return false
	case point >= 0:
		wrong.add(rows[comma].line, "column %q has %q here and %q in line %d: write all numbers with a decimal point, or all with a decimal comma", t.Columns.Value, short(texts[comma]), short(texts[point]), rows[point].line)
	case !sure:
		wrong.add(rows[comma].line, "the comma of %q in column %q may be a decimal comma or a thousands separator: write numbers with a decimal point and without thousands separators", short(texts[comma]), t.Columns.Value)
	}
	return true
}

// short cuts a cell to what a message can hold.
func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// mistakes are listed together, the first ten of them.
type mistakes []string

func (m *mistakes) add(line int, format string, args ...any) {
	*m = append(*m, fmt.Sprintf("line %d: ", line)+fmt.Sprintf(format, args...))
}

func (m mistakes) err() error {
	if n := len(m) - 10; n > 0 {
		m = append(append(mistakes{}, m[:10]...), fmt.Sprintf("and %d more lines like these", n))
	}
	return errors.New(strings.Join(m, "\n"))
}
