package trayfigure

import (
	"cmp"
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// TrayDay is one tray on one day: how many of its plugs hold a plant, and its figure in every quantity. Treatments are compared by
// these figures and by nothing else.
type TrayDay struct {
	Day, Tray   int
	Treatment   string          // "" for a tray that the plan does not have
	Position    int             // on the bench; 0 where the plan gives none
	Block       int             // of trays that stand together; 0 where the plan gives none
	Row, Column int             // of the bench; 0 where the plan gives none
	RootsPhoto  reading.Reading // From which the figures are; without plugs where there is none
	LeavesPhoto reading.Reading

	Plugs, Plants int               // seen from above: plugs looked at, and those of them with a plant
	Amounts       map[string]Amount // by the quantity's name; without those that the tray has no figure in

	values map[string][]float64
	bare   map[string]bool
}

// Amount is a tray's figure in one quantity: the mean over its plants, or what is derived from it.
type Amount struct {
	Value reading.Number
	U     reading.Number // expanded uncertainty of Value from measuring, k = 2, the printed scale included
	SE    reading.Number // standard error of Value from its plugs and its photo; how the treatment works is not in it
	Plugs int            // behind it
}

// TrayDays lists a trial's trays by day and number, with the figures that Of compares. Photos without a date are left out.
func TrayDays(p *plan.Plan, readings []reading.Reading) []TrayDay {
	t := Collect(p, readings)
	seen := map[reading.Occasion]bool{}
	var list []TrayDay
	for at := range t.Photos {
		if key := (reading.Occasion{Day: at.Day, Tray: at.Tray}); !seen[key] {
			seen[key] = true
			list = append(list, t.trayDay(at.Day, at.Tray))
		}
	}
	slices.SortFunc(list, func(a, b TrayDay) int { return cmp.Or(a.Day-b.Day, a.Tray-b.Tray) })
	return list
}

func (t *Trial) trayDay(day, tray int) TrayDay {
	d := TrayDay{Day: day, Tray: tray, Treatment: t.Plan.TreatmentOf(tray), Amounts: map[string]Amount{}, values: map[string][]float64{}, bare: t.Bare(day, tray),
		RootsPhoto: t.Photos[reading.Occasion{Day: day, Tray: tray, View: reading.Roots}], LeavesPhoto: t.Photos[reading.Occasion{Day: day, Tray: tray, View: reading.Shoots}]}
	for _, planned := range t.Plan.Trays {
		if planned.Number == tray {
			d.Position, d.Block, d.Row, d.Column = planned.Position, planned.Block, planned.Row, planned.Column
		}
	}
	d.Plants, d.Plugs = t.StandOfTray(day, tray)
	for _, q := range Measured {
		if f, ok := t.FigureOf(q, day, tray); ok {
			d.Amounts[q.Name] = f.amount()
		}
		if q.plug != nil {
			d.values[q.Name] = arithmetic.SortedValues(t.Plugs(q, day, tray))
		}
	}
	for _, q := range t.Derived(t.before(day), day) {
		if f, ok := q.Figure(tray); ok {
			d.Amounts[q.About.Name] = f.amount()
		}
	}
	return d
}

func (f Figure) amount() Amount {
	return Amount{arithmetic.Number(f.Value), arithmetic.Number(f.ExpandedU()), arithmetic.Number(math.Sqrt(f.Within())), f.Plugs}
}

// ExpandedU returns the expanded uncertainty of a figure's value from measuring, k = 2, the printed scale included; NaN where it is not known.
func (f Figure) ExpandedU() float64 { return 2 * math.Hypot(f.U, f.scaleU) }

// StandPct is the share of plugs with a plant in %, missing where the tray was not seen from above.
func (d TrayDay) StandPct() reading.Number {
	if d.Plugs == 0 {
		return reading.Missing
	}
	return reading.Number(100 * float64(d.Plants) / float64(d.Plugs))
}

// Values returns what the tray's plants have of a quantity, in order of size: those that its figure is the mean of.
func (d TrayDay) Values(quantity string) []float64 { return d.values[quantity] }

// NoPlant reports whether no plant was seen from above in a plug, so that it counts in no figure of the roots.
func (d TrayDay) NoPlant(plug string) bool { return d.bare[plug] }
