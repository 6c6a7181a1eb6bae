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
			"A blank cell means not measured, never zero. Text that a spreadsheet would read as a formula starts with an apostrophe."}
	if t.Plan.DataLicence != "" {
		p.Licences = []licence{{t.Plan.DataLicence}}
	} else {
		p.Description += " The plan has no licence for the data (data_licence): ask the people who ran the trial before you publish them."
	}
	photos, plugs, trays := schemaOf(photoColumns, photoMeanings, "photo"), schemaOf(PlugColumns, plugMeanings, "photo", "plug"), schemaOf(TrayColumns, trayMeanings, "day", "tray")
	if t.Public {
		toDays(&photos, &plugs)
	}
	plugs.ForeignKeys, trays.ForeignKeys = leadsTo("photos", "photo", "photo"), leadsTo("photos", "photo", "roots_photo", "leaves_photo")
	for _, r := range []dataResource{
		{Name: "trays", Path: TraysCSV, Title: "Trays", Description: "One row per tray and day: the stand, and the figures used to compare treatments.", Schema: trays},
		{Name: "comparisons", Path: ComparisonsCSV, Title: "Comparisons", Description: "One row per comparison: a treatment against its control in one quantity on one day.",
			Schema: schemaOf(ComparisonColumns, comparisonMeanings, "day", "quantity", "kind", "treatment", "control", "combination_of")},
		{Name: "plugs", Path: PlugsCSV, Title: "Plugs", Description: "One row per plug and photo.", Schema: plugs},
		{Name: "photos", Path: PhotosCSV, Title: "Photos", Description: "One row per measured photo.", Schema: photos},
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
				f.Type, f.Title, f.Description = "date", "taken (date)", "The day on which the photo was taken; blank if unknown. The time of day is not published."
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
	"taken":     {words: "When the photo was taken, with the offset from UTC; blank if unknown.", datetime: true},
	"day":       {unit: "d", words: "Days since sowing; sowing day is day 0. Blank when the photo has no date."},
	"tray":      {words: "Number of the tray.", limits: &constraints{Required: true}},
	"treatment": {words: "Treatment of the tray; blank for a tray that is not in the plan."},
	"side":      {words: "What the photo shows: roots (plug bottoms from below) or leaves (plants from above).", limits: oneOf(reading.Roots.Words(), reading.Shoots.Words())},
}

