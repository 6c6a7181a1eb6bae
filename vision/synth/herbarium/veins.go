package herbarium

import "math"

// veins is how a blade is veined. Lengths in mm.
type veins struct {
	kind   veining
	apart  float64 // from one side vein to the next along the midrib
	slant  float64 // mm along for each mm outward that side veins lean to the tip
	bend   float64 // how much more at the edge: per mm
	mid    float64 // half the midrib's width at the base
	fine   float64 // half a side vein's width
	offset float64 // share of apart by which the right side's veins are shifted
	wiggle float64 // share of apart that they wander
	rays   []point // of palmate veins: unit steps from the base
}

type veining int

const (
	pinnate  veining = iota // side veins from a midrib
	parallel                // along the blade
	palmate                 // rays from the base, with side veins
	unveined
)

// veined is what veins a spot of a blade has.
type veined struct {
	mid, side float64 // mm to the edge of the midrib and of the next side vein; below 0 within
	between   float64 // 0 on a side vein to 1 halfway between two
}

// at returns the veins at a spot; wander is noise of about ±1, half the blade's half-width there.
func (v *veins) at(s, y, long, half, wander float64) veined {
	switch v.kind {
	case pinnate:
		out := v.feather(s, math.Abs(y), half, wander, y < 0)
		out.mid = math.Abs(y) - v.mid*max(0.12, 1-s/long)
		return out
	case parallel:
		at := y/v.apart + 0.12*wander
		at = math.Abs(at - math.Floor(at) - 0.5)
		return veined{mid: math.Abs(y) - v.mid*max(0.3, 1-s/long), side: (0.5 - at) * v.apart, between: 1 - 2*at}
	case palmate:
		return v.fan(s, y, long, half, wander)
	}
	return veined{mid: math.Abs(y) - v.mid*max(0.2, 1-s/long), side: 1e3, between: 1}
}

// feather returns the side veins of a midrib, out mm from it and s mm along it.
func (v *veins) feather(s, out, half, wander float64, right bool) veined {
	root := (s - v.slant*out - v.bend*out*out) / v.apart
	root += v.wiggle * wander
	if right {
		root += v.offset
	}
	at := root - math.Floor(root)
	at = min(at, 1-at)
	across := at * v.apart / math.Sqrt(1+v.slant*v.slant)
	return veined{side: across - v.fine*max(0.25, 1-0.8*out/max(half, 0.1)), between: 2 * at}
}

// fan returns the rays and their side veins.
func (v *veins) fan(s, y, long, half, wander float64) veined {
	best, on, off := math.Inf(1), 0.0, 0.0
	p := point{s, y}
	for _, ray := range v.rays {
		along, across := p.dot(ray), p.dot(ray.left())
		if along < 0 {
			along, across = 0, p.length()
		}
		if math.Abs(across) < best {
			best, on, off = math.Abs(across), along, across
		}
	}
	out := v.feather(on, best, half, wander, off < 0)
	out.mid = best - v.mid*max(0.15, 1-on/long)
	return out
}
