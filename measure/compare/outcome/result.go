// Package outcome holds the results of a trial: comparisons with intervals and verdicts, the answer to the main question, and the text for both.
//
//	in    calculated figures
//	out   the same figures as text, for tables and as JSON
//
// It must not depend on how a figure was calculated.
package outcome

import "traygauge/measure/reading"

// Result is all that can be said of a trial by comparison. Terminal, workbook, page and comparisons.csv print from it.
type Result struct {
	Title       string       `json:"title"`
	Days        []int        `json:"days"`     // since sowing, with a usable photo
	LastDay     int          `json:"last_day"` // the last of them that is a review day, or else the last; -1 when there is none
	Answer      Answer       `json:"answer"`   // to the main question
	Comparisons []Comparison `json:"comparisons"`
	Doses       []DoseTrend  `json:"doses"`    // of the last review
	Places      []Place      `json:"places"`   // on the bench and in the tray, of the last review
	Outliers    []Outlier    `json:"outliers"` // of the last review
	Outlying    []Outlying   `json:"outlying_trays"`
	Without     []Without    `json:"without"` // the answer without trays that had an accident or stand out
	Figures     []Figures    `json:"figures"` // what was compared
	Trays       []TrayGrowth `json:"trays"`   // growth against yellowing
	Limits      []string     `json:"limits"`  // what holds for all of it
	MustKnow    []string     `json:"-"`       // those of them without which a result is misread: too few trays, accidents
}

// Kind says what is set against what.
type Kind string

// The kinds of comparison.
const (
	AgainstControl Kind = "control"     // a treatment against one of its declared controls
	Interaction    Kind = "interaction" // a combination against what its two parts together would give
	Pair           Kind = "pair"        // any two treatments, asked for beyond the plan
)

// Inference says what the interval and the test, where there is one, are about.
type Inference string

// The units of inference. Only the first supports a claim about a treatment.
const (
	Trays          Inference = "trays"            // other trays treated alike
	TheseTraysOnly Inference = "these trays only" // the very trays photographed
)

// Verdict is a comparison's answer in one word or three.
type Verdict string

// The verdicts. More and Less stand only where the interval is about treatments and leaves no difference out.
const (
	More        Verdict = "more"
	Less        Verdict = "less"
	Unclear     Verdict = "unclear"
	TheseTrays  Verdict = "these trays only"
	NotCompared Verdict = "not compared"
)

// Clear reports whether a comparison with this verdict claims a difference between treatments.
func (v Verdict) Clear() bool { return v == More || v == Less }

// Scale says whether treatments are compared by their ratio or by their difference.
type Scale string

// Sizes are compared by ratio, on the log scale; shares, hues and rates by difference.
const (
	Ratio      Scale = "ratio"
	Difference Scale = "difference"
)

