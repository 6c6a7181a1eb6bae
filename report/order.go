package report

import (
	"cmp"
	"strconv"
	"strings"
)

// compareShots orders by day (undated photos last), tray, view and photo.
func compareShots(a, b Shot) int {
	if a.Taken.IsZero() != b.Taken.IsZero() {
		if a.Taken.IsZero() {
			return 1
		}
		return -1
	}
	return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Tray, b.Tray), cmp.Compare(a.View, b.View),
		strings.Compare(a.Photo, b.Photo))
}

// ComparePlugs orders by day, tray, view and photo, then in reading order.
func ComparePlugs(a, b PlugRow) int {
	return cmp.Or(compareShots(a.Shot, b.Shot), ComparePlugNames(a.Name, b.Name))
}

// ComparePlugNames puts plugs in reading order: A2 before A10, A10 before B1.
func ComparePlugNames(a, b string) int {
	rowA, colA := SplitPlugName(a)
	rowB, colB := SplitPlugName(b)
	return cmp.Or(cmp.Compare(len(rowA), len(rowB)), strings.Compare(rowA, rowB), cmp.Compare(colA, colB), strings.Compare(a, b))
}

// SplitPlugName takes "B10" apart into "B" and 10. A loose plug has a number alone; a name without a number has column 0.
func SplitPlugName(name string) (row string, column int) {
	digits := strings.TrimLeft(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	column, _ = strconv.Atoi(digits)
	return strings.TrimSuffix(name, digits), column
}
