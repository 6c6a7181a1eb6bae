package shape

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
)

// Veins is how a blade is veined. Lengths in mm.
type Veins struct {
	Kind   Veining
	Apart  float64     // from one side vein to the next along the midrib
	slant  float64     // mm along for each mm outward that side veins lean to the tip
	bend   float64     // how much more at the edge: per mm
	Mid    float64     // half the midrib's width at the base
	Fine   float64     // half a side vein's width
	offset float64     // share of apart by which the right side's veins are shifted
	wiggle float64     // share of apart that they wander
	rays   []num.Point // of palmate veins: unit steps from the base
}

// Veining is the way in which veins run.
type Veining int

const (
	pinnate  Veining = iota // side veins from a midrib
	Parallel                // along the blade
	palmate                 // rays from the base, with side veins
	Unveined
)

// Veined is what veins a spot of a blade has.
type Veined struct {
	Mid, Side float64 // mm to the edge of the midrib and of the next side vein; below 0 within
	Between   float64 // 0 on a side vein to 1 halfway between two
}

// At returns the veins at a spot; wander is noise of about ±1, half the blade's half-width there.
func (v *Veins) At(s, y, long, half, wander float64) Veined {
	switch v.Kind {
	case pinnate:
		out := v.feather(s, math.Abs(y), half, wander, y < 0)
		out.Mid = math.Abs(y) - v.Mid*max(0.12, 1-s/long)
		return out
	case Parallel:
		at := y/v.Apart + 0.12*wander
		at = math.Abs(at - math.Floor(at) - 0.5)
		return Veined{Mid: math.Abs(y) - v.Mid*max(0.3, 1-s/long), Side: (0.5 - at) * v.Apart, Between: 1 - 2*at}
	case palmate:
		return v.fan(s, y, long, half, wander)
	}
	return Veined{Mid: math.Abs(y) - v.Mid*max(0.2, 1-s/long), Side: 1e3, Between: 1}
}

// feather returns the side veins of a midrib, out mm from it and s mm along it.
func (v *Veins) feather(s, out, half, wander float64, right bool) Veined {
	root := (s - v.slant*out - v.bend*out*out) / v.Apart
	root += v.wiggle * wander
	if right {
		root += v.offset
	}
	at := root - math.Floor(root)
	at = min(at, 1-at)
	across := at * v.Apart / math.Sqrt(1+v.slant*v.slant)
	return Veined{Side: across - v.Fine*max(0.25, 1-0.8*out/max(half, 0.1)), Between: 2 * at}
}

// fan returns the rays and their side veins.
func (v *Veins) fan(s, y, long, half, wander float64) Veined {
	best, on, off := math.Inf(1), 0.0, 0.0
	p := num.At(s, y)
	for _, ray := range v.rays {
		along, across := p.Dot(ray), p.Dot(ray.Left())
		if along < 0 {
			along, across = 0, p.Length()
		}
		if math.Abs(across) < best {
			best, on, off = math.Abs(across), along, across
		}
	}
	out := v.feather(on, best, half, wander, off < 0)
	out.Mid = best - v.Mid*max(0.15, 1-on/long)
	return out
}
