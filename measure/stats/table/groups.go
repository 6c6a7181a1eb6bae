package table

import (
	"fmt"
	"math"
	"strings"

	"traygauge/measure/stats"
)

// units returns the rows as units in order of appearance, and the offset that was taken off their values: 0, unless they share so many
// leading digits that a float64 would lose those in which they differ. Without a column of units, each row is a unit of its own.
func (t *Table) units() (units []stats.Unit, offset float64, err error) {
	values := make([]float64, len(t.Rows))
	low, high := math.Inf(1), math.Inf(-1)
	for i, r := range t.Rows {
		values[i] = r.Value
		low, high = min(low, r.Value), max(high, r.Value)
	}
	if high > low && high-low < 1e-5*max(math.Abs(low), math.Abs(high)) {
		texts := make([]string, len(t.Rows))
		for i, r := range t.Rows {
			texts[i] = r.Decimal
		}
		if values, offset, err = stats.ParseCentred(texts); err != nil {
			return nil, 0, err
		}
	}
	at := map[[2]string]int{}
	for i, r := range t.Rows {
		name := r.Unit
		if t.Columns.Unit == "" {
			name = fmt.Sprintf("line %d", r.Line)
		}
		key := [2]string{r.Group, name}
		u, known := at[key]
		if !known {
			u = len(units)
			at[key], units = u, append(units, stats.Unit{Group: r.Group, Name: name})
		}
		units[u].Values = append(units[u].Values, values[i])
	}
	return units, offset, nil
}

// Shared returns the names of units that occur in more than one group, in order of appearance. Each is taken as a unit of its own in each
// group: they may be numbered from 1 within each group, or one unit may stand under two labels by mistake.
func (t *Table) Shared() (names []string) {
	groups, told := map[string]string{}, map[string]bool{}
	for _, r := range t.Rows {
		if t.Columns.Unit == "" {
			break
		}
		first, known := groups[r.Unit]
		if !known {
			groups[r.Unit] = r.Group
		} else if first != r.Group && !told[r.Unit] {
			told[r.Unit], names = true, append(names, r.Unit)
		}
	}
	return names
}

// Alike returns pairs of labels of the column of groups that differ in case or spaces alone and are likely meant to be one.
func (t *Table) Alike() (pairs [][2]string) {
	first, known := map[string]string{}, map[string]bool{}
	for _, r := range t.Rows {
		if known[r.Group] {
			continue
		}
		known[r.Group] = true
		plain := strings.ToLower(strings.Join(strings.Fields(r.Group), " "))
		if other, ok := first[plain]; ok {
			pairs = append(pairs, [2]string{other, r.Group})
		} else {
			first[plain] = r.Group
		}
	}
	return pairs
}
