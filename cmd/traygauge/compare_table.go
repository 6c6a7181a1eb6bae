package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"traygauge/measure/stats"
	"traygauge/measure/stats/table"
	"traygauge/report/terminal"
)

// tableOptions say what of a table is compared, and how.
type tableOptions struct {
	File, Value, By, Control, Unit string
	Level                          float64
	Scale, Procedure               string
	Interaction                    []string // of neither, one part, the other, both
	JSON                           bool
}

// tableResult is what is printed of a table's comparison. The embedded result is about the units: their means, or the rows themselves.
type tableResult struct {
	Table tableFacts `json:"table"`
	Unit  string     `json:"unit"`  // the column of the units; "" where each row is one
	Notes []string   `json:"notes"` // what a reader has to know beside the figures
	stats.Result
	Units   []stats.UnitSummary `json:"units"`         // null without a column of units
	Nested  *stats.NestedANOVA  `json:"nested"`        // null without a column of units
	Between []stats.UnitPair    `json:"between_units"` // instead of comparisons, where each group has one unit
	Every   onScales            `json:"every_procedure"`
	Rule    string              `json:"rule"`
	Offset  float64             `json:"offset"` // subtracted from every value before the arithmetic; the figures include it

	Interaction *interaction `json:"interaction"` // null unless asked for
}

// tableFacts say how the table was read.
type tableFacts struct {
	File         string `json:"file"`
	Value        string `json:"value"`
	By           string `json:"by"`
	Separator    string `json:"separator"`
	DecimalComma bool   `json:"decimal_comma"`
	Values       int    `json:"values"`
	LeftOut      []int  `json:"lines_without_value"`
}

// onScales holds what every procedure says on both scales.
type onScales struct {
	Raw       stats.Procedures   `json:"raw"`
	Log       *stats.Procedures  `json:"log"` // null where a value is not above 0
	LogGroups []stats.LogSummary `json:"log_groups"`
}

// runCompareTable compares the values of a table.
func runCompareTable(opts tableOptions, std *streams) error {
	o, err := opts.check()
	if err != nil {
		return err
	}
	t, err := readTable(opts, std.In)
	if err != nil {
		return err
	}
	r, err := compareTable(t, opts, o)
	if err != nil {
		return inTable(opts.File, err)
	}
	if opts.JSON {
		return writeFiniteJSON(std.Out, r)
	}
	return r.write(std.Out)
}

// check turns the command line's words into options.
func (opts tableOptions) check() (stats.Options, error) {
	o := stats.Options{Control: opts.Control, Level: opts.Level}
	switch {
	case opts.Value == "":
		return o, usageError{errors.New("--table needs --value COLUMN: which column holds the numbers?")}
	case opts.By == "":
		return o, usageError{errors.New("--table needs --by COLUMN: which column says what group each number belongs to?")}
	case len(opts.Interaction) != 0 && len(opts.Interaction) != 4:
		return o, usageError{fmt.Errorf("--interaction needs four groups, NEITHER,ONE,OTHER,BOTH; got %d", len(opts.Interaction))}
	case !(opts.Level >= 0.5 && opts.Level < 1):
		return o, usageError{fmt.Errorf("--level %v: give a value between 0.5 and 1, such as 0.95", opts.Level)}
	}
	switch o.Scale = stats.Scale(opts.Scale); o.Scale {
	case stats.AnyScale, stats.LogScale, stats.RawScale:
	default:
		return o, usageError{fmt.Errorf("--scale %s: use log or raw", opts.Scale)}
	}
	switch o.Procedure = stats.Procedure(strings.ReplaceAll(opts.Procedure, "-", " ")); o.Procedure {
	case stats.AnyProcedure, stats.OneVariance, stats.OwnVariances, stats.ByRanks:
	default:
		return o, usageError{fmt.Errorf("--procedure %s: use one-variance, own-variances or ranks", opts.Procedure)}
	}
	return o, nil
}

func readTable(opts tableOptions, in io.Reader) (*table.Table, error) {
	if opts.File != "-" {
		f, err := os.Open(opts.File)
		if err != nil {
			return nil, fmt.Errorf("cannot read the table: %w", err)
		}
		defer f.Close()
		in = f
	}
	t, err := table.Read(in, table.Columns{Value: opts.Value, By: opts.By, Unit: opts.Unit})
	if err != nil {
		return nil, inTable(opts.File, err)
	}
	return t, nil
}

// inTable puts the table's name before an error, once.
func inTable(file string, err error) error {
	if file == "-" {
		file = "standard input"
	}
	if strings.Contains(err.Error(), "\n") {
		return fmt.Errorf("%s:\n%w", file, err)
	}
	return fmt.Errorf("%s: %w", file, err)
}

