package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"traygauge/measure"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report/table"
)

// Definition says what a quantity is.
type Definition struct{ Quantity, Unit, Words string }

// Definitions say what the quantities are.
var Definitions = []Definition{
	{outcome.RootArea, "mm²", "Area of root visible on the bottom of the plug, seen straight on, at the level of the card. Pixels that are partly root count in part."},
	{outcome.RootCover, "%", "Root area as a share of the plug’s area."},
	{outcome.RootLength, "mm", "Length of the centre lines of visible roots, joined through crossings."},
	{outcome.RootBrowning, "%", "Share of the root area that is tan to brown rather than white to cream."},
	{"plug area", "mm²", "Area of the bottom of the plug."},
	{outcome.LeafArea, "mm²", "Area of leaf visible from above, at the height of the leaves, including yellow tissue. Parts covered by other leaves are not counted."},
	{outcome.CanopyCover, "%", "Leaf area above the tray as a share of the area of the tray."},
	{outcome.Chlorotic, "%", "Yellow share of the leaf area, from the hue after white balance on the card. The limits are given above."},
	{outcome.LeafHue, "°", "Median CIELAB hue angle of the leaf: about 120 is green, about 90 is yellow."},
	{outcome.DarkGreen, "0 to 1", "Index of how dark green the leaf is (Karcher & Richardson 2003); higher is darker."},
	{outcome.Stand, "n of n", "Plugs with a plant, out of all plugs examined."},
	{"± U", "as its quantity", "Expanded uncertainty of one value (coverage factor k = 2, JCGM 100:2008): the true value is expected within ± U in about 95 of 100 cases."},
	{"SD, CV of plugs", "mm², %", "Standard deviation of the plugs in one tray (n − 1), and the same as a share of their mean."},
}

// States say what the states and flags of plugs mean.
var States = []Definition{
	{string(reading.Planted), "", "A plug with a plant. It counts in means, medians and sums."},
	{string(reading.Empty), "", "Roots: there is no plug. Shoots: there is no plant. Not counted in means and sums, not even as 0."},
	{string(reading.Hidden), "", "Something covers the plug, or it is cut off or blurred in the photo. It is not counted in any result."},
	{string(reading.Excluded), "", "Excluded by hand, with a reason. Its values stay in the list of plugs but are not counted in any result."},
	{sparePhoto, "", "Flag: the tray was photographed more than once in this view on this day, and its results come from another photo: " +
		"the one with fewer concerns, or otherwise the newest."},
	{reading.ExcludedByHand + ", " + reading.IncludedByHand + ", " + reading.EmptyByHand + ", " + reading.PlantedByHand, "", "Flag: the plug was corrected by hand; the reason is listed below. A plug marked " +
		"empty has no values. A plug marked planted has none either, if nothing was measured in it. A plug that seemed covered and was included again has its measured values."},
	{reading.GridByHand, "", "Flag: the photo was measured with a grid that was set by hand."},
	{reading.GrownTogether, "", "Flag: leaves overlap, and the program could not determine which plant they belong to."},
}

// Passage is a paragraph of the method with its heading, "" for the same as above.
type Passage struct{ Heading, Words string }

// SettingsOf says what a trial was measured with.
func SettingsOf(t *Trial) []Passage {
	p := t.Plan
	rule := fmt.Sprintf("100 mm on the printed card measure %s ± %s mm", table.Plain(p.Card.RuleMM), table.Plain(p.Card.RuleU))
	if p.Card.RuleMM == 0 {
		rule = "the ruler of the printed card was not measured"
	}
	var versions []string
	for _, r := range t.Trays {
		words := fmt.Sprintf("traygauge %s, settings %s", orUnknown(r.Version), orUnknown(r.Settings))
		if !slices.Contains(versions, words) {
			versions = append(versions, words)
		}
	}
	slices.Sort(versions)
	measured := strings.Join(versions, "; ")
	if len(versions) > 1 {
		measured += ". Photos were measured in different ways: run measure again before you compare them."
	}
	if measured == "" {
		measured = "no photo was measured"
	}
	list := []Passage{
		{"Trial", strings.TrimSpace(p.Title + "; crop: " + orUnknown(p.Crop))},
		{"Measured with", measured},
		{"Card", rule},
		{"Lens", lensesOf(p)},
		{"Error bars", mostlyOf(t)},
		{"Yellow leaf", fmt.Sprintf("CIELAB hue below %s° at chroma above %s", table.Plain(p.Limits.ChlorosisHueDeg), table.Plain(p.Limits.ChlorosisChroma))},
		{"Tray", fmt.Sprintf("%d rows by %d columns, %s × %s mm", p.Tray.Rows, p.Tray.Columns, table.Plain(p.Tray.LengthMM), table.Plain(p.Tray.WidthMM))},
	}
	if !p.Sown.IsZero() {
		list = append(list, Passage{"Sown (day 0)", p.Sown.In(p.Zone).Format("2 January 2006")})
	}
	if t.Blind != "" {
		list = append(list, Passage{"Review of the photos", t.Blind})
	}
	return list
}