// Comparison is one treatment against one control in one quantity on one day. What is not known is reading.Missing.
//
// On the ratio scale Estimate, Lower and Upper are ratios (1 is no difference) and the variations are coefficients of
// variation in %. On the difference scale all of them are in Unit, and 0 is no difference.
type Comparison struct {
	Day       int      `json:"day"`
	FromDay   *int     `json:"from_day"` // of a growth rate; null otherwise
	Quantity  string   `json:"quantity"`
	Unit      string   `json:"unit"` // of Mean and ControlMean
	Kind      Kind     `json:"kind"`
	Treatment string   `json:"treatment"`
	Control   string   `json:"control"`         // of an interaction: the base that both parts were added to
	Parts     []string `json:"parts,omitempty"` // of an interaction: the treatments with one part each

	Scale    Scale          `json:"scale"`
	Estimate reading.Number `json:"estimate"`
	Lower    reading.Number `json:"lower_95"`
	Upper    reading.Number `json:"upper_95"`
	// SpansEverything: see SaysNothing. Lower and Upper are then Missing.
	SpansEverything bool `json:"interval_spans_everything,omitempty"`

	PSingle  reading.Number `json:"p_single"`   // two-sided, as if it were the only comparison
	P        reading.Number `json:"p_adjusted"` // for the Together comparisons made at once
	Together int            `json:"together"`
	Test     string         `json:"test"` // "" when none was made

	Role         Role           `json:"role"`
	PExploratory reading.Number `json:"p_exploratory"` // adjusted for all exploratory comparisons of the trial; Missing for the main ones
	ExploratoryN int            `json:"exploratory_n"` // how many those are
	MayBeChance  bool           `json:"may_be_chance"` // clear by itself, but unclear among all exploratory comparisons
	WorthHaving  reading.Number `json:"worth_having"`  // of an unclear comparison: the smallest ratio or difference worth having
	TraysNeeded  reading.Number `json:"trays_needed"`  // of each treatment, to show it with 80 % power; MostTraysTried + 1 for more
	DF           reading.Number `json:"df"`

	Inference    Inference      `json:"inference"`
	Mean         reading.Number `json:"mean"` // over trays; on the ratio scale their geometric mean
	ControlMean  reading.Number `json:"control_mean"`
	TrayNumbers  []int          `json:"tray_numbers"`
	ControlTrays []int          `json:"control_tray_numbers"`
	PlugsN       int            `json:"plugs"`
	ControlPlugs int            `json:"control_plugs"`

	TrayVariation  reading.Number `json:"tray_variation"`              // between trays treated alike, over all treatments
	PlugVariation  reading.Number `json:"plug_variation"`              // between plugs of one tray, over all trays
	MeasuringShare reading.Number `json:"measurement_share_pct"`       // of the interval's squared width; at most this much
	ExplainedBy    reading.Number `json:"explained_by_tray_variation"` // the tray variation that would explain the difference away

	Verdict  Verdict  `json:"verdict"`
	Sentence string   `json:"sentence"`
	Limits   []string `json:"limits,omitempty"`
}

// Growing is how a tray does, by its growth and its colour.
type Growing string

// The four ways. They suggest what to check and are not a diagnosis.
const (
	WellGreen     Growing = "growing well, green"
	WellYellowing Growing = "growing well, yellowing: feed may be used up"
	HeldBackPale  Growing = "held back, yellowing or brown roots: look at watering before feeding more"
	HeldBackGreen Growing = "held back, green"
)

// TrayGrowth sets a tray's growth beside its yellowing and browning, relative to its control on the same day.
type TrayGrowth struct {
	Day       int    `json:"day"`
	Tray      int    `json:"tray"`
	Treatment string `json:"treatment"`
	Control   string `json:"control"` // "" for none

	RootRatio    reading.Number `json:"root_area_ratio"` // to the geometric mean of the control's trays
	LeafRatio    reading.Number `json:"leaf_area_ratio"`
	ChloroticPct reading.Number `json:"chlorotic_pct"` // of the tray's plants, on average
	ChloroticOff reading.Number `json:"chlorotic_points_above_control"`
	BrowningPct  reading.Number `json:"root_browning_pct"`
	BrowningOff  reading.Number `json:"root_browning_points_above_control"`
	Plants       int            `json:"plants"` // seen from above
	Plugs        int            `json:"plugs"`  // looked at from above; 0 for none

	Growing Growing `json:"growing"`       // "" when it cannot be sorted
	Why     string  `json:"why,omitempty"` // it cannot, or which of its numbers decided
}

// Blank returns a comparison of which no figure is known.
func Blank() Comparison {
	m := reading.Missing
	return Comparison{Estimate: m, Lower: m, Upper: m, PSingle: m, P: m, DF: m, Mean: m, ControlMean: m,
		TrayVariation: m, PlugVariation: m, MeasuringShare: m, ExplainedBy: m, PExploratory: m, WorthHaving: m, TraysNeeded: m, Verdict: NotCompared,
		TrayNumbers: []int{}, ControlTrays: []int{}}
}