// compareTable runs the comparison that the rule chooses, and every other for those who ask for figures.
func compareTable(t *table.Table, opts tableOptions, o stats.Options) (*tableResult, error) {
	units, offset, err := t.Units()
	if err != nil {
		return nil, err
	}
	o.Offset = offset
	r := &tableResult{Unit: t.Columns.Unit, Rule: stats.Rule, Offset: offset, Notes: []string{}}
	r.Table = tableFacts{opts.File, t.Columns.Value, t.Columns.By, t.Separator, t.DecimalComma, len(t.Rows), append([]int{}, t.Blank...)}
	var groups []stats.Group
	if t.Columns.Unit == "" {
		groups = stats.Values(units)
		r.Result, err = stats.Compare(groups, o)
	} else {
		var u stats.UnitResult
		u, err = stats.CompareUnits(units, o)
		groups = stats.UnitMeans(units)
		r.Result, r.Units, r.Nested, r.Between = u.Result, u.Units, &u.Nested, u.Between
	}
	if err != nil {
		return nil, err
	}
	r.notes(t)
	if len(opts.Interaction) > 0 {
		if r.Interaction, err = interactionOf(opts.Interaction, groups, o); err != nil {
			return nil, err
		}
	}
	if opts.JSON {
		r.Every.of(groups, o)
	}
	return r, nil
}

// of runs every procedure on both scales.
func (s *onScales) of(groups []stats.Group, o stats.Options) {
	s.Raw = stats.Every(groups, o)
	if fieller, err := stats.FiellerFrom(o.Offset, groups, o.Control, o.Level); err == nil {
		s.Raw.Fieller = fieller
	} else {
		s.Raw.Undefined["fieller_ratio_unadjusted"] = err.Error()
	}
	logs, err := stats.LogFrom(o.Offset, groups)
	if err != nil {
		return
	}
	p := stats.Every(logs, o)
	s.Log = &p
	for _, g := range logs {
		s.LogGroups = append(s.LogGroups, stats.DescribeLog(g, o.Level, o.Offset))
	}
}

// notes says what the reader has to know of the table and of the units.
func (r *tableResult) notes(t *table.Table) {
	note := func(format string, args ...any) { r.Notes = append(r.Notes, fmt.Sprintf(format, args...)) }
	if r.Unit == "" {
		note("Each of the %d rows counts as a unit that was treated on its own. Plants or plugs of one tray are not: they share its water, its place under the lamp and its accidents. If rows belong together, name the column of their trays or pots with --unit; otherwise differences look surer than they are.", len(t.Rows))
	} else {
		note("The unit is %s: the means of %d units are compared, not the %d values within them.", r.Unit, len(r.Units), len(t.Rows))
	}
	if n := len(t.Blank); n > 0 {
		note("%s without a value left out: %s.", terminal.CountOf(n, "row", "rows"), linesInWords(t.Blank))
	}
	if shared := t.Shared(); len(shared) > 0 {
		stand := "stands"
		if len(shared) > 1 {
			stand = "stand"
		}
		note("%s %s %s in more than one group. Each counts as a unit of its own in each group; if it is one and the same, its label in column %q or %q is wrong.", t.Columns.Unit, quotedList(shared), stand, t.Columns.By, t.Columns.Unit)
	}
	for _, pair := range t.Alike() {
		note("The groups %q and %q differ only in spelling and count as two.", pair[0], pair[1])
	}
	if r.Offset != 0 {
		note("The values share their leading digits: they were compared by their exact distances from %v.", r.Offset)
	}
	if r.Nested != nil && r.Nested.Components.Negative {
		note("The variance between units of a group was estimated below 0 (%s) and is taken as 0: the values within these units explain all of their differences.", figure(r.Nested.Components.UnitRaw))
	}
	if r.Nested != nil && r.Nested.DFUnit > 0 {
		for _, g := range r.Groups {
			if g.N == 1 {
				note("%q has one unit: the variation between its units is taken from the other groups.", g.Group)
			}
		}
	}
}

// linesInWords lists lines, the first ten of them.
func linesInWords(lines []int) string {
	words := "line "
	if len(lines) > 1 {
		words = "lines "
	}
	for i, l := range lines {
		if i == 10 {
			return words + fmt.Sprintf(" and %d more", len(lines)-i)
		}
		if i > 0 {
			words += ", "
		}
		words += fmt.Sprint(l)
	}
	return words
}

func quotedList(names []string) string {
	var quoted []string
	for i, n := range names {
		if i == 5 {
			quoted = append(quoted, fmt.Sprintf("and %d more", len(names)-i))
			break
		}
		quoted = append(quoted, fmt.Sprintf("%q", n))
	}
	return strings.Join(quoted, ", ")
}