var plugMeanings = withShot(map[string]meaning{
	"plug": {words: "Row letter and column number of the plug in its tray: A1 to E10 in a tray of fifty.", limits: always},
	"state": {words: "planted: counted. empty: no plug (roots) or no plant (shoots). hidden: covered, cut off or blurred in the photo. excluded: left out by hand, with a reason.",
		limits: oneOf(string(reading.Planted), string(reading.Empty), string(reading.Hidden), string(reading.Excluded))},
	"root_area_mm2":       {unit: "mm²", words: "Area of root visible on the bottom of the plug, at the level of the card. Pixels that are partly root count in part.", limits: atLeast(0)},
	"root_area_u_mm2":     {unit: "mm²", words: "Expanded uncertainty of root_area_mm2, coverage factor k = 2 (JCGM 100:2008).", limits: atLeast(0)},
	"root_cover_pct":      {unit: "%", words: "Root area as a share of the plug’s area.", limits: within(0, 100)},
	"root_length_mm":      {unit: "mm", words: "Length of the centre lines of visible roots.", limits: atLeast(0)},
	"root_browning_pct":   {unit: "%", words: "Brown root share: the part of the root area that is tan to brown rather than white to cream.", limits: within(0, 100)},
	"plug_area_mm2":       {unit: "mm²", words: "Area of the bottom of the plug.", limits: atLeast(0)},
	"leaf_area_mm2":       {unit: "mm²", words: "Area of leaf visible from above, at the height of the leaves, including yellow tissue.", limits: atLeast(0)},
	"leaf_area_u_mm2":     {unit: "mm²", words: "Expanded uncertainty of leaf_area_mm2, coverage factor k = 2 (JCGM 100:2008).", limits: atLeast(0)},
	"chlorotic_pct":       {unit: "%", words: "Yellow leaf share: the yellow part of the leaf area, from the hue after white balance on the card.", limits: within(0, 100)},
	"leaf_hue_deg":        {unit: "°", words: "Median CIELAB hue angle of the leaf.", limits: within(0, 360)},
	"dgci":                {unit: "1", words: "Dark-green colour index of the leaf (Karcher & Richardson 2003).", limits: within(0, 1)},
	"root_length_u_mm":    {unit: "mm", words: "Expanded uncertainty of root_length_mm, coverage factor k = 2 (JCGM 100:2008).", limits: atLeast(0)},
	"root_browning_u_pct": {unit: "%", words: "Expanded uncertainty of root_browning_pct, coverage factor k = 2 (JCGM 100:2008), in percentage points.", limits: atLeast(0)},
	"plug_area_u_mm2":     {unit: "mm²", words: "Expanded uncertainty of plug_area_mm2, coverage factor k = 2 (JCGM 100:2008).", limits: atLeast(0)},
	"chlorotic_u_pct":     {unit: "%", words: "Expanded uncertainty of chlorotic_pct, coverage factor k = 2 (JCGM 100:2008), in percentage points.", limits: atLeast(0)},
	"leaf_hue_u_deg":      {unit: "°", words: "Expanded uncertainty of leaf_hue_deg, coverage factor k = 2 (JCGM 100:2008); the white balance is in it.", limits: atLeast(0)},
	"dgci_u":              {unit: "1", words: "Expanded uncertainty of dgci, coverage factor k = 2 (JCGM 100:2008); the white balance is in it.", limits: atLeast(0)},
	"remarks":             {words: "Short remarks about the plug, separated by semicolons; the method section of the report explains them."},
})

var photoMeanings = withShot(map[string]meaning{
	"sha256":          {words: "SHA-256 of the photo’s file: anyone with the file can check that it is the one measured.", limits: always},
	"counts":          {words: "true: the tray’s figures come from this photo. false: another photo of the same tray, day and side is used.", limits: always, boolean: true},
	"plugs_n":         {words: "Plugs examined.", limits: atLeast(0)},
	"planted_n":       {words: "Plugs with a plant in this photo.", limits: atLeast(0)},
	"empty_n":         {words: "Empty plugs; not counted in means and sums, not even as 0.", limits: atLeast(0)},
	"hidden_n":        {words: "Plugs that this photo does not show.", limits: atLeast(0)},
	"excluded_n":      {words: "Plugs excluded by hand, with a reason.", limits: atLeast(0)},
	"scale_px_per_mm": {unit: "px/mm", words: "Scale of the photo at the middle of the tray.", limits: atLeast(0)},
	"tilt_deg":        {unit: "°", words: "Tilt of the camera: the angle between its axis and the vertical on the card.", limits: atLeast(0)},
	"concerns":        {words: "Problems of the photo and what to do about them, separated by semicolons."},
})

func withShot(own map[string]meaning) map[string]meaning {
	for name, m := range shotMeanings {
		own[name] = m
	}
	return own
}

const differenceInUnit = "In difference_unit; blank if treatments are compared by ratio."

