package plan

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
)

// MaxSeed is the largest seed that places are drawn with.
const MaxSeed = math.MaxInt32

// DrawPlaces draws a place on the bench for each tray by lot and returns the places by tray number. The same seed draws the
// same places again, whoever runs it. Where every tray of the plan has a place, these places are dealt out again;
// otherwise they are 1 to the number of trays.
func (p *Plan) DrawPlaces(seed int) map[int]int {
	var trays, places []int
	for _, t := range p.Trays {
		trays = append(trays, t.Number)
		if t.Position > 0 {
			places = append(places, t.Position)
		}
	}
	slices.Sort(trays)
	slices.Sort(places)
	if len(places) < len(trays) {
		places = places[:0]
		for i := range trays {
			places = append(places, i+1)
		}
	}
	shuffle(places, rand.NewPCG(uint64(seed), 0))
	drawn := map[int]int{}
	for i, tray := range trays {
		drawn[tray] = places[i]
	}
	return drawn
}

// shuffle puts places in an order of which all are equally likely (Fisher & Yates 1938; Durstenfeld 1964, Comm. ACM 7, 420).
// It is written out here so that a seed draws the same in every version.
func shuffle(places []int, source *rand.PCG) {
	for i := len(places) - 1; i > 0; i-- {
		n := uint64(i + 1)
		x := source.Uint64()
		for x >= math.MaxUint64-math.MaxUint64%n { // otherwise the first places would be a little more likely
			x = source.Uint64()
		}
		j := x % n
		places[i], places[j] = places[j], places[i]
	}
}

// PlacesYAML returns the part of the plan that says where the trays stand, with the places that seed draws.
func (p *Plan) PlacesYAML(seed int) []byte {
	drawn := p.DrawPlaces(seed)
	var b strings.Builder
	fmt.Fprintf(&b, "places_seed: %d\ntrays:\n", seed)
	for _, t := range p.Trays {
		fmt.Fprintf(&b, "  - {tray: %d, treatment: %s, position: %d}\n", t.Number, yamlName(t.Treatment), drawn[t.Number])
	}
	return []byte(b.String())
}

// plainName is a name that stands in YAML between braces as it is: letters first, and nothing that YAML reads as more than
// a letter.
var plainName = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9]*([ +/_-]+[A-Za-z0-9]+)*$`)

// yamlName writes a name so that YAML reads the same name. A JSON string is a YAML string too.
func yamlName(name string) string {
	switch strings.ToLower(name) {
	case "y", "n", "yes", "no", "on", "off", "true", "false", "null":
	default:
		if plainName.MatchString(name) {
			return name
		}
	}
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.Encode(name) // a string always encodes, into memory
	return strings.TrimSpace(b.String())
}

// drawnPlaces warns of places that are not those that the plan's seed draws.
func (r *reader) drawnPlaces(p *Plan, line int) {
	if p.PlacesSeed == 0 {
		return
	}
	drawn := p.DrawPlaces(p.PlacesSeed)
	var others []string
	for _, t := range p.Trays {
		if t.Position > 0 && t.Position != drawn[t.Number] {
			others = append(others, fmt.Sprint(t.Number))
		}
	}
	if len(others) > 0 {
		r.Warn(line, fmt.Sprintf("`traygauge check --draw-places --seed %d` prints the original positions; if you moved trays by hand, remove places_seed and note the reason in the log", p.PlacesSeed),
			"places_seed %d gives other positions for trays %s", p.PlacesSeed, strings.Join(others, ", "))
	}
}
