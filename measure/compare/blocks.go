package compare

import (
	"maps"
	"slices"
)

// withinBlocks returns the residual sum of squares of a randomised complete block design and its degrees of freedom,
//
//	Σ (y − treatment's mean − block's mean + mean)²    (t − 1)(b − 1)
//
// (Fisher 1935, The Design of Experiments, ch. 4), when every treatment with figures has exactly one tray in each block; blocks is 0
// otherwise. With complete blocks the treatments' differences are those of their plain means.
func (l *layout) withinBlocks(t *trial) (residual float64, df, blocks int) {
	at := map[int]int{}
	for _, tray := range t.plan.Trays {
		if tray.Block > 0 {
			at[tray.Number] = tray.Block
		}
	}
	rows := []map[int]float64{} // a treatment's figures by block
	sums := map[int]float64{}
	all, n := 0.0, 0
	for _, g := range l.groups {
		if len(g.figures) == 0 {
			continue
		}
		row := map[int]float64{}
		for _, f := range g.figures {
			block, known := at[f.tray]
			if _, twice := row[block]; !known || twice {
				return 0, 0, 0
			}
			row[block] = l.y(f)
			sums[block] += l.y(f)
			all, n = all+l.y(f), n+1
		}
		rows = append(rows, row)
	}
	if len(rows) < 2 || len(sums) < 2 || n != len(rows)*len(sums) {
		return 0, 0, 0
	}
	for _, row := range rows {
		own := meanOfBlocks(row)
		for _, block := range slices.Sorted(maps.Keys(row)) {
			y := row[block]
			r := y - own - sums[block]/float64(len(rows)) + all/float64(n)
			residual += float64(r * r)
		}
	}
	return residual, (len(rows) - 1) * (len(sums) - 1), len(sums)
}

// meanOfBlocks adds in the order of the blocks, so that the sum does not depend on a map's order.
func meanOfBlocks(row map[int]float64) float64 {
	sum := 0.0
	for _, block := range slices.Sorted(maps.Keys(row)) {
		sum += row[block]
	}
	return sum / float64(len(row))
}
