package table

import (
	"fmt"

	"traygauge/measure/stats"
	"traygauge/measure/wording"
)

// Comparison is all that is found of a table. The embedded result is about the units: their means, or the rows themselves.
type Comparison struct {
	Table Facts    `json:"table"`
	Unit  string   `json:"unit"`  // the column of the units; "" where each row is one
	Notes []string `json:"notes"` // what a reader has to know beside the figures
	stats.Result
	Units   []stats.UnitSummary `json:"units"`         // null without a column of units
	Nested  *stats.NestedANOVA  `json:"nested"`        // null without a column of units
	Between []stats.UnitPair    `json:"between_units"` // instead of comparisons, where each group has one unit
	Every   OnScales            `json:"every_procedure"`
	Rule    string              `json:"rule"`
	Offset  float64             `json:"offset"` // subtracted from every value before the arithmetic; the figures include it

	Interaction *Interaction `json:"interaction"` // null unless asked for
}

// Facts say how the table was read.
type Facts struct {
	File         string `json:"file"`
	Value        string `json:"value"`
	By           string `json:"by"`
	Separator    string `json:"separator"`
	DecimalComma bool   `json:"decimal_comma"`
	Values       int    `json:"values"`
	LeftOut      []int  `json:"lines_without_value"`
}

// OnScales holds what every procedure says on both scales.
type OnScales struct {
	Raw       stats.Procedures   `json:"raw"`
	Log       *stats.Procedures  `json:"log"` // null where a value is not above 0
	LogGroups []stats.LogSummary `json:"log_groups"`
}

// Compare compares the groups by the procedure that the rule chooses, and by every other where all figures are wanted. file is what the table
// is called. interaction is empty, or names four groups: neither of two parts, one, the other, both. The values are compared from the
// offset of Units, whatever o says of it. It is an error if there are too few groups or values, or no such group.
func (t *Table) Compare(file string, interaction []string, all bool, o stats.Options) (*Comparison, error) {
	units, offset, err := t.units()
	if err != nil {
		return nil, err
	}
	o.Offset = offset
	r := &Comparison{Unit: t.Columns.Unit, Rule: stats.Rule, Offset: offset, Notes: []string{}}
	r.Table = Facts{file, t.Columns.Value, t.Columns.By, t.Separator, t.DecimalComma, len(t.Rows), append([]int{}, t.Blank...)}
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
	if len(interaction) > 0 {
		if r.Interaction, err = interactionOf(interaction, groups, o); err != nil {
			return nil, err
		}
	}
	if all {
		r.Every.of(groups, o)
	}
	return r, nil
}

// of runs every procedure on both scales.
func (s *OnScales) of(groups []stats.Group, o stats.Options) {
	s.Raw = stats.Every(groups, o)
	if fieller, err := stats.Fieller(o.Offset, groups, o.Control, o.Level); err == nil {
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
func (r *Comparison) notes(t *Table) {
	note := func(format string, args ...any) { r.Notes = append(r.Notes, fmt.Sprintf(format, args...)) }
	if r.Unit == "" {
		note("Each of the %d rows counts as a unit that was treated on its own. Plants or plugs from one tray are not separate units, because they share its water, place under the lamp and accidents. If rows belong together, give the column of their trays or pots as --unit; otherwise differences look more certain than they are.", len(t.Rows))
	} else {
		note("The unit is %s: the means of %d units are compared, not the %d values.", r.Unit, len(r.Units), len(t.Rows))
	}
	if n := len(t.Blank); n > 0 {
		rows := "1 row"
		if n > 1 {
			rows = fmt.Sprintf("%d rows", n)
		}
		note("%s without a value, not used: %s.", rows, linesInWords(t.Blank))
	}
	if shared := t.Shared(); len(shared) > 0 {
		stand := "stands"
		if len(shared) > 1 {
			stand = "stand"
		}
		note("%s %s %s in more than one group, and counts as a separate unit in each. If it is the same unit, its label in column %q or %q is wrong.", t.Columns.Unit, quotedList(shared), stand, t.Columns.By, t.Columns.Unit)
	}
	for _, pair := range t.Alike() {
		note("The groups %q and %q differ only in spelling and count as two.", pair[0], pair[1])
	}
	if r.Offset != 0 {
		note("The values share their leading digits, so their exact distances from %v were compared.", r.Offset)
	}
	if r.Nested != nil && r.Nested.Components.Negative {
		note("The estimated variance between units of a group is below 0 (%s) and was set to 0: the variation within units explains all differences between them.", Figure(r.Nested.Components.UnitRaw))
	}
	if r.Nested != nil && r.Nested.DFUnit > 0 {
		for _, g := range r.Groups {
			if g.N == 1 {
				note("%q has one unit: the variation between its units is assumed to be like that of the other groups.", g.Group)
			}
		}
	}
}

// linesInWords lists lines, the first ten of them.
func linesInWords(lines []int) string {
	list := make([]string, len(lines))
	for i, l := range lines {
		list[i] = fmt.Sprint(l)
	}
	if len(lines) > 1 {
		return "lines " + wording.First(list, 10)
	}
	return "line " + wording.First(list, 10)
}

func quotedList(names []string) string { return wording.First(wording.Quoted(names), 5) }
