// Package reading holds the results of one photo: quantities with error bars for each plug, and concerns about the photo. It stores readings in
// the trial's folder and applies corrections to them.
//
//	in    readings as they were measured, readings/*.json, the trial's corrections
//	out   readings, checked and corrected; which photo of several to use, and a verdict on each
//
// It must not depend on how a photo is measured, nor what is compared.
package reading

import (
	"time"

	"traygauge/measure/correct"
)

// State says what is known of a plug in one photo.
type State string

// The states of a plug. An empty one has no plug there (roots) or no plant there (shoots); its quantities are missing.
const (
	Planted  State = "planted"
	Empty    State = "empty"
	Hidden   State = "hidden"
	Excluded State = "excluded"
)

// Plug is what one photo says of one plug. What the view does not measure is Missing. A field ending in U is the
// expanded uncertainty (k = 2, JCGM 100:2008) of the one before it.
type Plug struct {
	Name  string `json:"plug"` // row letter and column number: A1 to E10
	State State  `json:"state"`
	Place *Place `json:"place,omitempty"` // where it is in the photo; nil: not kept

	RootAreaMM2     Number `json:"root_area_mm2"`
	RootAreaUMM2    Number `json:"root_area_u_mm2"`
	RootCoverPct    Number `json:"root_cover_pct"`
	RootLengthMM    Number `json:"root_length_mm"`
	RootLengthUMM   Number `json:"root_length_u_mm"`
	RootBrowningPct Number `json:"root_browning_pct"`
	RootBrownUPct   Number `json:"root_browning_u_pct"`
	PlugAreaMM2     Number `json:"plug_area_mm2"`
	PlugAreaUMM2    Number `json:"plug_area_u_mm2"`

	LeafAreaMM2  Number `json:"leaf_area_mm2"`
	LeafAreaUMM2 Number `json:"leaf_area_u_mm2"`
	ChloroticPct Number `json:"chlorotic_pct"`
	ChlorUPct    Number `json:"chlorotic_u_pct"`
	LeafHueDeg   Number `json:"leaf_hue_deg"`
	LeafHueUDeg  Number `json:"leaf_hue_u_deg"`
	DGCI         Number `json:"dgci"` // dark-green colour index, Karcher & Richardson 2003
	DGCIU        Number `json:"dgci_u"`

	// Budgets are what the error bars are made of, by the value's name: root_area_mm2, …
	Budgets map[string]Budget `json:"budgets,omitempty"`

	Flags []string `json:"flags,omitempty"` // short words such as "shared"; see the method sheet
}

// Concern is something about a photo that its user must know: what is wrong, and what to do about it.
type Concern struct {
	Kind   Kind   `json:"kind"`   // one word or two, such as "no card" or "blurred"
	Words  string `json:"words"`  // what is wrong, with the measured figure
	Remedy string `json:"remedy"` // what to do about it
	Fatal  bool   `json:"fatal"`  // nothing could be measured

	Bias string `json:"bias,omitempty"` // which way it would push the tray's figures, as half a sentence; "": not known
}

// Short names the concern, and says which way it would push the tray's figures where that is known.
func (c Concern) Short() string {
	if c.Bias == "" {
		return string(c.Kind)
	}
	return string(c.Kind) + ": " + c.Bias
}

// Sentence says what is wrong, which way it would push the tray's figures where that is known, and what to do about it; it goes on from the photo's
// name: "is not a photo in a known format: remove it".
func (c Concern) Sentence() string {
	words := c.Words
	if words == "" {
		words = string(c.Kind)
	}
	if c.Bias != "" {
		words += "; " + c.Bias
	}
	if c.Remedy != "" {
		words += ": " + c.Remedy
	}
	return words
}

// TrialConcern is a concern about the trial rather than about one photo's picture.
type TrialConcern struct {
	Photos []string `json:"photos,omitempty"` // those it is about
	Concern
}

// Reading is all that one photo gave.
type Reading struct {
	Photo     string    `json:"photo"` // path below photos/, with "/"
	SHA256    string    `json:"sha256"`
	Version   string    `json:"version"`        // of the program
	Settings  string    `json:"settings"`       // digest of what in the plan changes a reading
	Taken     time.Time `json:"taken"`          // RFC 3339
	TakenFrom Source    `json:"takenfrom"`      // "photo" or "file": where the time comes from; "hand": the day was assigned
	ZoneFrom  Source    `json:"zonefrom"`       // "photo" or "plan": which zone the time was read in
	Tags      []int     `json:"tags,omitempty"` // the trays whose tags are in view, the nearest to the card first
	Tray      int       `json:"tray"`           // 0: not known
	TrayFrom  Source    `json:"trayfrom"`       // "tag", "name" (the file's or a folder's) or "hand"; "" where not known
	View      View      `json:"view"`           // "" when no card was found

	WidthPx  int              `json:"width_px"` // of the upright photo; 0 where it could not be decoded
	HeightPx int              `json:"height_px"`
	PlugsAt  *correct.Corners `json:"plugs_at,omitempty"` // where the plugs were measured, seen or set by hand

	Lens            string `json:"lens"`        // the profile that straightened the picture; "": none was available
	PxPerMM         Number `json:"px_per_mm"`   // at the tray's middle
	TiltDeg         Number `json:"tilt_deg"`    // camera axis against the plane's normal
	HeightMM        Number `json:"height_mm"`   // camera over the card
	ResidualPx      Number `json:"residual_px"` // root mean square misfit of the card's sixteen corners
	ResidualMM      Number `json:"residual_mm"`
	MTF50PerMM      Number `json:"mtf50_per_mm"`       // cycles per mm on the card at which contrast has fallen to half (ISO 12233)
	PaperLightPct   Number `json:"paper_light_pct"`    // light of the card's paper, of the brightest that the file can hold
	ClippedPct      Number `json:"clipped_pct"`        // overexposed share of the card's white window
	CardChroma      Number `json:"card_chroma"`        // of the card's coloured patches over what was printed
	CardGreenOffDeg Number `json:"card_green_off_deg"` // hue of its green less what was printed
	CanopyCoverPct  Number `json:"canopy_cover_pct"`   // leaf area over the tray / tray area
	PitchRatio      Number `json:"pitch_ratio"`        // between plugs, by the card over by the plan
	PitchRatioU     Number `json:"pitch_ratio_u"`      // its standard uncertainty

	Plugs    []Plug    `json:"plugs"`
	Covered  []Plug    `json:"covered,omitempty"` // plugs that something seems to cover, as they were measured; they count only where somebody includes them
	Concerns []Concern `json:"concerns,omitempty"`

	Grid        *correct.Corners     `json:"grid,omitempty"`        // set by hand, and measured by; nil: the photo showed it
	Corrections []correct.Correction `json:"corrections,omitempty"` // those that the plugs above show; see Correct
	AsMeasured  []Plug               `json:"as_measured,omitempty"` // plugs that were corrected, as they were measured

	Seal string `json:"seal,omitempty"` // digest of all else, as it was written

	CanopyMeasuredPct *Number `json:"canopy_cover_as_measured_pct,omitempty"` // of an excluded photo
}
