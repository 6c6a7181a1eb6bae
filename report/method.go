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
	{outcome.RootArea, "mm²", "Visible root on the plug’s bottom, as seen straight on in the plane of the card. A pixel that is partly root counts with its share."},
	{outcome.RootCover, "%", "Root area as a share of the plug’s area."},
	{outcome.RootLength, "mm", "Length of the visible roots’ centre lines, joined through crossings."},
	{outcome.RootBrowning, "%", "Share of the root area that is tan to brown rather than white to cream."},
	{"plug area", "mm²", "Area of the plug’s bottom inside its outline."},
	{outcome.LeafArea, "mm²", "Leaf visible from above, in the plane of the leaves; yellow tissue included. What another leaf covers is not seen."},
	{outcome.CanopyCover, "%", "Leaf area over the tray as a share of the tray’s area."},
	{outcome.Chlorotic, "%", "Yellow share of the leaf area, by hue after white balance on the card. The limits are below."},
	{outcome.LeafHue, "°", "Median CIELAB hue angle of the leaf: about 120 is green, about 90 is yellow."},
	{outcome.DarkGreen, "0 to 1", "Index of how dark a green the leaf is (Karcher & Richardson 2003); higher is darker."},
	{outcome.Stand, "n of n", "Plugs with a plant, of all plugs looked at."},
	{"± U", "as its quantity", "Expanded uncertainty of one value (coverage factor k = 2, JCGM 100:2008): the true value is expected within ± U in about 95 of 100 cases."},
	{"SD, CV of plugs", "mm², %", "Standard deviation of the plugs in one tray (n − 1), and the same as a share of their mean."},
}

// States say what the states and flags of plugs mean.
var States = []Definition{
	{string(reading.Planted), "", "A plug with a plant; it counts in means, medians and sums."},
	{string(reading.Empty), "", "Roots: no plug there. Shoots: no plant there. Left out of means and sums, never counted as 0."},
	{string(reading.Hidden), "", "Something covers the plug, or it is cut off or blurred in the photo. It counts nowhere."},
	{string(reading.Excluded), "", "Excluded by hand with a reason; its values are in the list of plugs but count nowhere."},
	{sparePhoto, "", "Flag: the tray was photographed more than once in this view on this day, and the tray’s row comes from another photo: " +
		"the one with fewer concerns, or else the later one."},
	{reading.ExcludedByHand + ", " + reading.IncludedByHand + ", " + reading.EmptyByHand + ", " + reading.PlantedByHand, "", "Flag: somebody corrected what was measured; the reason is listed below. A plug set " +
		"empty has no values, nor has one set planted in which nothing was measured. A plug that something seemed to cover, and that was included, has those that were measured."},
	{reading.GridByHand, "", "Flag: somebody set where the plugs lie in this photo, and it was measured by that."},
	{reading.GrownTogether, "", "Flag: leaves overlap, and which plant they grow from could not be determined."},
}

// Passage is a paragraph of the method with its heading, "" for the same as above.
type Passage struct{ Heading, Words string }

// SettingsOf says what a trial was measured with.
func SettingsOf(t *Trial) []Passage {
	p := t.Plan
	rule := fmt.Sprintf("100 mm on the printed card measure %s ± %s mm", table.Plain(p.Card.RuleMM), table.Plain(p.Card.RuleU))
	if p.Card.RuleMM == 0 {
		rule = "the printed card’s ruler is not known"
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
		measured += ". Photos were measured in different ways: run measure again before comparing them."
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
		return "made of what each reading lists; no photo has one yet"
	}
	return strings.Join(words, "; ") + ". Each reading lists all parts of each error bar."
}

// lensesOf says which lenses' pictures are straightened.
func lensesOf(p *plan.Plan) string {
	if len(p.Lenses) == 0 {
		return "no profile: nothing was straightened, and the error bars allow for an unknown lens"
	}
	words := "photos of these lenses were straightened"
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
	words := []string{"Plugs in one tray are not replicates: they share its water, its spot under the lamp and its accidents. The spread of the plugs " +
		"describes one tray; it does not say how sure a difference between treatments is."}
	var single []string
	for _, treatment := range t.Plan.Treatments {
		if len(t.Plan.TraysOf(treatment.Name)) == 1 {
			single = append(single, treatment.Name)
		}
	}
	if len(single) > 0 {
		words = append(words, "One tray only, so that the treatment cannot be separated from the tray: "+strings.Join(single, "; ")+".")
	}
	words = append(words, "Roots are what shows on the plug’s bottom, and leaves what shows from above; neither is the whole plant.",
		"Yellowing with strong growth can mean that the tray has used up its feed; yellowing with poor or brown roots is a reason to look at the watering "+
			"first. The figures are not a diagnosis.")
	if n := len(t.Unused); n > 0 {
		words = append(words, fmt.Sprintf("%s not used: the list of photos says why.", wording.Counted(n, "photo was", "photos were")))
	}
	return words
}
