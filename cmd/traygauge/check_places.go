package main

import (
	"crypto/rand"
	"fmt"
	"math/big"

	"traygauge/measure/plan"
	"traygauge/report/terminal"
)

// drawnPlaces is what --draw-places prints as JSON.
type drawnPlaces struct {
	Seed   int          `json:"places_seed"`
	Places []drawnPlace `json:"trays"`
}

type drawnPlace struct {
	Tray      int    `json:"tray"`
	Treatment string `json:"treatment"`
	Position  int    `json:"position"`
}

// runDrawPlaces draws the trays' places and prints them for the plan, which is left as it is.
func runDrawPlaces(opts checkOptions, dir string, std *streams) error {
	if opts.Seed < 0 || opts.Seed > plan.MaxSeed {
		return usageError{fmt.Errorf("--seed %d: a whole number from 1 to %d is needed", opts.Seed, plan.MaxSeed)}
	}
	p, err := planWithoutMistakes(dir, std)
	if err != nil {
		return err
	}
	seed := opts.Seed
	if seed == 0 {
		n, err := rand.Int(rand.Reader, big.NewInt(999999))
		if err != nil {
			return fmt.Errorf("cannot draw a seed: %w: give one with --seed", err)
		}
		seed = 1 + int(n.Int64())
	}
	for _, t := range p.Trays {
		if t.Position > 0 {
			fmt.Fprintln(std.Err, "The plan has positions already. Draw once, before sowing: drawing again until you like the result is not drawing by lot.")
			break
		}
	}
	if opts.JSON {
		d := drawnPlaces{Seed: seed, Places: []drawnPlace{}}
		places := p.DrawPlaces(seed)
		for _, t := range p.Trays {
			d.Places = append(d.Places, drawnPlace{t.Number, t.Treatment, places[t.Number]})
		}
		return terminal.WriteEscapedJSON(std.Out, d)
	}
	_, err = fmt.Fprintf(std.Out, "# Drawn by lot. Replace the trays in %s by this, and print the bench map again.\n%s", plan.FileName, p.PlacesYAML(seed))
	return err
}
