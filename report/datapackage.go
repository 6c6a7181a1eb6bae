package report

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/report/table"
	"traygauge/vision"
)

// The names of a report's tables.
const (
	PlugsCSV       = "plugs.csv"
	PhotosCSV      = "photos.csv"
	TraysCSV       = "trays.csv"
	ComparisonsCSV = "comparisons.csv"

	DataPackageJSON = "datapackage.json" // describes the tables
)

// The descriptor follows Data Package and Table Schema, version 2.0 (datapackage.org/standard).
const packageProfile = "https://datapackage.org/profiles/2.0/datapackage.json"

type dataPackage struct {
	Profile     string         `json:"$schema"`
	Name        string         `json:"name"`
	Title       string         `json:"title,omitempty"`
	Description string         `json:"description"`
	Generator   generator      `json:"generator"`
	Licences    []licence      `json:"licenses,omitempty"`
	Resources   []dataResource `json:"resources"`
}

// generator says what measured the photos. The standard leaves room for it and has no property of its own.
type generator struct {
	Name     string   `json:"name"`
	Versions []string `json:"versions"` // that the readings were made with; more than one: not to be compared
	Networks []string `json:"networks"` // what tells roots and leaves in the photos
}

type licence struct {
	Name string `json:"name"`
}

type dataResource struct {
	Name        string      `json:"name"`
	Type        string      `json:"type"`
	Path        string      `json:"path"`
	Title       string      `json:"title"`
	Description string      `json:"description"`
	Format      string      `json:"format"`
	MediaType   string      `json:"mediatype"`
	Encoding    string      `json:"encoding"`
	Bytes       int         `json:"bytes"`
	Hash        string      `json:"hash"`
	Schema      tableSchema `json:"schema"`
}

type tableSchema struct {
	Fields        []tableField `json:"fields"`
	MissingValues []string     `json:"missingValues"`
	PrimaryKey    []string     `json:"primaryKey,omitempty"`
	ForeignKeys   []foreignKey `json:"foreignKeys,omitempty"`
}

// foreignKey says that columns name a row of another table.
type foreignKey struct {
	Fields    []string  `json:"fields"`
	Reference reference `json:"reference"`
}

type reference struct {
	Resource string   `json:"resource"`
	Fields   []string `json:"fields"`
}

func leadsTo(table, field string, columns ...string) []foreignKey {
	var keys []foreignKey
	for _, c := range columns {
		keys = append(keys, foreignKey{[]string{c}, reference{table, []string{field}}})
	}
	return keys
}

// tableField is a column. Unit is ours: the standard leaves room for it and has none.
type tableField struct {
	Name        string       `json:"name"`
	Type        string       `json:"type"`
	Title       string       `json:"title"`
	Unit        string       `json:"unit,omitempty"`
	Description string       `json:"description"`
	Constraints *constraints `json:"constraints,omitempty"`
}

type constraints struct {
	Required bool     `json:"required,omitempty"`
	Enum     []string `json:"enum,omitempty"`
	Minimum  *float64 `json:"minimum,omitempty"`
	Maximum  *float64 `json:"maximum,omitempty"`
}

// meaning is what a column holds, beyond its name and kind.
type meaning struct {
	unit, words string
	limits      *constraints
	datetime    bool
	boolean     bool
}

