package summary

import (
	"crypto/rand"
	"fmt"
	"math/big"

	"traygauge/measure/plan"
)

// DrawnPlaces are the trays' places as they were drawn by lot.
type DrawnPlaces struct {
	Seed   int          `json:"places_seed"`
	Places []DrawnPlace `json:"trays"`
}

// DrawnPlace is one tray's.
type DrawnPlace struct {
	Tray      int    `json:"tray"`
	Treatment string `json:"treatment"`
	Position  int    `json:"position"`
}

// Draw draws the places of p's trays with a seed above 0, or with one drawn at random for 0. p is left as it is.
func Draw(p *plan.Plan, seed int) (DrawnPlaces, error) {
	if seed == 0 {
		n, err := rand.Int(rand.Reader, big.NewInt(999999))
		if err != nil {
			return DrawnPlaces{}, fmt.Errorf("cannot draw a seed: %w: give one with --seed", err)
		}
		seed = 1 + int(n.Int64())
	}
	d := DrawnPlaces{Seed: seed, Places: []DrawnPlace{}}
	places := p.DrawPlaces(seed)
	for _, t := range p.Trays {
		d.Places = append(d.Places, DrawnPlace{t.Number, t.Treatment, places[t.Number]})
	}
	return d, nil
}