var comparisonMeanings = map[string]meaning{
	"day":              {unit: "d", words: "Days since sowing.", limits: &constraints{Required: true}},
	"growth_since_day": {unit: "d", words: "For growth rates, the first day; otherwise blank."},
	"quantity":         {words: "The quantity that is compared.", limits: always},
	"unit":             {words: "The unit of treatment_mean and control_mean; blank for an index or a count of plugs."},
	"kind": {words: "control: a treatment against one of its controls in the plan. interaction: a combination against its two parts combined. pair: any two treatments.",
		limits: oneOf(string(outcome.AgainstControl), string(outcome.Interaction), string(outcome.Pair))},
	"treatment":                   {words: "The treatment.", limits: always},
	"control":                     {words: "The treatment that it is compared with; for an interaction, the base to which both parts were added."},
	"combination_of":              {words: "For an interaction: the two treatments with one part each."},
	"treatment_mean":              {words: "Mean over the trays of the treatment, in the unit of the column unit; the geometric mean if treatments are compared by ratio."},
	"control_mean":                {words: "The same for the control."},
	"ratio":                       {unit: "1", words: "Treatment divided by control; 1 is no difference. Blank if treatments are compared by difference.", limits: atLeast(0)},
	"ratio_lower_95":              {unit: "1", words: "Lower end of the ratio’s 95 % interval; blank if it is too wide to use.", limits: atLeast(0)},
	"ratio_upper_95":              {unit: "1", words: "Upper end of the ratio’s 95 % interval; blank if it is too wide to use.", limits: atLeast(0)},
	"difference":                  {words: "Treatment minus control; 0 is no difference. " + differenceInUnit},
	"difference_lower_95":         {words: "Lower end of the difference’s 95 % interval; blank if it is too wide to use. " + differenceInUnit},
	"difference_upper_95":         {words: "Upper end of the difference’s 95 % interval; blank if it is too wide to use. " + differenceInUnit},
	"difference_unit":             {words: "The unit of the difference and its interval."},
	"p_adjusted":                  {unit: "1", words: "Two-sided p, adjusted for the comparisons tested together; blank if there was no test.", limits: within(0, 1)},
	"p_unadjusted":                {unit: "1", words: "Two-sided p as if it were the only comparison.", limits: within(0, 1)},
	"adjusted_for_n":              {words: "Number of comparisons tested together.", limits: atLeast(1)},
	"role":                        {words: "main: answers the main question, set in the plan before the data came in. exploratory: everything else.", limits: oneOf(string(outcome.Main), string(outcome.Exploratory))},
	"p_exploratory":               {unit: "1", words: "Two-sided p, adjusted for all exploratory comparisons of the trial together (Benjamini & Hochberg 1995); blank for the main ones.", limits: within(0, 1)},
	"exploratory_n":               {words: "Number of these comparisons.", limits: atLeast(1)},
	"worth_having":                {words: "For an unclear comparison: the smallest ratio, or difference in difference_unit, that is worth having according to the plan."},
	"trays_needed_n":              {words: "Trays per treatment needed to show it with 80 % power, given the variation between the trays of this trial; 61 means more than 60.", limits: atLeast(2)},
	"test":                        {words: "The test; blank if there was none."},
	"df":                          {unit: "1", words: "Degrees of freedom of the test.", limits: atLeast(0)},
	"compared_by":                 {words: "What the interval and the test are about. trays: all trays treated alike, and so the treatment. these trays only: just the trays in the photos."},
	"verdict":                     {words: "The answer in a word: more, less, unclear, these trays only, not compared."},
	"treatment_trays":             {words: "Tray numbers of the treatment, separated by spaces."},
	"control_trays":               {words: "Tray numbers of the control, separated by spaces."},
	"treatment_plugs":             {words: "Number of plugs in the mean of the treatment.", limits: atLeast(0)},
	"control_plugs":               {words: "Number of plugs in the mean of the control.", limits: atLeast(0)},
	"tray_variation":              {words: "Variation between trays treated alike, in variation_unit."},
	"plug_variation":              {words: "Variation between plugs of one tray, in variation_unit."},
	"variation_needed_to_explain": {words: "With single trays: the variation between trays treated alike that is enough to explain the difference, in variation_unit."},
	"variation_unit":              {words: "The unit of the three variations: a coefficient of variation in %, or a standard deviation."},
	"measuring_share_pct":         {unit: "%", words: "Largest share of the interval’s squared width that comes from the error bars of the photos.", limits: atLeast(0)},
	"sentence":                    {words: "The comparison in words."},
	"limits":                      {words: "Limitations of the comparison, separated by semicolons."},
}
