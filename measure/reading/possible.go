package reading

import (
	"fmt"
	"slices"
)

// No plug is larger than a square metre, and none has a kilometre of roots.
const (
	mostAreaMM2  = 1e6
	mostLengthMM = 1e6
)

// possible returns what about r's figures cannot be, or nil: such a reading was changed by hand or by a fault.
func (r Reading) possible() error {
	for _, n := range []struct {
		name     string
		v        Number
		low, top float64
	}{
		{"px_per_mm", r.PxPerMM, 0, 1000}, {"tilt_deg", r.TiltDeg, 0, 90}, {"canopy_cover_pct", r.CanopyCoverPct, 0, 500},
		{"paper_light_pct", r.PaperLightPct, 0, 100.01}, {"clipped_pct", r.ClippedPct, 0, 100.01},
	} {
		if n.v.Known() && !(float64(n.v) >= n.low && float64(n.v) <= n.top) {
			return fmt.Errorf("has %s = %g, which is not possible", n.name, float64(n.v))
		}
	}
	names := map[string]bool{}
	for _, p := range slices.Concat(r.Plugs, r.Covered, r.AsMeasured) {
		if err := p.possible(); err != nil {
			return err
		}
	}
	for _, p := range r.Plugs {
		if names[p.Name] {
			return fmt.Errorf("lists plug %s twice", p.Name)
		}
		names[p.Name] = true
	}
	return nil
}

func (p Plug) possible() error {
	if !slices.Contains([]State{Planted, Empty, Hidden, Excluded}, p.State) {
		return fmt.Errorf("says that plug %s is %q, which is not possible", p.Name, p.State)
	}
	for _, n := range []struct {
		name string
		v    Number
		most float64
	}{
		{"root_area_mm2", p.RootAreaMM2, mostAreaMM2}, {"root_area_u_mm2", p.RootAreaUMM2, mostAreaMM2}, {"root_cover_pct", p.RootCoverPct, 100},
		{"root_length_mm", p.RootLengthMM, mostLengthMM}, {"root_length_u_mm", p.RootLengthUMM, mostLengthMM},
		{"root_browning_pct", p.RootBrowningPct, 100}, {"plug_area_mm2", p.PlugAreaMM2, mostAreaMM2}, {"plug_area_u_mm2", p.PlugAreaUMM2, mostAreaMM2},
		{"leaf_area_mm2", p.LeafAreaMM2, mostAreaMM2}, {"leaf_area_u_mm2", p.LeafAreaUMM2, mostAreaMM2}, {"chlorotic_pct", p.ChloroticPct, 100},
		{"leaf_hue_deg", p.LeafHueDeg, 360},
	} {
		if v := float64(n.v); n.v.Known() && !(v >= 0 && v <= n.most) {
			return fmt.Errorf("has %s = %g for plug %s, which is not possible", n.name, v, p.Name)
		}
	}
	return nil
}
