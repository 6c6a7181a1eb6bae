package compare

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"traygauge/measure"
	"traygauge/measure/stats"
)

// Outlier is a plug that stands out in its tray. It is listed and counts: whoever finds a reason excludes it by hand.
type Outlier struct {
	Day      int            `json:"day"`
	Quantity string         `json:"quantity"`
	Tray     int            `json:"tray"`
	Plug     string         `json:"plug"`
	Value    measure.Number `json:"value"` // in the quantity's unit
	Usual    measure.Number `json:"usual"` // the median of the tray's plants
	Z        measure.Number `json:"z"`     // modified z score; missing for a plant without any
	Words    string         `json:"words"`
}

// mostZ is the modified z score beyond which a plug stands out.
const mostZ = 3.5

// outliers lists the plugs of a day whose root or leaf area stands out in their tray: by the modified z score 0.6745·(y − median)/MAD of
// the logarithms, beyond 3.5 (Iglewicz & Hoaglin 1993, How to Detect and Handle Outliers, ch. 3). A plant without any is one, too.
func (t *trial) outliers(day int) []Outlier {
	list := []Outlier{}
	for _, name := range trended {
		q := quantityCalled(name)
		for _, tray := range t.plan.Trays {
			list = append(list, t.plugsThatStandOut(q, day, tray.Number)...)
		}
	}
	return list
}

func (t *trial) plugsThatStandOut(q quantity, day, tray int) []Outlier {
	values := t.plugs(q, day, tray)
	var ys []float64
	for _, v := range sortedValues(values) {
		if v > 0 {
			ys = append(ys, math.Log(v))
		}
	}
	if len(ys) < 8 { // a median of fewer says little
		return nil
	}
	slices.Sort(ys)
	middle := stats.Median(ys)
	away := make([]float64, len(ys))
	for i, y := range ys {
		away[i] = math.Abs(y - middle)
	}
	slices.Sort(away)
	mad := stats.Median(away)
	if mad == 0 {
		return nil
	}
	var list []Outlier
	for _, plug := range slices.Sorted(maps.Keys(values)) {
		v := values[plug]
		z := math.Inf(-1)
		if v > 0 {
			z = 0.6745 * (math.Log(v) - middle) / mad
		}
		if math.Abs(z) > mostZ {
			list = append(list, Outlier{day, q.name, tray, plug, number(v), number(math.Exp(middle)), number(z),
				fmt.Sprintf("Plug %s of tray %d has %s of %s, its tray's median is %s", plug, tray, amount(v, q.unit), q.name, amount(math.Exp(middle), q.unit))})
		}
	}
	return list
}
