package skin

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
)

// Veins is the net that a blade shows: a midrib and side veins, or parallel ones.
type Veins struct {
	Sides    float64 // side veins on each side; 0 for none
	Curve    float64 // how far a side vein runs ahead of its line, in side veins
	width    float64 // of a side vein, mm
	midrib   float64 // width, mm
	Parallel float64 // mm between parallel veins; 0 for none
	Pillow   float64 // slope of the blade's bulging between side veins
	Groove   float64 // slope beside the midrib; below 0 where the midrib stands out
}

// vein is what the net is like at one place.
type vein struct {
	shows        float64 // 0 between veins, 1 on one
	near         float64 // mm to the nearest vein
	tiltA, tiltB float64
}

func (n *Veins) at(p surface.Place, length float64) vein {
	out, side := math.Abs(p.B), 1.0
	if p.B < 0 {
		side = -1
	}
	v := vein{near: out}
	wide := 0.5 * n.midrib * (1.05 - 0.75*p.U)
	if wide > 0 {
		v.shows = num.Ramp(wide+0.15, 0.6*wide, out)
		v.tiltB = side * n.Groove * num.Ramp(4*wide+0.6, wide, out) * num.Ramp(0, wide+0.1, out)
	}
	if n.Sides > 0 {
		n.side(&v, p, length)
	}
	if n.Parallel > 0 {
		wave := math.Sin(2 * math.Pi * p.B / n.Parallel)
		v.shows = max(v.shows, 0.5*num.Ramp(0.2, 0.9, wave))
		v.near = min(v.near, 0.8*(1-wave)) // as wide leaves have it, though the veins lie closer
		v.tiltB += n.Pillow * math.Sqrt(max(0, 1-wave*wave)) * math.Copysign(1, math.Sin(2*math.Pi*p.B/n.Parallel+math.Pi/2))
	}
	return v
}

// side adds the nearest side vein, which fades towards the edge.
func (n *Veins) side(v *vein, p surface.Place, length float64) {
	out := math.Abs(p.T)
	at := p.U*n.Sides + 0.25*num.Clamp(p.T, -1, 1) - n.Curve*out*out
	off := at - math.Floor(at) - 0.5
	apart := length / n.Sides * (0.25 + 1.5*4*p.U*(1-p.U)*0.85)
	d := math.Abs(off) * apart
	wide := 0.5 * n.width * (1.1 - out)
	v.near = min(v.near, d)
	v.shows = max(v.shows, (1-0.6*out)*num.Ramp(wide+0.18, 0.5*wide, d))
	v.tiltA += n.Pillow * math.Sin(2*math.Pi*off) * (1 - 0.5*out)
}