// mostlyOf says what the error bars are mostly made of; the readings keep each one's whole budget.
func mostlyOf(t *Trial) string {
	plugs := make([]reading.Plug, len(t.Plugs))
	for i, r := range t.Plugs {
		plugs[i] = r.Plug
	}
	var words []string
	for _, q := range []struct{ name, value string }{{outcome.RootArea, "root_area_mm2"}, {outcome.RootLength, "root_length_mm"}, {outcome.LeafArea, "leaf_area_mm2"}} {
		part := measure.Mostly(plugs, q.value)
		if part == "" {
			continue
		}
		w := q.name + ": mostly " + part
		if do := measure.Advice(part); do != "" {
			w += " (" + do + ")"
		}
		words = append(words, w)
	}
	if len(words) == 0 {
		return "no photo has an error bar yet"
	}
	return strings.Join(words, "; ") + ". Each reading lists all parts of its error bars."
}

// lensesOf says which lenses' pictures are straightened.
func lensesOf(p *plan.Plan) string {
	if len(p.Lenses) == 0 {
		return "no profile, so distortion was not corrected; the error bars allow for an unknown lens"
	}
	words := "distortion was corrected for these lenses"
	for _, l := range p.Lenses {
		words += "; " + l.Words()
	}
	return words
}

func orUnknown(s string) string {
	if s == "" {
		return "not known"
	}
	return s
}

// CorrectionsOf says what was corrected by hand.
func CorrectionsOf(t *Trial) []Passage {
	var list []Passage
	for _, c := range t.Corrections {
		list = append(list, Passage{c.Photo, fmt.Sprintf("%d: %s%s, %s: %s", c.ID, c.Does(), byWhom(c.Who), t.timeWords(c.When), c.Why)})
	}
	return list
}

// timeWords writes a time, in public to the day.
func (t *Trial) timeWords(at time.Time) string {
	if t.Public {
		return at.In(t.Plan.Zone).Format(time.DateOnly)
	}
	return at.In(t.Plan.Zone).Format("2006-01-02 15:04")
}

// byWhom names who corrected something; a public report does not.
func byWhom(who string) string {
	if who == "" {
		return ""
	}
	return " by " + who
}

// LimitsOf says what the trial cannot show.
func LimitsOf(t *Trial) []string {
	words := []string{"Plugs in one tray are not replicates, because they share the same water, place under the lamp and accidents. The spread of the plugs " +
		"describes one tray. It does not show how certain a difference between treatments is."}
	var single []string
	for _, treatment := range t.Plan.Treatments {
		if len(t.Plan.TraysOf(treatment.Name)) == 1 {
			single = append(single, treatment.Name)
		}
	}
	if len(single) > 0 {
		words = append(words, "Only one tray, so the effect of the treatment cannot be separated from that of the tray: "+strings.Join(single, "; ")+".")
	}
	words = append(words, "Only roots visible on the bottom of the plug and leaves visible from above are measured. Neither is the whole plant.",
		"Yellowing with strong growth can mean that the tray has used up its feed. With poor or brown roots, it is a reason to check the watering "+
			"first. The figures are not a diagnosis.")
	if n := len(t.Unused); n > 0 {
		words = append(words, fmt.Sprintf("%s not used; the list of photos shows why.", wording.Counted(n, "photo was", "photos were")))
	}
	return words
}