// WriteDataPackage writes datapackage.json, which says of every column of the tables its type, its unit and what it means, of every
// table its size, its SHA-256 and which columns lead to another table, and what measured the photos. files holds the tables as written.
func WriteDataPackage(w io.Writer, t *Trial, files map[string][]byte) error {
	p := dataPackage{Profile: packageProfile, Name: "traygauge-trial", Title: t.Plan.Title, Generator: generatorOf(t),
		Description: "Root area and leaf area of plants in propagation trays, measured in photos, and treatments compared with their controls. " +
			"A blank cell was not measured; it is never a zero. Text that a spreadsheet would take for a formula has an apostrophe before it."}
	if t.Plan.DataLicence != "" {
		p.Licences = []licence{{t.Plan.DataLicence}}
	} else {
		p.Description += " The plan names no licence for the data (data_licence): ask who made the trial before you publish them."
	}
	photos, plugs, trays := schemaOf(photoColumns, photoMeanings, "photo"), schemaOf(PlugColumns, plugMeanings, "photo", "plug"), schemaOf(TrayColumns, trayMeanings, "day", "tray")
	if t.Public {
		toDays(&photos, &plugs)
	}
	plugs.ForeignKeys, trays.ForeignKeys = leadsTo("photos", "photo", "photo"), leadsTo("photos", "photo", "roots_photo", "leaves_photo")
	for _, r := range []dataResource{
		{Name: "trays", Path: TraysCSV, Title: "Trays", Description: "One row a tray and day: its stand, and the figures by which treatments are compared.", Schema: trays},
		{Name: "comparisons", Path: ComparisonsCSV, Title: "Comparisons", Description: "One row a comparison: a treatment against its control in one quantity on one day.",
			Schema: schemaOf(ComparisonColumns, comparisonMeanings, "day", "quantity", "kind", "treatment", "control", "combination_of")},
		{Name: "plugs", Path: PlugsCSV, Title: "Plugs", Description: "One row a plug and photo.", Schema: plugs},
		{Name: "photos", Path: PhotosCSV, Title: "Photos", Description: "One row a photo that could be measured.", Schema: photos},
	} {
		text, ok := files[r.Path]
		if !ok {
			return fmt.Errorf("cannot describe %s: it was not written", r.Path)
		}
		sum := sha256.Sum256(text)
		r.Type, r.Format, r.MediaType, r.Encoding = "table", "csv", "text/csv", "utf-8"
		r.Bytes, r.Hash = len(text), "sha256:"+hex.EncodeToString(sum[:])
		p.Resources = append(p.Resources, r)
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(p)
}

// toDays says of the columns with times that they hold days.
func toDays(schemas ...*tableSchema) {
	for _, s := range schemas {
		for i := range s.Fields {
			if f := &s.Fields[i]; f.Type == "datetime" {
				f.Type, f.Title, f.Description = "date", "taken (date)", "The day on which the photo was taken; blank when not known. The time of day is left out for publishing."
			}
		}
	}
}

func generatorOf(t *Trial) generator {
	networks := vision.Networks()
	g := generator{Name: "traygauge", Versions: []string{}, Networks: networks[:]}
	for _, r := range t.Photos {
		if !slices.Contains(g.Versions, r.Version) {
			g.Versions = append(g.Versions, r.Version)
		}
	}
	slices.Sort(g.Versions)
	return g
}

// schemaOf describes a table's columns. A column without a meaning is described by its title alone.
func schemaOf[Row any](columns []table.Column[Row], meanings map[string]meaning, key ...string) tableSchema {
	s := tableSchema{MissingValues: []string{""}, PrimaryKey: key}
	for _, c := range columns {
		m := meanings[c.Name]
		f := tableField{Name: c.Name, Title: c.Title, Unit: m.unit, Description: m.words, Constraints: m.limits, Type: "string"}
		switch {
		case m.datetime:
			f.Type = "datetime"
		case m.boolean:
			f.Type = "boolean"
		case c.Number != nil && c.Decimals == 0:
			f.Type = "integer"
		case c.Number != nil:
			f.Type = "number"
		}
		s.Fields = append(s.Fields, f)
	}
	return s
}

func atLeast(least float64) *constraints { return &constraints{Minimum: &least} }

func within(least, most float64) *constraints { return &constraints{Minimum: &least, Maximum: &most} }

func oneOf(words ...string) *constraints { return &constraints{Required: true, Enum: words} }

var always = &constraints{Required: true}

// shotMeanings are those of the columns that plugs.csv and photos.csv share.
var shotMeanings = map[string]meaning{
	"photo":     {words: "The photo’s path below the trial’s folder of photos, with /. In a public report the first twelve digits of its SHA-256 instead.", limits: always},
	"taken":     {words: "When the photo was taken, with the offset from UTC; blank when not known.", datetime: true},
	"day":       {unit: "d", words: "Days since sowing; sowing day is day 0. Blank when the photo has no date."},
	"tray":      {words: "The tray’s number.", limits: &constraints{Required: true}},
	"treatment": {words: "What the tray gets; blank for a tray that the plan does not have."},
	"side":      {words: "What the photo shows: roots, the plug bottoms from below; leaves, the plants from above.", limits: oneOf(reading.Roots.Words(), reading.Shoots.Words())},
}

var plugMeanings = withShot(map[string]meaning{
	"plug": {words: "Row letter and column number of the plug in its tray: A1 to E10 in a tray of fifty.", limits: always},
	"state": {words: "planted: counts. empty: no plug there (roots) or no plant there (shoots). hidden: something covers it, or it is cut off or blurred in the photo. excluded: left out by hand with a reason.",
		limits: oneOf(string(reading.Planted), string(reading.Empty), string(reading.Hidden), string(reading.Excluded))},
	"root_area_mm2":       {unit: "mm²", words: "Visible root on the plug’s bottom, in the plane of the card. A pixel that is partly root counts with its share.", limits: atLeast(0)},
	"root_area_u_mm2":     {unit: "mm²", words: "Expanded uncertainty of root_area_mm2, coverage factor k = 2 (JCGM 100:2008).", limits: atLeast(0)},
	"root_cover_pct":      {unit: "%", words: "Root area as a share of the plug’s area.", limits: within(0, 100)},
	"root_length_mm":      {unit: "mm", words: "Length of the visible roots’ centre lines.", limits: atLeast(0)},
	"root_browning_pct":   {unit: "%", words: "Brown root share: the part of the root area that is tan to brown rather than white to cream.", limits: within(0, 100)},
	"plug_area_mm2":       {unit: "mm²", words: "Area of the plug’s bottom inside its outline.", limits: atLeast(0)},
	"leaf_area_mm2":       {unit: "mm²", words: "Leaf visible from above, in the plane of the leaves; yellow tissue included.", limits: atLeast(0)},
	"leaf_area_u_mm2":     {unit: "mm²", words: "Expanded uncertainty of leaf_area_mm2, coverage factor k = 2 (JCGM 100:2008).", limits: atLeast(0)},
	"chlorotic_pct":       {unit: "%", words: "Yellow leaf share: the yellow part of the leaf area, by hue after white balance on the card.", limits: within(0, 100)},
	"leaf_hue_deg":        {unit: "°", words: "Median CIELAB hue angle of the leaf.", limits: within(0, 360)},
	"dgci":                {unit: "1", words: "Dark-green colour index of the leaf (Karcher & Richardson 2003).", limits: within(0, 1)},
	"root_length_u_mm":    {unit: "mm", words: "Expanded uncertainty of root_length_mm, coverage factor k = 2 (JCGM 100:2008).", limits: atLeast(0)},
	"root_browning_u_pct": {unit: "%", words: "Expanded uncertainty of root_browning_pct, coverage factor k = 2 (JCGM 100:2008), in percentage points.", limits: atLeast(0)},
	"plug_area_u_mm2":     {unit: "mm²", words: "Expanded uncertainty of plug_area_mm2, coverage factor k = 2 (JCGM 100:2008).", limits: atLeast(0)},
	"chlorotic_u_pct":     {unit: "%", words: "Expanded uncertainty of chlorotic_pct, coverage factor k = 2 (JCGM 100:2008), in percentage points.", limits: atLeast(0)},
	"leaf_hue_u_deg":      {unit: "°", words: "Expanded uncertainty of leaf_hue_deg, coverage factor k = 2 (JCGM 100:2008); the white balance is in it.", limits: atLeast(0)},
	"dgci_u":              {unit: "1", words: "Expanded uncertainty of dgci, coverage factor k = 2 (JCGM 100:2008); the white balance is in it.", limits: atLeast(0)},
	"remarks":             {words: "Short remarks about the plug, separated by semicolons; the report’s method says what they mean."},
})

var photoMeanings = withShot(map[string]meaning{
	"sha256":          {words: "SHA-256 of the photo’s file: anyone with the file can check that it is the one measured.", limits: always},
	"counts":          {words: "true: the tray’s figures come from this photo. false: another photo of the same tray, day and side is used.", limits: always, boolean: true},
	"plugs_n":         {words: "Plugs looked at.", limits: atLeast(0)},
	"planted_n":       {words: "Plugs with a plant as this photo shows it.", limits: atLeast(0)},
	"empty_n":         {words: "Plugs that are empty; left out of means and sums, never counted as 0.", limits: atLeast(0)},
	"hidden_n":        {words: "Plugs about which this photo says nothing.", limits: atLeast(0)},
	"excluded_n":      {words: "Plugs excluded by hand with a reason.", limits: atLeast(0)},
	"scale_px_per_mm": {unit: "px/mm", words: "The photo’s scale at the middle of the tray.", limits: atLeast(0)},
	"tilt_deg":        {unit: "°", words: "Tilt of the camera: the angle between its axis and the upright on the card.", limits: atLeast(0)},
	"concerns":        {words: "What to know about the photo, and what to do about it, separated by semicolons."},
})

func withShot(own map[string]meaning) map[string]meaning {
	for name, m := range shotMeanings {
		own[name] = m
	}
	return own
}

const differenceInUnit = "In the unit that difference_unit names; blank where treatments are compared by ratio."

var comparisonMeanings = map[string]meaning{
	"day":              {unit: "d", words: "Days since sowing.", limits: &constraints{Required: true}},
	"growth_since_day": {unit: "d", words: "Of a growth rate: since this day; blank otherwise."},
	"quantity":         {words: "What is compared.", limits: always},
	"unit":             {words: "The unit of treatment_mean and control_mean; blank for an index or a count of plugs."},
	"kind": {words: "control: a treatment against one of its declared controls. interaction: a combination against what its two parts together would give. pair: any two treatments.",
		limits: oneOf(string(outcome.AgainstControl), string(outcome.Interaction), string(outcome.Pair))},
	"treatment":                   {words: "The treatment.", limits: always},
	"control":                     {words: "What it is compared with; of an interaction, the base that both parts were added to."},
	"combination_of":              {words: "Of an interaction: the two treatments with one part each."},
	"treatment_mean":              {words: "The treatment’s mean over its trays, in the unit that the column unit names; geometric where treatments are compared by ratio."},
	"control_mean":                {words: "The same of the control."},
	"ratio":                       {unit: "1", words: "Treatment over control; 1 is no difference. Blank where treatments are compared by difference.", limits: atLeast(0)},
	"ratio_lower_95":              {unit: "1", words: "Lower end of the ratio’s 95 % interval; blank where it spans everything.", limits: atLeast(0)},
	"ratio_upper_95":              {unit: "1", words: "Upper end of the ratio’s 95 % interval; blank where it spans everything.", limits: atLeast(0)},
	"difference":                  {words: "Treatment minus control; 0 is no difference. " + differenceInUnit},
	"difference_lower_95":         {words: "Lower end of the difference’s 95 % interval; blank where it spans everything. " + differenceInUnit},
	"difference_upper_95":         {words: "Upper end of the difference’s 95 % interval; blank where it spans everything. " + differenceInUnit},
	"difference_unit":             {words: "The unit of the difference and its interval."},
	"p_adjusted":                  {unit: "1", words: "Two-sided p, adjusted for the comparisons made at once; blank where no test was made.", limits: within(0, 1)},
	"p_unadjusted":                {unit: "1", words: "Two-sided p as if it were the only comparison.", limits: within(0, 1)},
	"adjusted_for_n":              {words: "The number of comparisons made at once.", limits: atLeast(1)},
	"role":                        {words: "main: answers the question that the plan named before there were data. exploratory: all else.", limits: oneOf(string(outcome.Main), string(outcome.Exploratory))},
	"p_exploratory":               {unit: "1", words: "Two-sided p, adjusted for all exploratory comparisons of the trial together (Benjamini & Hochberg 1995); blank for the main ones.", limits: within(0, 1)},
	"exploratory_n":               {words: "How many comparisons those are.", limits: atLeast(1)},
	"worth_having":                {words: "Of an unclear comparison: the smallest ratio, or difference in the unit that difference_unit names, that the plan calls worth having."},
	"trays_needed_n":              {words: "Trays of each treatment that would show it with 80 % power, with the variation between this trial’s trays; 61 means more than 60.", limits: atLeast(2)},
	"test":                        {words: "The test; blank where none was made."},
	"df":                          {unit: "1", words: "The test’s degrees of freedom.", limits: atLeast(0)},
	"compared_by":                 {words: "What interval and test are about. trays: other trays treated alike, and so the treatment. these trays only: the trays photographed."},
	"verdict":                     {words: "The answer in a word: more, less, unclear, these trays only, not compared."},
	"treatment_trays":             {words: "Numbers of the treatment’s trays, separated by spaces."},
	"control_trays":               {words: "Numbers of the control’s trays, separated by spaces."},
	"treatment_plugs":             {words: "Plugs behind the treatment’s mean.", limits: atLeast(0)},
	"control_plugs":               {words: "Plugs behind the control’s mean.", limits: atLeast(0)},
	"tray_variation":              {words: "How much trays treated alike vary, in the unit that variation_unit names."},
	"plug_variation":              {words: "How much plugs of one tray vary, in the unit that variation_unit names."},
	"variation_needed_to_explain": {words: "With single trays: how much trays treated alike would have to vary to explain the difference away, in the unit that variation_unit names."},
	"variation_unit":              {words: "The unit of the three variations: a coefficient of variation in %, or a standard deviation."},
	"measuring_share_pct":         {unit: "%", words: "How much of the interval’s squared width the photos’ error bars account for, at most.", limits: atLeast(0)},
	"sentence":                    {words: "The comparison in words."},
	"limits":                      {words: "What limits it, separated by semicolons."},
}
